"""The sums that several exercises do, by the same physics as everything else; their errors too.

An error is never a formula of its own: it is the right one, given what the person wrongly gives it.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from workbench.physics.air import (
    AbsolutePressure,
    GaugePressure,
    absolute,
    gauge_pressure,
)
from workbench.physics.cycle import worst_starts_per_second
from workbench.physics.tank import drawdown, drawdown_factor, volume_for_drawdown
from workbench.study.exercises.neat import Neat
from workbench.study.setting import Setting, pressures
from workbench.study.working import Step, drawdown_steps
from workbench.units import (
    FLOW,
    NUMBER,
    PRESSURE,
    SHORT_TIME,
    STARTS_PER_HOUR,
    TIME,
    VOLUME,
    Display,
)
from workbench.words import tr

IMPERIAL = VOLUME.units["imp gal"].factor / VOLUME.units["gal"].factor
"""US gallons in an Imperial one."""


def cautions_at_tank() -> str:
    """What is said wherever someone is told to do something at a tank."""
    return tr(
        "Before the air is read or set: power off, locked out and proven dead; tank drained, gauge"
        " at zero. Never above the vessel's marked working pressure. Local codes and licensed"
        " practice come first."
    )


def setting(
    neat: Neat, band: tuple[float, float], precharge: float | None = None, height: float = 0.0
) -> Setting:
    """A band [Pa gauge] at an altitude [m], charged by the rule if not otherwise [Pa gauge]."""
    charge = band[0] - neat.below if precharge is None else precharge
    return Setting(band[0], band[1], charge, neat.ambient(height), 1.0)


def by_gauge(one: Setting) -> Setting:
    """The setting as someone sees it who takes gauge readings for absolute ones."""
    return replace(one, ambient=0.0)


def water(one: Setting, volume: float) -> float:
    """Drawdown [m³] of a total volume [m³]."""
    return float(drawdown(*pressures(one), volume))


def factor(one: Setting) -> float:
    """Drawdown of each volume of tank [-]."""
    return float(drawdown_factor(*pressures(one)))


def volume_for(one: Setting, wanted: float) -> float:
    """Total volume [m³] that gives a drawdown [m³]."""
    return float(volume_for_drawdown(wanted, *pressures(one)))


def most_starts(drawn: float, flow: float) -> float:
    """Starts [1/s] at the worst draw, of a drawdown [m³] and a flow [m³/s]."""
    return float(worst_starts_per_second(drawn, flow))


def gauge_of(pressure: float) -> GaugePressure:
    """A gauge reading [Pa]."""
    return gauge_pressure(pressure)


def pressure_of(gauge: float, ambient: float) -> AbsolutePressure:
    """Absolute pressure [Pa] of a gauge reading."""
    return absolute(gauge_pressure(gauge), AbsolutePressure(np.asarray(ambient)))


# --- their working ---


def water_steps(one: Setting, volume: float, display: Display) -> tuple[Step, ...]:
    """How a total volume comes to its drawdown."""
    return drawdown_steps(one, volume, water(one, volume), factor(one), display)


def precharge_step(neat: Neat, cut_in: float) -> Step:
    """The precharge by the rule."""
    low, below = neat.say(cut_in, PRESSURE), neat.say(neat.below, PRESSURE)
    return Step(
        tr("Precharge, tank drained"),
        tr("Pp = Pin − {below}", below=below),
        f"{low} − {below} = {neat.say(cut_in - neat.below, PRESSURE)}",
        tr("non-profit well council information sheet “Pressure Tanks”, January 2007, p. 3"),
    )


def run_step(drawn: float, flow: float, run: float, neat: Neat) -> Step:
    """The shortest run of the pump."""
    show = neat.display
    minutes, seconds = show.text(run, TIME, 2), show.text(run, SHORT_TIME, 0)
    return Step(
        tr("Shortest run, nothing drawn"),
        tr("t = Vd / Q"),
        f"{show.text(drawn, VOLUME, 2)} / {show.text(flow, FLOW)} = {minutes} = {seconds}",
        tr("MIL-HDBK-1005/9A, paragraph 2.5.3.6"),
    )


def starts_step(drawn: float, flow: float, starts: float, neat: Neat) -> Step:
    """The most starts, at the worst draw."""
    show = neat.display
    run = show.text(drawn / flow, TIME, 2)
    return Step(
        tr("Most starts, at half the pump's flow"),
        tr("N = 15 / t, t the shortest run in minutes"),
        f"15 / {run} = {show.text(starts, STARTS_PER_HOUR)}",
        tr("MIL-HDBK-1005/9A, paragraph 2.5.3.6"),
    )


def times_step(title: str, formula: str, numbers: str) -> Step:
    """A line of plain arithmetic."""
    return Step(title, formula, numbers, tr("arithmetic"))


def clock(seconds: float) -> str:
    """A time as a watch shows it, "1:15"."""
    return f"{int(seconds) // 60}:{int(seconds) % 60:02d}"


def clock_misread(seconds: float) -> float:
    """The seconds of someone who takes "1:15" for 1.15 minutes."""
    return 60.0 * (int(seconds) // 60) + 0.6 * (int(seconds) % 60)


def percent(share: float, neat: Neat) -> str:
    """A share as percent."""
    return f"{neat.display.number(100.0 * share, NUMBER, 1)} %"
