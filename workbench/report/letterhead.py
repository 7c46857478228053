"""The head of every paper: who hands it over."""

from __future__ import annotations

from workbench.job.job import Job
from workbench.report.blocks import Letterhead
from workbench.study.firm.logo import LogoError, logo_of


def letterhead(job: Job) -> Letterhead:
    """The firm of a job. A logo that cannot be used is left out; a finding of the study says why
    (:func:`workbench.study.firm.view.logo_findings`)."""
    try:
        logo = logo_of(job.firm_logo)
    except LogoError:
        logo = None
    texts = (job.firm_address, job.firm_contact, job.firm_licence, job.firm_insurance)
    lines = [line.strip() for text in texts for line in text.splitlines() if line.strip()]
    return Letterhead(
        name=job.firm_name.strip(),
        lines=tuple(lines),
        logo=logo.data if logo else b"",
        logo_type=logo.kind if logo else "",
    )


def sheet_of(job: Job) -> str:
    """The sheet as papers name it."""
    return job.paper.value.replace("_", "-")
