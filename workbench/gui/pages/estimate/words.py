"""What the page "Estimate" and the window of what was sent say."""

from __future__ import annotations

from workbench.gui.pages.stops import mend_first
from workbench.job.job import Job
from workbench.job.prices import Revision
from workbench.report.paper_display import paper_display
from workbench.report.revisions import Change, Difference, Since, totals
from workbench.study.estimate.offers import LETTERS, Offer
from workbench.study.evaluate import Results
from workbench.study.findings import Level
from workbench.study.pricing.money import money
from workbench.units import TIME, VOLUME, Display
from workbench.words import tr

Shown = tuple[str, str, str]
"""A figure, its reason, and the role of the reason."""


def offer_answer(offer: Offer, job: Job, display: Display) -> Shown:
    """The price of an option and what it does, written as on the paper; or why there is none."""
    shown = paper_display(job, display)
    name = offer.label
    if name == tr("Option {letter}", letter=offer.letter):
        name = ""
    if offer.one is None:
        none = tr("No tank at {band}.", band=offer.band_name)
        return "", mend_first((*offer.results.findings, *offer.findings)) or none, "caution"
    does = tr(
        "{drawdown} drawdown, {run} run at {band}",
        drawdown=shown.text(offer.one.drawdown, VOLUME),
        run=shown.text(offer.one.run_time, TIME),
        band=offer.band_name,
    )
    if name:
        does = tr("{name}: {does}", name=name, does=does)
    total = offer.priced.totals if offer.priced is not None else None
    if total is None:
        return "", tr("{does}. No price yet.", does=does), "caution"
    return money(total.total, job), does, "muted"


def why_not_propose(results: Results) -> str:
    """What keeps the program from proposing options; "" where nothing does."""
    if results.ranking is None:
        return mend_first(results.findings) or tr("There is no catalogue to choose from.")
    if not results.ranking.passing:
        return tr("No tank of the catalogue passes.")
    return ""


def proposed(count: int) -> str:
    """What became of a proposal."""
    if count == 0:
        return tr("Of the tanks that pass none has a price, so none is proposed.")
    if count == 1:
        return tr("One option: no other tank that passes runs noticeably longer.")
    if count < len(LETTERS):
        return tr("{count} options: no further tank runs noticeably longer.", count=count)
    return tr("{count} options that differ in what they do.", count=count)


def why_not_send(results: Results, display: Display) -> str:
    """What keeps the estimate from being handed over; "" where nothing does."""
    view = results.estimate
    stops = (*results.of_level(Level.STOP), *view.stops)
    if stops:
        return mend_first(stops) or stops[0].sentence(display)
    if all(offer.one is None for offer in view.offers):
        return tr("There is no option to send.")
    return ""


def since_text(since: Since | None) -> tuple[str, str]:
    """How the present estimate stands to what was last sent, and the role of that text."""
    if since is None:
        return "", ""
    number, count = since.last.number, len(since.differences)
    if since.same_inputs:
        return tr("As sent in revision {number}.", number=number), "muted"
    if not count:
        return tr(
            "Inputs or program have changed since revision {number}, but no line of the paper.",
            number=number,
        ), "muted"  # fmt: skip
    if count == 1:
        return tr("Changed since revision {number}: 1 line.", number=number), "caution"
    return tr(
        "Changed since revision {number}: {count} lines.", number=number, count=count
    ), "caution"  # fmt: skip


# --- the window of what was sent ---


def revision_name(number: int) -> str:
    """What a revision is called within a sentence."""
    return tr("revision {number}", number=number)


def revision_row(revision: Revision) -> tuple[str, ...]:
    """Number, date, totals, fingerprint, version of the program."""
    sums = "; ".join(f"{label}: {value}" for label, value in totals(revision))
    return (
        revision_name(revision.number),
        revision.date,
        sums,
        revision.fingerprint,
        revision.version,
    )


def comparison(before: int, after: int, count: int) -> str:
    """How many lines differ; ``after`` 0 is the estimate as it is now."""
    first = revision_name(before)
    second = revision_name(after) if after else tr("the estimate as it is now")
    if count == 0:
        return tr("No line differs between {first} and {second}.", first=first, second=second)
    if count == 1:
        return tr("1 line differs between {first} and {second}.", first=first, second=second)
    return tr(
        "{count} lines differ between {first} and {second}.",
        count=count,
        first=first,
        second=second,
    )


def difference_row(one: Difference) -> tuple[str, str, str, str]:
    """Line, change, before, after."""
    changes = {
        Change.ADDED: tr("added"),
        Change.REMOVED: tr("removed"),
        Change.CHANGED: tr("changed"),
    }
    return one.label, changes[one.change], one.before, one.after
