"""How long the pump runs and rests with one tank, and how often it starts, at every steady draw."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from enum import Enum, auto

import numpy as np

from workbench.job.pump_choices import MotorLimit
from workbench.physics import cycle
from workbench.physics.air import FloatArray
from workbench.physics.fill import FillCurve
from workbench.physics.forgiving import SAME
from workbench.study.chosen import chosen, vessels_of
from workbench.study.evaluate import Results
from workbench.study.findings import Finding, Level
from workbench.study.motor import PUBLISHED, MotorStands, published, read_motor, remark, suits
from workbench.study.ranking import Judged
from workbench.study.reader import Reader
from workbench.study.supply import fill_of
from workbench.units.kinds import FLOW, PRESSURE, SHORT_TIME, STARTS_PER_DAY, STARTS_PER_HOUR
from workbench.words import tr

_POINTS = 49  # of each part of a curve in the picture; each takes a whole integral


class State(Enum):
    """What a steady draw comes to."""

    RESTS = auto()  # nothing is drawn
    CYCLES = auto()
    BALANCES = auto()  # the draw equals the flow at cut-out, which is never quite reached
    SETTLES = auto()  # the pump never stops; the pressure settles below cut-out
    FALLS_SHORT = auto()  # the pump meets the draw at no pressure that is known


@dataclass(frozen=True, slots=True)
class Turn:
    """One turn at a steady draw [m³/s]: run and rest [s] (inf: without end), starts [1/s]."""

    draw: float
    run: float
    rest: float
    starts: float


@dataclass(frozen=True, eq=False)
class StartsPicture:
    """Starts [1/s] over the steady draw (n,) [m³/s]: integrated, and as at a constant flow."""

    draw: FloatArray
    starts: FloatArray
    constant: FloatArray


@dataclass(frozen=True, eq=False)
class TankCycle:
    """The chosen tank with this pump (SI).

    ``steady``: at the steady draw; None where it cannot be read. ``settles`` is the gauge pressure
    [Pa] at which an endless run settles. ``worst``: the draw with most starts. ``shortest_run``: at
    no draw; ``shortest_rest``: at the highest draw at which the pump still stops.
    ``flow_steady`` and ``flow_worst`` are the same at the mean flow, taken as constant.
    """

    fill: FillCurve
    mean_flow: float
    state: State | None
    steady: Turn | None
    settles: float | None
    worst: Turn
    shortest_run: float
    shortest_rest: float
    flow_steady: Turn | None
    flow_worst: Turn
    picture: StartsPicture

    @property
    def flow_at_cut_in(self) -> float:
        """The pump's flow [m³/s] at cut-in."""
        return float(self.fill.flow[self.fill.cut_in_node])

    @property
    def flow_at_cut_out(self) -> float:
        """The pump's flow [m³/s] at cut-out."""
        return float(self.fill.flow[-1])

    @property
    def difference(self) -> float:
        """By which share the worst starts at a constant flow miss the integrated ones [-]."""
        return self.flow_worst.starts / self.worst.starts - 1.0


@dataclass(frozen=True, slots=True)
class Check:
    """Whether a limit is kept by some starts and a rest; each part None where none is set.

    ``starts_day``: kept if the draw lasted all day; else ``day_hours`` says after how many hours of
    it the day's starts are used up.
    """

    starts_hour: bool | None
    starts_day: bool | None
    rest: bool | None
    day_hours: float | None

    @property
    def passes(self) -> bool:
        """Whether nothing is exceeded."""
        return False not in (self.starts_hour, self.starts_day, self.rest)


@dataclass(frozen=True, slots=True)
class LimitLine:
    """A published limit: what it allows this motor, for what it was written, and the check.

    ``stands`` None: it gives no figure for this motor. ``suits``: it was written for such a power.
    """

    limit: MotorLimit
    stands: MotorStands | None
    remark: str
    suits: bool
    check: Check | None


