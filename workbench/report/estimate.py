"""The estimate: what was found, what is recommended, and up to three options with their prices."""

from __future__ import annotations

from collections.abc import Iterator

from workbench import __version__
from workbench.job.job import Job
from workbench.job.paper_choices import Copy, work_kinds
from workbench.job.prices import Revision
from workbench.report.blocks import Block, PaperContent, Section, Words
from workbench.report.estimate_found import found_section
from workbench.report.estimate_lines import lines_section
from workbench.report.estimate_options import options_section
from workbench.report.estimate_terms import (
    acceptance_section,
    assumptions_section,
    cautions_section,
    clause,
    permit_section,
)
from workbench.report.estimate_working import estimate_working
from workbench.report.fingerprint import fingerprint
from workbench.report.letterhead import letterhead, sheet_of
from workbench.report.paper_display import paper_display
from workbench.report.sheet import LANGUAGE, foot_line
from workbench.study.estimate.view import EstimateView
from workbench.study.evaluate import Results
from workbench.study.pricing.money import date_text
from workbench.units import Display
from workbench.words import tr

TO_FILL_IN = "_" * 24


def estimate_content(
    results: Results, display: Display, revision: int | None = None
) -> PaperContent:
    """The paper, always from the present inputs.

    Args:
        display: its system of units; the decimal mark is that of the firm's form of writing.
        revision: the number under which it is being sent; None tells by what was sent before.
    """
    job, view = results.job, results.estimate
    shown = paper_display(job, display)
    mark = fingerprint(results)
    state = revision_words(job, mark, revision)
    return PaperContent(
        kind="estimate",
        title=tr("Estimate") if job.copy_for is Copy.CUSTOMER else tr("Estimate, office copy"),
        language=LANGUAGE,
        sheet=sheet_of(job),
        date=view.date.isoformat() if view.date else "",
        head=letterhead(job),
        facts=tuple(_facts(job, view, state)),
        addressed=tuple(_addressed(job)),
        sections=tuple(_sections(results, shown)),
        foot=_foot(job, view, state, mark),
    )


def revision_words(job: Job, mark: str, revision: int | None = None) -> str:
    """Which revision it is: of what was sent, by the fingerprint ``mark`` of the inputs."""
    if revision is not None:
        return tr("Revision {number}", number=revision)
    if not job.revisions:
        return tr("Draft")
    last = max(job.revisions, key=_number)
    if (last.fingerprint, last.version) == (mark, __version__):
        return tr("Revision {number}, sent {date}", number=last.number, date=last.date)
    return tr("Draft, changed since revision {number}", number=last.number)


def _number(revision: Revision) -> int:
    return revision.number


def _facts(job: Job, view: EstimateView, state: str) -> Iterator[tuple[str, str]]:
    yield tr("Number"), job.estimate_number.strip() or TO_FILL_IN
    yield tr("Date"), date_text(view.date, job) if view.date else TO_FILL_IN
    yield tr("Valid until"), date_text(view.valid_until, job) if view.valid_until else TO_FILL_IN
    yield tr("Revision"), state
    if job.copy_for is Copy.OFFICE:
        yield tr("Copy"), tr("office, with cost; not for the customer")
    if job.prepared_by.strip():
        yield tr("Prepared by"), job.prepared_by.strip()


def _addressed(job: Job) -> Iterator[tuple[str, str]]:
    yield tr("Customer"), _joined(job.customer_name, job.customer_address, job.customer_contact)
    if job.site_address.strip():
        yield tr("Site"), _joined(job.site_address)


def _joined(*texts: str) -> str:
    """Texts below each other; a line to fill in where there is none."""
    return "\n".join(text.strip() for text in texts if text.strip()) or TO_FILL_IN


def _sections(results: Results, display: Display) -> Iterator[Section]:
    job = results.job
    parts = (
        clause("problem", tr("Problem"), job.problem),
        found_section(results, display) if job.with_readings else None,
        _scope(job),
        options_section(results, display),
        lines_section(results, display) if job.with_lines else None,
        clause("allowances", tr("Allowances"), job.clause_allowances)
        if job.with_allowances else None,
        assumptions_section(results, display) if job.with_assumptions else None,
        clause("exclusions", tr("Not included"), job.clause_exclusions)
        if job.with_exclusions else None,
        clause("schedule", tr("Schedule"), job.clause_schedule) if job.with_schedule else None,
        clause("payment", tr("Payment"), job.clause_payment) if job.with_payment else None,
        clause("warranty", tr("Warranty"), job.clause_warranty) if job.with_warranty else None,
        permit_section(job) if job.with_permit else None,
        cautions_section(results, display),
        acceptance_section(results) if job.with_acceptance else None,
    )  # fmt: skip
    yield from (part for part in parts if part is not None)
    if job.with_working:
        yield from estimate_working(results, display)


def _scope(job: Job) -> Section:
    """What is recommended: the firm's words, and the work that the parts are counted for."""
    work = work_kinds()[job.work_kind]
    blocks: list[Block] = []
    if job.scope.strip():
        blocks.append(Words(text=job.scope.strip()))
    told = tr("Work: {kind}. {meaning}", kind=work.label, meaning=work.source).strip()
    blocks.append(Words(text=told, tone="muted"))
    return Section(key="scope", heading=tr("Recommended work"), blocks=tuple(blocks))


def _foot(job: Job, view: EstimateView, state: str, mark: str) -> str:
    parts = [tr("Estimate {number}", number=job.estimate_number.strip())
             if job.estimate_number.strip() else tr("Estimate")]  # fmt: skip
    if view.date:
        parts.append(date_text(view.date, job))
    parts += [state, foot_line(mark)]
    return " · ".join(parts)
