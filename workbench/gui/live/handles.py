"""What can be moved on the live picture: entries of the job, in neat steps of the shown unit."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from typing import TYPE_CHECKING, Any

from workbench.job.choices import PrechargeRule
from workbench.job.labels import label_of
from workbench.units import FLOW, PRESSURE, TEMPERATURE, VOLUME, Display, Kind, Quantity, parse
from workbench.units.kinds import ALTITUDE
from workbench.words import tr

if TYPE_CHECKING:
    from workbench.job.job import Job
    from workbench.study.live.rig import Rig

ORDER = (
    "precharge",
    "cut_in",
    "cut_out",
    "live_volume",
    "steady_draw",
    "altitude",
    "live_air",
)
"""The entries in the order in which they are counted, 1 to 7."""
MANY = 10
"""Steps at once, with Shift."""

_STEPS = {
    PRESSURE: {"psi": "0.5", "kPa": "5", "bar": "0.05"},
    VOLUME: {"gal": "1", "L": "5"},
    FLOW: {"gpm": "0.5", "L/min": "2"},
    ALTITUDE: {"ft": "100", "m": "50"},
    TEMPERATURE: {"°F": "1", "°C": "1"},
}
_LARGEST_TANK = 2.0  # m³, to which a tank grows by keys; a larger one is typed
_HIGHEST_PLACE = 3048.0  # m
_COLDEST, _WARMEST = 268.15, 323.15  # K
_ROUNDING = 1e-6  # of a step, by which a value may miss a multiple of it


@dataclass(frozen=True, slots=True)
class Handle:
    """One entry that can be moved: its SI value and the SI range in which it moves."""

    entry: str
    kind: Kind
    value: float
    low: float
    high: float

    @property
    def name(self) -> str:
        """As its row is called."""
        return label_of(self.entry)

    @property
    def number(self) -> int:
        """The key that chooses it."""
        return ORDER.index(self.entry) + 1

    def at(self, value: float, display: Display) -> Quantity:
        """The neat quantity nearest to an SI value, within the range."""
        step = self._step(display)
        shown = float(display.value(value, self.kind))
        return self._quantity(round(shown / float(step)), step, display)

    def moved(self, steps: int, display: Display) -> Quantity:
        """The neat quantity so many steps away; the first step goes to the next neat one."""
        step = self._step(display)
        place = float(display.value(self.value, self.kind)) / float(step)
        if steps > 0:
            count = math.floor(place + _ROUNDING) + steps
        else:
            count = math.ceil(place - _ROUNDING) + steps
        return self._quantity(count, step, display)

    def told(self, display: Display) -> str:
        """Name and value."""
        return tr("{name} {value}", name=self.name, value=display.text(self.value, self.kind))

    def _step(self, display: Display) -> Decimal:
        return Decimal(_STEPS[self.kind][display.symbol(self.kind)])

    def _quantity(self, count: int, step: Decimal, display: Display) -> Quantity:
        ends = (float(display.value(end, self.kind)) / float(step) for end in (self.low, self.high))
        low, high = next(ends), next(ends)
        count = max(math.ceil(low - _ROUNDING), min(count, math.floor(high + _ROUNDING)))
        digits = f"{count * step:f}"
        if "." in digits:
            digits = digits.rstrip("0").rstrip(".")  # "30", as one would type it
        return parse(f"{digits} {display.symbol(self.kind)}", self.kind)


def handles_of(job: Job, rig: Rig, top: float) -> tuple[Handle, ...]:
    """All that can be moved on a rig. ``top`` [Pa gauge]: the end of the gauge's dial."""
    setting, system = rig.setting, rig.system
    step = PRESSURE.units["psi"].factor
    relief = job.relief_setting
    most = min(top, relief.si - step) if isinstance(relief, Quantity) else top
    follows = job.precharge_rule is not PrechargeRule.TYPED  # the precharge follows cut-in
    least = max(step, setting.below_cut_in if follows else 0.0)
    draw = _si(job.steady_draw, 0.0)
    air = _si(job.live_air, _si(job.tank_temperature, 0.5 * (_COLDEST + _WARMEST)))
    altitude = _si(job.altitude, 0.0)
    flow = 1.5 * float(system.delivery.highest_flow)
    volume = system.volume + rig.water_above
    return (
        _handle("precharge", PRESSURE, setting.precharge, 0.0, top),
        _handle("cut_in", PRESSURE, setting.cut_in, least, setting.cut_out - step),
        _handle("cut_out", PRESSURE, setting.cut_out, setting.cut_in + step, most),
        _handle("live_volume", VOLUME, volume, VOLUME.units["gal"].factor, _LARGEST_TANK),
        _handle("steady_draw", FLOW, draw, 0.0, flow),
        _handle("altitude", ALTITUDE, altitude, 0.0, _HIGHEST_PLACE),
        _handle("live_air", TEMPERATURE, air, _COLDEST, _WARMEST),
    )


def _handle(entry: str, kind: Kind, value: float, low: float, high: float) -> Handle:
    """Its range reaches to where it is, wherever that is."""
    return Handle(entry, kind, value, min(low, value), max(high, value))


def _si(entry: object, otherwise: float) -> float:
    return entry.si if isinstance(entry, Quantity) else otherwise


def changes(entry: str, quantity: Quantity) -> Mapping[str, Any]:
    """The entries that change when one is moved: a precharge that is moved is one that is typed."""
    if entry == "precharge":
        return {"precharge": quantity, "precharge_rule": PrechargeRule.TYPED}
    return {entry: quantity}
