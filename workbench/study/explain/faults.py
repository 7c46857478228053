"""How the figures of the page "Faults" come about; the place of a cell is its row.

``asked.own`` is a :class:`~workbench.study.explain.watching.Watching`; what its live tank shows is
explained by :mod:`workbench.study.explain.live`.
"""

from __future__ import annotations

from collections.abc import Iterable

from workbench.job.teach_choices import Fault
from workbench.study.explain.explanation import Asked, Explain, Working
from workbench.study.explain.faults_apart import (
    differs_steps,
    gum,
    other_steps,
    tolerance_steps,
)
from workbench.study.explain.live import charge_steps
from workbench.study.explain.reading_rules import reading_steps
from workbench.study.explain.reading_times import back_step, every_steps, followed
from workbench.study.explain.steps import ending, ending_as, entered
from workbench.study.explain.watching import Watching
from workbench.study.faults.readings import Taken, reading_of, take
from workbench.study.faults.remedies import remedy
from workbench.study.faults.sizes import size_in_words
from workbench.study.faults.symptoms import symptoms
from workbench.study.faults.view import FaultsView, ReadingRow
from workbench.study.faults.watched import watched
from workbench.study.faults.words import alike_text, apart_groups, fault_name
from workbench.study.job_working import precharge_steps
from workbench.study.live.rig import Rig
from workbench.study.working import Step
from workbench.units import PRESSURE
from workbench.words import tr

_GAUGE = ("cut_out", "cut_in", "stall", "cliff", "fall")
_EAR = ("starts", "idle_starts", "dull")
_TAP = ("gap", "drained", "refill")


def _rigs(asked: Asked) -> tuple[FaultsView, Rig, Rig] | None:
    view = asked.results.faults
    if view.healthy is None or view.faulty is None or view.tolerances is None:
        return None
    return view, view.healthy, view.faulty


def _wrong(asked: Asked) -> Working | None:
    """The size of the fault, and what it changes."""
    found = _rigs(asked)
    if found is None:
        return None
    view, healthy, faulty = found
    size = Step(
        fault_name(view.fault),
        tr("what is changed in the sound system"),
        size_in_words(healthy, view.fault, view.degree, asked.display),
        tr("every size is our own choice, for teaching"),
    )
    beside = () if view.fault is Fault.NONE else (
        charge_steps(asked.results, faulty, asked.display)
    )  # fmt: skip
    return Working((size,), beside)


# --- the table of readings ---


def _row(asked: Asked) -> tuple[FaultsView, ReadingRow] | None:
    view = asked.results.faults
    found = _rigs(asked)
    if found is None or asked.first >= len(view.rows):
        return None
    return view, view.rows[asked.first]


def _read(asked: Asked, rig: Rig | None, row: ReadingRow, taken: Taken) -> Working | None:
    if rig is None:
        return None
    seen = watched(rig, asked.results.faults.tap or 0.0)
    how = Step(row.reading.name, tr("how it is taken"), row.reading.how, tr("common practice"))
    return Working(reading_steps(seen, row.reading, taken, asked.display), (how,))


def _sound(asked: Asked) -> Working | None:
    found = _row(asked)
    if found is None:
        return None
    return _read(asked, found[0].healthy, found[1], found[1].healthy)


def _faulty(asked: Asked) -> Working | None:
    found = _row(asked)
    if found is None:
        return None
    return _read(asked, found[0].faulty, found[1], found[1].faulty)


def _tolerance(asked: Asked) -> Working | None:
    found = _row(asked)
    if found is None:
        return None
    view, row = found
    is_faulty = row.faulty.value is not None
    taken, rig = (row.faulty, view.faulty) if is_faulty else (row.healthy, view.healthy)
    if rig is None or view.tolerances is None:
        return None
    seen = watched(rig, view.tap or 0.0)
    return Working(tolerance_steps(seen, row.reading, taken, view.tolerances, asked.display))


def _differs(asked: Asked) -> Working | None:
    found = _row(asked)
    return None if found is None else Working(differs_steps(found[1], asked.display))


# --- gauge, ear and tap ---


def _tells(asked: Asked, keys: Iterable[str], sentence: str) -> Working | None:
    """The readings behind a sentence, at the faulty system and, beside it, at the sound one."""
    found = _rigs(asked)
    if found is None:
        return None
    _, healthy, faulty = found
    here, there = (_readings(asked, rig, tuple(keys)) for rig in (faulty, healthy))
    last = Step(
        tr("Together"), tr("what is read at this system, the sound one in brackets"), sentence,
        followed(),
    )  # fmt: skip
    beside = tuple(step for step in dict.fromkeys(there) if step not in here)
    return Working((*dict.fromkeys(here), last), beside)