@dataclass(frozen=True, eq=False)
class CycleView:
    """All that the page shows. ``cycle`` is None where there is no tank or no pump that stops.

    ``check`` holds the chosen limit against the worst draw and the shortest rest over every draw,
    ``steady_check`` against the steady draw while the pump cycles at it.
    """

    tank: Judged | None
    cycle: TankCycle | None
    limit: MotorLimit
    stands: MotorStands | None
    check: Check | None
    steady_check: Check | None
    lines: tuple[LimitLine, ...]
    findings: tuple[Finding, ...]


def cycle_view(results: Results) -> CycleView:
    """The page's figures; what stands in the way is among its findings or those of ``results``."""
    job, reader = results.job, Reader(results.job)
    draw = reader.not_below_zero("steady_draw")
    stands, power = read_motor(job, reader)
    tank, gone = chosen(results, "first_tank")
    found = [*gone, *reader.findings]
    turning = _tank_cycle(results, tank, draw, found) if tank else None
    check = steady_check = None
    if turning is not None:
        found += _about_draw(turning)
        if stands is not None:
            check = check_of(stands, turning.worst.starts, turning.shortest_rest)
            found += _about_limit(turning, stands, check)
            steady = turning.steady
            if steady is not None and turning.state is State.CYCLES:
                steady_check = check_of(stands, steady.starts, steady.rest)
    lines = tuple(_line(limit, power, turning) for limit in PUBLISHED)
    return CycleView(
        tank, turning, job.motor_limit, stands, check, steady_check, lines, tuple(found)
    )


def _tank_cycle(
    results: Results, tank: Judged, draw: float | None, found: list[Finding]
) -> TankCycle | None:
    supply, setting = results.inputs.supply, results.setting
    if supply is None or setting is None:
        return None
    try:
        fill = fill_of(supply, vessels_of(tank, setting))
    except ValueError as error:
        text = str(error)
        found.append(
            Finding(
                Level.STOP,
                "tank_takes_no_water",
                "first_tank",
                text[:1].upper() + text[1:].rstrip(".") + ".",
                tr("Choose another tank, or mend band and precharge."),
            )
        )
        return None
    mean = cycle.mean_flow(fill)
    worst_draw, _ = cycle.worst_starts(fill)
    state = None if draw is None else _state(fill, draw)
    settles = cycle.equilibrium(fill, draw) if draw is not None and state is State.SETTLES else None
    return TankCycle(
        fill=fill,
        mean_flow=mean,
        state=state,
        steady=None if draw is None else turn(fill, draw),
        settles=settles,
        worst=turn(fill, worst_draw),
        shortest_run=float(cycle.fill_time(fill)),
        shortest_rest=cycle.shortest_rest(fill),
        flow_steady=None if draw is None else turn_at_flow(fill.drawdown, mean, draw),
        flow_worst=turn_at_flow(fill.drawdown, mean, mean / 2.0),
        picture=_picture(fill, mean, worst_draw),
    )


def turn(fill: FillCurve, draw: float) -> Turn:
    """The turn at a steady draw [m³/s], with the pump's flow falling as the tank fills."""
    return Turn(
        draw,
        float(cycle.fill_time(fill, draw)),
        float(cycle.rest_time(fill, draw)),
        float(cycle.starts(fill, draw)),
    )


def turn_at_flow(drawdown: float, flow: float, draw: float) -> Turn:
    """The turn at a steady draw if the pump's flow [m³/s] were the same at every pressure."""
    rest = drawdown / draw if draw > 0.0 else float(np.inf)
    return Turn(
        draw,
        float(cycle.run_time(drawdown, flow, draw)),
        rest,
        float(cycle.starts_per_second(drawdown, flow, draw)),
    )


def _state(fill: FillCurve, draw: float) -> State:
    least = float(fill.flow[-1])
    if draw == 0.0:
        return State.RESTS
    if abs(draw - least) <= SAME * least:
        return State.BALANCES
    if draw < least:
        return State.CYCLES
    return State.FALLS_SHORT if cycle.equilibrium(fill, draw) is None else State.SETTLES


