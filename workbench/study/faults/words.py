"""Faults and readings in words, for the page and the command line."""

from __future__ import annotations

from collections.abc import Iterable

from workbench.job.teach_choices import Fault, faults
from workbench.study.faults.apart import Other
from workbench.study.faults.readings import Reading, Taken, tools
from workbench.study.faults.view import FaultsView, ReadingRow
from workbench.units import SHORT_TIME, VOLUME, Display, Kind
from workbench.words import tr

_FEW_SECONDS = 10.0  # below that a tenth of a second is told


def fault_name(fault: Fault) -> str:
    """What a fault is called, with a capital; a sound system where there is none."""
    if fault is Fault.NONE:
        return tr("A sound system")
    label = faults()[fault].label
    return label[:1].upper() + label[1:]


def value_text(taken: Taken, reading: Reading, display: Display) -> str:
    """A reading's value in the shown unit, yes or no, or that there is none."""
    if taken.value is None:
        return tr("none")
    if reading.kind is None or isinstance(taken.value, bool):
        return tr("yes") if taken.value else tr("no")
    return display.text(taken.value, reading.kind, _places(taken.value, reading.kind))


def tolerance_text(taken: Taken, reading: Reading, display: Display) -> str:
    """The ± of a reading; "" where it has none."""
    if taken.value is None or reading.kind is None or isinstance(taken.value, bool):
        return ""
    places = _places(taken.value, reading.kind)
    if reading.kind is VOLUME and display.value(taken.tolerance, VOLUME) < 1.0:
        places = 2  # a bucket's ± 0.25 gal
    return f"± {display.text(taken.tolerance, reading.kind, places)}"


def _places(value: float, kind: Kind) -> int | None:
    return 1 if kind is SHORT_TIME and value < _FEW_SECONDS else None


def tools_text(reading: Reading) -> str:
    """What a reading is taken with, and in how many minutes."""
    names = tools()
    return tr(
        "{tools}, {minutes} min",
        tools=tr(" and ").join(names[tool] for tool in reading.tools),
        minutes=f"{reading.minutes:g}",
    )


def verdict_text(row: ReadingRow) -> str:
    """Whether the two readings differ."""
    return tr("differs") if row.differs else tr("the same")


def reason_text(row: ReadingRow) -> str:
    """Why a reading cannot be taken at one of the two; "" where it can."""
    why = row.faulty.why or row.healthy.why
    return tr("{reading}: {why}", reading=row.reading.name, why=why) if why else ""


def can_be_taken(row: ReadingRow) -> bool:
    """Whether there is anything to read at either system."""
    return row.healthy.value is not None or row.faulty.value is not None


def soonest(view: FaultsView) -> ReadingRow | None:
    """The quickest reading that tells the fault from a sound system; None: none does."""
    return min(view.telling, key=_minutes, default=None)


def _minutes(row: ReadingRow) -> float:
    return row.reading.minutes


def alike_text(other: Other) -> str:
    """Why no reading tells another fault from the chosen one."""
    if other.same_kind:
        return tr(
            "Looks the same: both change the same quantity the same way. No reading here tells"
            " which it is; ask what was done to the system, and when."
        )
    return tr(
        "May look the same: within the tolerances no reading here tells it apart in every size."
    )


def apart_texts(others: Iterable[Other]) -> list[tuple[str, str]]:
    """The readings that tell faults apart, the quickest first, each with the faults it serves."""
    rows = []
    for served in apart_groups(others):
        told = " + ".join(f"{one.name} ({tools_text(one)})" for one in served[0].by)
        names = "; ".join(fault_name(one.fault) for one in served)
        rows.append((told, tr("tells it from: {faults}", faults=names)))
    return rows


def apart_groups(others: Iterable[Other]) -> list[list[Other]]:
    """The faults that can be told apart, those that the same readings serve together."""
    served: dict[tuple[str, ...], list[Other]] = {}
    for one in sorted((one for one in others if one.by), key=_minutes_of):
        served.setdefault(tuple(reading.key for reading in one.by), []).append(one)
    return list(served.values())


def _minutes_of(one: Other) -> float:
    return one.minutes
