"""The sound systems in which faults are hidden: a few, so that their readings are found once.

All are invented, with round numbers in either system of units.
"""

from __future__ import annotations

from functools import lru_cache, partial

from workbench.job.job import Job
from workbench.job.teach_choices import Degree, Fault
from workbench.physics.pump import ConstantFlow, TwoFlows
from workbench.physics.system import System
from workbench.study.exercises import sums
from workbench.study.exercises.cases import Case, all_taken, cases_of
from workbench.study.exercises.neat import Neat
from workbench.study.faults.made import with_fault
from workbench.study.faults.readings import Taken, ToolTolerances, read_tolerances
from workbench.study.live.rig import Rig
from workbench.study.reader import Reader
from workbench.units import FLOW, PRESSURE, VOLUME, Display
from workbench.units import System as Units

_Plan = tuple[float, float, float, float, float, float]
# Cut-in, cut-out, total volume, flow at cut-in and at cut-out, steady draw.
_US: tuple[_Plan, ...] = (
    (30, 50, 44, 12, 9, 4),
    (40, 60, 62, 12, 8, 5),
    (40, 60, 86, 10, 10, 4),
    (20, 40, 32, 8, 6, 3),
)
_METRIC: tuple[_Plan, ...] = (
    (200, 350, 150, 45, 34, 15),
    (250, 400, 250, 45, 30, 18),
    (300, 450, 300, 40, 40, 15),
    (150, 300, 100, 30, 22, 10),
)
COUNT = len(_US)
"""How many there are in each system of units."""
_ABOVE_CUT_OUT = 25.0 * PRESSURE.units["psi"].factor  # of the relief valve


def tolerances() -> ToolTolerances:
    """The tolerances that a new job has."""
    usual = read_tolerances(Reader(Job()))
    assert usual is not None  # noqa: S101 - a new job can be read
    return usual


@lru_cache(maxsize=2 * COUNT)
def sound_rig(units: Units, index: int) -> tuple[Rig, float]:
    """A sound system, and the steady draw of its house [m³/s]."""
    plan = (_US if units is Units.US else _METRIC)[index]
    neat = Neat(Display(units), "")
    cut_in, cut_out = (neat.si(p, p, PRESSURE) for p in plan[:2])
    volume = neat.si(plan[2], plan[2], VOLUME)
    first, last, tap = (neat.si(q, q, FLOW) for q in plan[3:])
    flow = ConstantFlow(last) if first == last else TwoFlows.of(cut_in, first, cut_out, last)
    one, job = sums.setting(neat, (cut_in, cut_out)), Reader(Job())
    give, delay = job.value("line_give"), job.value("start_delay")
    assert give is not None and delay is not None  # noqa: S101, PT018 - a new job can be read
    system = System(
        volume,
        one.precharge,
        one.ambient,
        flow,
        cut_in,
        cut_out,
        cut_out + _ABOVE_CUT_OUT,
        give / (10.0 * PRESSURE.units["psi"].factor),
        delay,
    )
    return Rig(system, one, neat.say(volume, VOLUME)), tap


@lru_cache(maxsize=2 * COUNT)
def cases(units: Units, index: int) -> tuple[Case, ...]:
    """What every reading shows in it with every fault; half a second, once."""
    return cases_of(partial(taken, units, index))


@lru_cache(maxsize=128 * COUNT)
def taken(
    units: Units, index: int, fault: Fault, degree: Degree, share: float
) -> dict[str, Taken] | None:
    """Every reading in it with a fault; None where this system cannot have that."""
    rig, tap = sound_rig(units, index)
    try:
        return all_taken(with_fault(rig, fault, degree, share), tap, tolerances())
    except ValueError:
        return None