def _readings(asked: Asked, rig: Rig, keys: tuple[str, ...]) -> list[Step]:
    view, display = asked.results.faults, asked.display
    if view.tolerances is None:
        return []
    tap = view.tap or 0.0
    steps: list[Step] = []
    for key in keys:
        reading = reading_of(key)
        taken = take(rig, reading, tap, view.tolerances)
        if taken.value is not None:
            steps += reading_steps(watched(rig, tap), reading, taken, display)
    seen = watched(rig, tap)
    if "starts" in keys:
        steps += every_steps(seen, display)
    if "refill" in keys and seen.refill is not None:
        steps.append(back_step(seen.refill.seconds, display))
    return steps


def _symptoms(asked: Asked) -> tuple[str, str, str] | None:
    found = _rigs(asked)
    if found is None:
        return None
    view, healthy, faulty = found
    told = symptoms(healthy, faulty, view.tap or 0.0, asked.display)
    return told.gauge, told.ear, told.tap


def _gauge(asked: Asked) -> Working | None:
    told = _symptoms(asked)
    return None if told is None else _tells(asked, _GAUGE, told[0])


def _ear(asked: Asked) -> Working | None:
    told = _symptoms(asked)
    return None if told is None else _tells(asked, _EAR, told[1])


def _tap(asked: Asked) -> Working | None:
    told = _symptoms(asked)
    return None if told is None else _tells(asked, _TAP, told[2])


# --- the other faults ---


def _alike(asked: Asked) -> Working | None:
    own = asked.own
    alike = [one for one in own.others if one.is_alike] if isinstance(own, Watching) else []
    if asked.first >= len(alike):
        return None
    one = alike[asked.first]
    step = Step(
        fault_name(one.fault),
        tr("no reading lies outside of all that it reads, by more than the tolerances explain"),
        alike_text(one),
        gum(),
    )
    return Working((step,))


def _apart(asked: Asked) -> Working | None:
    found, own = _rigs(asked), asked.own
    if found is None or not isinstance(own, Watching):
        return None
    view, healthy, faulty = found
    groups = apart_groups(own.others)
    if asked.first >= len(groups) or view.tolerances is None:
        return None
    place = (view.tap or 0.0, view.tolerances)
    steps = [
        other_steps(healthy, faulty, one.fault, reading, place, asked.display)
        for one in groups[asked.first]
        for reading in one.by
    ]
    return Working(tuple(steps))


# --- what mends it ---


def _remedy(asked: Asked) -> Working | None:
    found = _rigs(asked)
    if found is None or found[0].fault is Fault.NONE:
        return None
    view, healthy, _ = found
    results, display = asked.results, asked.display
    mends = remedy(view.fault, healthy, display)
    setting = healthy.setting
    first = [
        entered(title, display.text(at, PRESSURE))
        for title, at in ((tr("Cut-in"), setting.cut_in), (tr("Cut-out"), setting.cut_out))
        if view.fault is Fault.SWITCH_DRIFT
    ]
    if display.text(setting.precharge, PRESSURE) in mends.text:
        charge = next(iter(precharge_steps(results, setting, display)))
        first = [ending(charge, setting.precharge, PRESSURE, display)]
    last = Step(tr("Remedy"), tr("what is written of this fault"), mends.text, mends.source)
    return Working((*first, last))


def _weight(asked: Asked) -> Working | None:
    """Of a tank full of water, by the gallon."""
    numbers = "3.7854 × 0.9991 kg / 0.45359 = 8.34 lb".replace(".", asked.display.mark)
    step = Step(
        tr("Weight of a gallon of water"),
        tr("3.7854 L in a gallon × 0.9991 kg a litre at 15 °C, or about 1 kg; 0.45359 kg in a lb"),
        numbers,
        tr("common practice: 8.34 lb a gallon; density of water: IAPWS-95"),
    )
    return Working((ending_as(step, "8.34 lb"),))  # as the sentence writes it


FIGURES: dict[str, Explain] = {
    "wrong": _wrong,
    "gauge": _gauge,
    "ear": _ear,
    "tap": _tap,
    "sound": _sound,
    "faulty": _faulty,
    "tolerance": _tolerance,
    "differs": _differs,
    "alike": _alike,
    "apart": _apart,
    "remedy": _remedy,
    "weight": _weight,
}
"""The explaining function of each figure of the page."""
