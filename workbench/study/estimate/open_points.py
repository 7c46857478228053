"""What a paper must say and does not yet: who gives it to whom, and who may do the work."""

from __future__ import annotations

from collections.abc import Iterator

from workbench.job.job import Job
from workbench.job.paper_choices import Answer
from workbench.study.findings import Finding, Level
from workbench.words import tr


def open_points(job: Job) -> tuple[Finding, ...]:
    """A caution for each point that an estimate leaves open."""
    return (*_parties(job), *_permission(job))


def _parties(job: Job) -> Iterator[Finding]:
    if not job.firm_name.strip():
        yield Finding(
            Level.CAUTION,
            "no_firm",
            "firm_name",
            tr("The estimate does not say whose it is."),
            tr("Type your firm's name on the page “Our firm”."),
        )
    if not job.customer_name.strip():
        yield Finding(
            Level.CAUTION,
            "no_customer",
            "customer_name",
            tr("The estimate does not say for whom it is."),
            tr("Type the customer's name."),
        )


def _permission(job: Job) -> Iterator[Finding]:
    if job.permit is Answer.OPEN:
        yield Finding(
            Level.CAUTION,
            "permit_open",
            "permit",
            tr("Whether a permit is needed here is not answered."),
            tr("Ask the local office, then choose the answer."),
        )
    if job.licence is Answer.OPEN:
        yield Finding(
            Level.CAUTION,
            "licence_open",
            "licence",
            tr("Whether a licence is needed for this work here is not answered."),
            tr("Ask the local office, then choose the answer."),
        )
    if job.licence is Answer.FIRM and not job.firm_licence.strip():
        yield Finding(
            Level.CAUTION,
            "licence_not_named",
            "firm_licence",
            tr("A licence is needed, and the paper does not name yours."),
            tr("Type its kind and number on the page “Our firm”."),
        )
