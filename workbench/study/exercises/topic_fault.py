"""Exercises: find the hidden fault by as few minutes of reading as it takes."""

from __future__ import annotations

from functools import partial

from workbench.job.teach_choices import Fault
from workbench.study.exercises import sums
from workbench.study.exercises.draft import Draft, Maker
from workbench.study.exercises.draws import Draws
from workbench.study.exercises.fault_picks import what_fits, which_next
from workbench.study.exercises.hunt_making import EVERY, hunt_of, sound_rows, tolerance_rows
from workbench.study.exercises.hunting import working
from workbench.study.exercises.neat import Neat
from workbench.words import tr


def _hunt(draws: Draws, neat: Neat, hidden: tuple[Fault, ...] = EVERY) -> Draft | None:
    """One of these faults is hidden in one of the rigs."""
    found = hunt_of(draws, neat, hidden)
    if found is None:
        return None
    hunt, sound = found
    return Draft(
        tr("Find the hidden fault"),
        _opening(neat) + " " + tr("One thing may be wrong, or nothing."),
        (*sound_rows(sound, hunt.tap, neat), *tolerance_rows(neat)),
        tr(
            "Take readings, as few minutes of them as it needs, until you can say what is wrong."
            " What is it?"
        ),
        hunt,
        working(hunt, neat.display),
        sums.cautions_at_tank(),
    )


def _opening(neat: Neat) -> str:
    """In turn, so that no two hunts of a sheet begin alike; it tells nothing of the fault."""
    first = neat.place[:1].upper() + neat.place[1:]
    stories = (
        tr(
            "At {place} the customer says only that something is not as it was.",
            place=neat.place,
        ),
        tr("{place}: the yearly visit. The customer has noticed nothing.", place=first),
        tr(
            "The former owner of {place} kept no record, and the new one asks for a check.",
            place=neat.place,
        ),
        tr(
            "At {place} a neighbour has already given three pieces of advice. You begin anew.",
            place=neat.place,
        ),
        tr(
            "{place} is to be sold, and the buyer wants to know how the well system stands.",
            place=first,
        ),
    )
    return stories[neat.number % len(stories)]


_AIR = (Fault.LOST_CHARGE, Fault.AIR_LEAK, Fault.PINHOLE)
_BAND = (Fault.SWITCH_DRIFT, Fault.PLUGGED_NIPPLE, Fault.OLD_PRECHARGE)
_WELL = (Fault.CHECK_VALVE, Fault.WORN_PUMP, Fault.NONE)

SORTS: dict[str, Maker] = {
    "hunt_air": partial(_hunt, hidden=_AIR),
    "hunt_band": partial(_hunt, hidden=_BAND),
    "hunt_well": partial(_hunt, hidden=_WELL),
    "hunt_any": _hunt,
    "hunt_other": _hunt,
    "which_next": which_next,
    "what_fits": what_fits,
}
