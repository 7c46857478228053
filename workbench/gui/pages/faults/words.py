"""What the page "Faults" says."""

from __future__ import annotations

from collections.abc import Iterable

from workbench.gui.pages.facts import Row
from workbench.gui.pages.stops import mend_first
from workbench.job.teach_choices import Fault
from workbench.study.evaluate import Results
from workbench.study.faults.apart import Other
from workbench.study.faults.remedies import cautions, full_weight, remedy
from workbench.study.faults.sizes import size_in_words
from workbench.study.faults.symptoms import symptoms
from workbench.study.faults.view import FaultsView
from workbench.study.faults.words import (
    alike_text,
    apart_texts,
    fault_name,
    soonest,
    tools_text,
)
from workbench.study.findings import Finding, Level
from workbench.study.live.rig import Rig
from workbench.units import Display
from workbench.words import tr


def own_findings(results: Results) -> tuple[Finding, ...]:
    """Those of the live view and of this page."""
    return (*results.live.findings, *results.faults.findings)


def told_here(results: Results) -> Iterable[Finding]:
    """The findings that this page must tell, wherever their field stands."""
    stops = () if results.faults.faulty is not None else results.of_level(Level.STOP)
    return (*stops, *own_findings(results))


def what_stops(results: Results) -> str:
    """Why no system can be shown."""
    return mend_first((*results.findings, *own_findings(results))) or results.faults.why


def faulty_rig(results: Results) -> tuple[Rig | None, float | None, str]:
    """What the live panel sets in motion: the rig with its fault, the tap, or why there is none."""
    view = results.faults
    if view.faulty is None:
        return None, view.tap, what_stops(results)
    return view.faulty, view.tap, ""


def answer(view: FaultsView, healthy: Rig, display: Display) -> tuple[str, str, str]:
    """What is wrong, its size with the reading that shows it first, and the reason's role."""
    if view.fault is Fault.NONE:
        return tr("Nothing"), tr("The system is sound. Choose a fault to set it loose."), "muted"
    size = size_in_words(healthy, view.fault, view.degree, display)
    name = fault_name(view.fault)
    first = soonest(view)
    if first is None:
        return name, size, "muted"
    shows = tr(
        "Soonest seen by: {reading} ({tools}).",
        reading=first.reading.name,
        tools=tools_text(first.reading),
    )
    return name, f"{size} {shows}", "muted"


def symptom_rows(view: FaultsView, healthy: Rig, faulty: Rig, display: Display) -> list[Row]:
    """Gauge, ear and tap."""
    told = symptoms(healthy, faulty, view.tap or 0.0, display)
    return [
        (tr("The gauge"), told.gauge, "", "faults.gauge"),
        (tr("The ear"), told.ear, "", "faults.ear"),
        (tr("The tap"), told.tap, "", "faults.tap"),
    ]


def other_rows(others: tuple[Other, ...]) -> list[Row]:
    """First the faults that look the same, then each reading with those that it tells apart."""
    alike = [one for one in others if one.is_alike]
    rows: list[Row] = [
        (fault_name(one.fault), alike_text(one), "caution", f"faults.alike:{place}")
        for place, one in enumerate(alike)
    ]
    apart = enumerate(apart_texts(others))
    return [*rows, *((name, told, "", f"faults.apart:{place}") for place, (name, told) in apart)]


def waiting_rows() -> list[Row]:
    """While what tells the faults apart is being worked out."""
    return [(tr("Other faults"), tr("Being worked out for the entries of now."), "muted")]


def remedy_rows(view: FaultsView, healthy: Rig, display: Display) -> list[Row]:
    """What mends it, with its source; nothing where nothing is wrong."""
    if view.fault is Fault.NONE:
        return []
    mends = remedy(view.fault, healthy, display)
    key = "faults.remedy" if any(map(str.isdigit, mends.text)) else ""  # only of a figure
    return [(tr("Remedy"), _with_source(mends.text, mends.source), "", key)]


def caution_rows() -> list[Row]:
    """What goes before all work, in its order, each with its source."""
    return [
        (
            f"{place}.",
            _with_source(one.text, one.source),
            "",
            "faults.weight" if one.text == full_weight() else "",
        )
        for place, one in enumerate(cautions(), start=1)
    ]


def _with_source(text: str, source: str) -> str:
    return tr("{text} [{source}]", text=text, source=source) if source else text
