"""A hidden fault, and what its readings show; for every exercise that is about one."""

from __future__ import annotations

from workbench.job.teach_choices import Fault
from workbench.study.exercises import hunt_rigs, sums
from workbench.study.exercises.cases import cheapest_set, hidden_sizes
from workbench.study.exercises.draws import Draws
from workbench.study.exercises.exercise import Hunt, Offered
from workbench.study.exercises.hunting import excluded_by, show_value
from workbench.study.exercises.neat import Neat
from workbench.study.faults.made import with_fault
from workbench.study.faults.readings import Reading, Taken, readings, tools
from workbench.study.live.rig import Rig
from workbench.units import FLOW, PRESSURE, SHORT_TIME, VOLUME, Kind
from workbench.words import tr

OFFERED = 12
"""How many readings are offered."""
EVERY = tuple(Fault)


def as_read(taken: dict[str, Taken], draws: Draws, neat: Neat) -> tuple[Offered, ...]:
    """Every reading as it would be read: off by up to its tolerance, rounded as it is shown."""
    values = {one.key: _as_read(one, taken[one.key], draws, neat) for one in readings()}
    water, seconds = values["drained"], values["refill"]
    if water is not None and seconds:  # worked out of what was read, not measured once more
        values["flow"] = _rounded(water / seconds, FLOW, neat)
    return tuple(
        Offered(
            one.key,
            one.name,
            ", ".join(tools()[tool] for tool in one.tools),
            one.how,
            one.minutes,
            values[one.key],
            taken[one.key].tolerance,
            show_value(one.key, values[one.key], neat.display),
        )
        for one in readings()
    )


def _as_read(reading: Reading, taken: Taken, draws: Draws, neat: Neat) -> float | None:
    error = (2.0 * draws.share() - 1.0) * taken.tolerance
    if taken.value is None:
        return None
    if reading.kind is None or not taken.value:
        return float(taken.value)  # yes or no, and what is not there is read as nothing
    return _rounded(max(float(taken.value) + error, 0.0), reading.kind, neat)


def _rounded(value: float, kind: Kind, neat: Neat) -> float:
    """To the digits that are shown, so that what is judged is what was seen."""
    unit = neat.display.unit(kind)
    return round(value / unit.factor, unit.decimals) * unit.factor


def hunt_of(draws: Draws, neat: Neat, hidden: tuple[Fault, ...] = EVERY) -> tuple[Hunt, Rig] | None:
    """One of these faults hidden in one of the rigs, and that rig when it was sound.

    None where the rig drawn cannot have the fault drawn, or its readings do not tell it.
    """
    units, index = neat.display.system, draws.below(hunt_rigs.COUNT)
    sound, tap = hunt_rigs.sound_rig(units, index)
    fault, degree = draws.one_of([pair for pair in hidden_sizes() if pair[0] in hidden])
    taken = hunt_rigs.taken(units, index, fault, degree, 1.0)
    if taken is None:
        return None  # this rig cannot have it
    cases = hunt_rigs.cases(units, index)
    every = as_read(taken, draws, neat)
    excludes = excluded_by(every)
    if all(any(excludes(one.key, case) for one in every) for case in cases if case.fault is fault):
        return None  # read in this way it would not look like itself
    minutes = {one.key: one.minutes for one in every}
    cheapest = cheapest_set(cases, fault, minutes, excludes)
    if cheapest is None:
        return None
    others = [key for key in minutes if key not in cheapest]
    kept = {*cheapest, *draws.some(others, OFFERED - len(cheapest))}
    hunt = Hunt(
        with_fault(sound, fault, degree),
        tap,
        fault,
        degree,
        tuple(dict.fromkeys(case.fault for case in cases)),
        tuple(one for one in every if one.key in kept),
        cases,
        cheapest,
    )
    return hunt, sound


def sound_rows(sound: Rig, tap: float, neat: Neat) -> tuple[tuple[str, str], ...]:
    """What the system would be with nothing wrong."""
    setting, flow = sound.setting, sound.system.delivery.flow
    first, last = (
        float(flow(sums.gauge_of(pressure))) for pressure in (setting.cut_in, setting.cut_out)
    )
    flows = neat.say(first, FLOW, 1)
    if abs(first - last) > 1e-9:
        flows = tr("{first} to {last}", first=flows, last=neat.say(last, FLOW, 1))
    return (
        (tr("Total volume"), neat.say(sound.system.volume, VOLUME)),
        (tr("Switch was set to"), neat.band(setting.cut_in, setting.cut_out)),
        (tr("Charge was set to"), neat.say(setting.precharge, PRESSURE)),
        (tr("Pump, cut-in to cut-out, when new"), flows),
        (tr("Drawdown, all being well"), neat.display.text(
            sums.water(setting, sound.system.volume), VOLUME)),
        (tr("Steady draw of the house"), neat.say(tap, FLOW)),
        (tr("History"), tr("The band was never raised; it may have been lowered.")),
    )  # fmt: skip


def tolerance_rows(neat: Neat) -> tuple[tuple[str, str], ...]:
    """How far off each tool may be, and how far a fault may have gone."""
    tools_of, show = hunt_rigs.tolerances(), neat.display
    parts = (
        tr("gauge {pressure}", pressure=show.text(tools_of.gauge, PRESSURE)),
        tr("tyre gauge {pressure}", pressure=show.text(tools_of.tyre_gauge, PRESSURE)),
        tr("bucket {volume}", volume=show.text(tools_of.bucket, VOLUME, 2)),
        tr("watch {time}", time=show.text(tools_of.watch, SHORT_TIME)),
    )
    return (
        (tr("Tools may be off by"), ", ".join(parts)),
        (tr("How far it may have gone"), tr("From slight to severe, as the page “Faults” shows.")),
    )