def _picture(fill: FillCurve, mean: float, worst: float) -> StartsPicture:
    """Close together near the flow at cut-out, where the curve falls to nil most steeply."""
    least = float(fill.flow[-1])
    steps = np.linspace(0.0, 1.0, _POINTS)
    draw = least * (1.0 - (1.0 - steps) ** 3)
    beyond = least + (mean - least) * steps
    draw = np.unique(np.concatenate((least * steps, draw, beyond, [worst])))
    return StartsPicture(
        draw, cycle.starts(fill, draw), cycle.starts_per_second(fill.drawdown, mean, draw)
    )


# --- limits ---


def check_of(stands: MotorStands, often: float, shortest: float) -> Check:
    """Hold starts [1/s] and a rest [s] against a motor's limit."""
    hour = day = rest = hours = None
    if stands.starts_hour is not None:
        hour = often <= stands.starts_hour * (1.0 + SAME)
    if stands.starts_day is not None:
        day = often <= stands.starts_day * (1.0 + SAME)
        hours = None if day else stands.starts_day * 24.0 / often
    if stands.rest is not None:
        rest = shortest >= stands.rest * (1.0 - SAME)
    return Check(hour, day, rest, hours)


def _line(limit: MotorLimit, power: float | None, turning: TankCycle | None) -> LimitLine:
    stands = published(limit, power)
    check = None
    if turning is not None and stands is not None:
        check = check_of(stands, turning.worst.starts, turning.shortest_rest)
    return LimitLine(limit, stands, remark(limit), suits(limit, power), check)


# --- findings ---


def _about_draw(turning: TankCycle) -> Iterator[Finding]:
    steady, least = turning.steady, ("least", turning.flow_at_cut_out, FLOW)
    if steady is None:
        return
    if turning.state is State.BALANCES:
        yield Finding(
            Level.NOTE,
            "draw_balances",
            "steady_draw",
            tr("Just what the pump gives at cut-out: the pressure never quite gets there, and the"
               " pump does not stop."),
        )  # fmt: skip
    elif turning.state is State.SETTLES and turning.settles is not None:
        yield Finding(
            Level.NOTE,
            "never_stops",
            "steady_draw",
            tr("The pump gives {least} at cut-out, less than this draw: it does not stop, and the"
               " pressure settles at {settles}."),
            values=(least, ("settles", turning.settles, PRESSURE)),
        )  # fmt: skip
    elif turning.state is State.FALLS_SHORT:
        yield Finding(
            Level.CAUTION,
            "draw_above_pump",
            "steady_draw",
            tr("More than the pump gives: it does not stop, and the pressure falls until the draw"
               " falls with it."),
            tr("Draw less, or choose a pump with more flow."),
        )  # fmt: skip


def _about_limit(turning: TankCycle, stands: MotorStands, check: Check) -> Iterator[Finding]:
    if check.starts_hour is False and stands.starts_hour is not None:
        yield Finding(
            Level.CAUTION,
            "starts_above_limit",
            "motor_limit",
            tr("At a draw of {draw} the pump starts {starts}, more often than {limit}."),
            tr("Choose a tank with more drawdown, or a wider band."),
            (
                ("draw", turning.worst.draw, FLOW),
                ("starts", turning.worst.starts, STARTS_PER_HOUR),
                ("limit", stands.starts_hour, STARTS_PER_HOUR),
            ),
        )
    if check.rest is False and stands.rest is not None:
        yield Finding(
            Level.CAUTION,
            "rest_below_limit",
            "motor_limit",
            tr("Just below {least} of draw the pump rests only {rest}; the limit is {limit}."),
            tr("Choose a tank with more drawdown, or a wider band."),
            (
                ("least", turning.flow_at_cut_out, FLOW),
                ("rest", turning.shortest_rest, SHORT_TIME),
                ("limit", stands.rest, SHORT_TIME),
            ),
        )
    if check.starts_day is False and stands.starts_day is not None:
        yield Finding(
            Level.NOTE,
            "day_above_limit",
            "motor_limit",
            tr("A whole day at {draw} would be {starts} starts; the limit is {limit}. The page"
               " “Day” counts those of a usual day."),
            values=(
                ("draw", turning.worst.draw, FLOW),
                ("starts", turning.worst.starts, STARTS_PER_DAY),
                ("limit", stands.starts_day, STARTS_PER_DAY),
            ),
        )  # fmt: skip
