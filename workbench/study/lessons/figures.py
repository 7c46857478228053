"""The figures that a lesson's text can name: each is worked out from the lesson's tank.

So no text can be at odds with the tank beside it, whatever a trainer changes, and each reader gets
the figures in the shown units.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator
from dataclasses import dataclass
from difflib import get_close_matches
from functools import cached_property

import numpy as np

from workbench.job.choices import PrechargeRule
from workbench.physics import cycle
from workbench.physics.air import AbsolutePressure, absolute, gauge_pressure
from workbench.physics.fill import FillCurve
from workbench.physics.header import Vessels
from workbench.physics.motion import Happening
from workbench.physics.system import System
from workbench.study.evaluate import Results
from workbench.study.inputs import BELOW_CUT_IN
from workbench.study.lessons.rigs import rig_of
from workbench.study.live.recording import Recording
from workbench.study.live.rig import Rig
from workbench.study.setting import Setting
from workbench.units import (
    ALTITUDE,
    FLOW,
    NUMBER,
    PERCENT,
    PRESSURE,
    SHORT_TIME,
    STARTS_PER_HOUR,
    TEMPERATURE,
    VOLUME,
    Display,
    Kind,
    Quantity,
)
from workbench.words import tr

_MINUTE = 60.0
_LONGEST = 6 * 3600.0  # s, for which the water is followed until the tank is empty
_MOST_EVENTS = 40
_LONGEST_NAME, _MOST_TOLD = 40, 4


class Ground:
    """One setting of a lesson's tank with all its figures (SI), each worked out when asked for.

    Raises:
        Nothing: a figure that there is not is None.
    """

    def __init__(self, results: Results) -> None:
        self.results = results
        self.rig: Rig | None
        self.rig, self.tap, self.why = rig_of(results)
        self._known: dict[str, float | None] = {}

    def value(self, name: str) -> float | None:
        """The SI value of a figure; None where there is none. Raises KeyError: no such figure."""
        find = figures()[name].find
        if name not in self._known:
            with np.errstate(all="ignore"):
                try:
                    value = find(self)
                except (ValueError, ArithmeticError):
                    value = None
            finite = value is not None and bool(np.isfinite(value))
            self._known[name] = float(value) if finite else None  # type: ignore[arg-type]
        return self._known[name]

    def text(self, name: str, display: Display) -> str | None:
        """A figure with its unit as it is read aloud; None where there is none."""
        kind = figures()[name].kind
        if name == "band":
            return None if self.rig is None else _band_text(self.setting, display)
        entry = getattr(self.results.job, name, None)
        is_meant = name in _ENTRIES or (name == "precharge" and self._is_charge_typed)
        if isinstance(entry, Quantity) and is_meant:
            return entry_text(entry, kind, display)
        value = self.value(name)
        return None if value is None else spoken(value, kind, display)

    @property
    def _is_charge_typed(self) -> bool:
        return self.results.job.precharge_rule is PrechargeRule.TYPED

    # --- what figures are made of; only asked for where there is a rig ---

    @property
    def the_rig(self) -> Rig:
        """The rig. Raises ValueError: there is none."""
        if self.rig is None:
            raise ValueError(self.why)
        return self.rig

    @property
    def system(self) -> System:
        """What is. Raises ValueError: there is no rig."""
        return self.the_rig.system

    @property
    def setting(self) -> Setting:
        """What should be. Raises ValueError: there is no rig."""
        return self.the_rig.setting

    @property
    def draw(self) -> float:
        """The tap's draw [m³/s]. Raises ValueError: it cannot be read."""
        if self.tap is None:
            raise ValueError(self.why)
        return self.tap

    @property
    def drawdown(self) -> float:
        """Water [m³] from cut-out to cut-in, or until the tank is empty."""
        return self.system.water(self.system.cut_out) - self.system.water(self.system.cut_in)

    @cached_property
    def fill(self) -> FillCurve:
        """The fill of the tank alone from cut-in to cut-out."""
        system = self.system
        ambient = AbsolutePressure(np.asarray(system.ambient))
        charge = absolute(gauge_pressure(system.precharge), ambient)
        return FillCurve.of(
            system.delivery,
            Vessels.one(system.volume, charge, system.acceptance, system.exponent),
            gauge_pressure(system.cut_in),
            gauge_pressure(system.cut_out),
            ambient,
        )

    @cached_property
    def pump(self) -> float:
        """The pump's mean flow over the band [m³/s]."""
        return float(cycle.mean_flow(self.fill))

    @cached_property
    def worst(self) -> tuple[float, float]:
        """The draw [m³/s] at which the pump starts most often, and these starts [1/s]."""
        draw, starts = cycle.worst_starts(self.fill)
        return float(draw), float(starts)

    def by_gauge(self) -> float:
        """What Boyle's law would give [m³] if gauge readings were put in: a slip."""
        low, high, charge = self.system.cut_in, self.system.cut_out, self.system.precharge
        return self.system.volume * (min(charge / low, 1.0) - charge / high)

    def half_full(self) -> float:
        """Gauge pressure [Pa] at which half the tank is water."""
        charge = self.system.precharge + self.system.ambient
        return float(charge * 2.0**self.system.exponent) - self.system.ambient

    def until_start(self) -> float | None:
        """Seconds from cut-out, with the tap at its draw, until the pump starts."""
        return self._until(Happening.CLOSED)

    def lasts(self) -> float | None:
        """Seconds from cut-out, with the tap at its draw, until the tank is empty."""
        return self._until(Happening.EMPTIED)

    def _until(self, wanted: Happening) -> float | None:
        return next((at for at, kind, _ in self._happenings() if kind is wanted), None)

    def no_water(self) -> float | None:
        """Seconds for which the tap gives nothing until the pump does; 0 if it never runs dry."""
        dry = None
        for at, kind, gives in self._happenings():
            if kind is Happening.DRY:
                dry = at
            elif gives:
                return 0.0 if dry is None else at - dry
        return None

    def _happenings(self) -> Iterator[tuple[float, Happening, bool]]:
        """What happens from cut-out on: when [s], what, and whether the pump then gives."""
        recording = Recording(self.the_rig, self.draw)
        for _ in range(_MOST_EVENTS):
            event = recording.step_to_next(_LONGEST)
            if event is None:
                return
            yield event.time, event.kind, recording.moment.gives


@dataclass(frozen=True, slots=True)
class Figure:
    """A figure that a text can name: its kind, what it is, and how it is found (SI)."""

    kind: Kind
    what: str
    find: Callable[[Ground], float | None]


def figures() -> dict[str, Figure]:
    """Every figure by its name."""
    return _FIGURES


def _entry(name: str) -> Callable[[Ground], float | None]:
    def find(ground: Ground) -> float | None:
        entry = getattr(ground.results.job, name)
        return entry.si if isinstance(entry, Quantity) else None

    return find


_ENTRIES = {
    "cut_in": PRESSURE,
    "cut_out": PRESSURE,
    "live_volume": VOLUME,
    "steady_draw": FLOW,
    "pump_flow": FLOW,
    "altitude": ALTITUDE,
    "live_air": TEMPERATURE,
    "tank_temperature": TEMPERATURE,
    "start_delay": SHORT_TIME,
    "relief_setting": PRESSURE,
}
_FIGURES: dict[str, Figure] = {
    # --- pressures that a gauge shows ---
    "precharge": Figure(PRESSURE, "air in the drained tank, as set", lambda g: g.setting.precharge),
    "precharge_now": Figure(
        PRESSURE, "the same as it is, with the air's temperature", lambda g: g.system.precharge
    ),
    "right_precharge": Figure(
        PRESSURE,
        "2 psi below cut-in",
        lambda g: g.setting.cut_in - BELOW_CUT_IN[PrechargeRule.BELOW_2],
    ),
    "rule": Figure(
        PRESSURE, "the 2 psi of that rule", lambda _: BELOW_CUT_IN[PrechargeRule.BELOW_2]
    ),
    "half_full": Figure(PRESSURE, "gauge when half the tank is water", Ground.half_full),
    "twice_precharge": Figure(
        PRESSURE, "twice the gauge reading: a slip", lambda g: 2.0 * g.system.precharge
    ),
    "above_cut_in": Figure(
        PRESSURE,
        "2 psi above cut-in: a slip",
        lambda g: g.setting.cut_in + BELOW_CUT_IN[PrechargeRule.BELOW_2],
    ),
    "band": Figure(PRESSURE, "in one; as a number its cut-in", lambda g: g.setting.cut_in),
    "width": Figure(
        PRESSURE, "from cut-in to cut-out", lambda g: g.setting.cut_out - g.setting.cut_in
    ),
    # --- absolute pressures ---
    "air_pressure": Figure(PRESSURE, "of the air at the site", lambda g: g.setting.ambient),
    "absolute_precharge": Figure(
        PRESSURE, "precharge, absolute", lambda g: g.system.precharge + g.system.ambient
    ),
    "absolute_half": Figure(
        PRESSURE, "half full, absolute", lambda g: g.half_full() + g.system.ambient
    ),
    "absolute_cut_in": Figure(
        PRESSURE, "cut-in, absolute", lambda g: g.system.cut_in + g.system.ambient
    ),
    "absolute_cut_out": Figure(
        PRESSURE, "cut-out, absolute", lambda g: g.system.cut_out + g.system.ambient
    ),
    "cut_in_less_air": Figure(
        PRESSURE, "cut-in less air pressure: a slip", lambda g: g.system.cut_in - g.system.ambient
    ),
    # --- water and air in the tank ---
    "drawdown": Figure(VOLUME, "from cut-out to cut-in", lambda g: g.drawdown),
    "water_left": Figure(VOLUME, "at cut-in", lambda g: g.system.water(g.system.cut_in)),
    "water_full": Figure(VOLUME, "at cut-out", lambda g: g.system.water(g.system.cut_out)),
    "air_at_cut_in": Figure(
        VOLUME, "room of the air", lambda g: g.system.volume - g.system.water(g.system.cut_in)
    ),
    "air_at_cut_out": Figure(
        VOLUME, "room of the air", lambda g: g.system.volume - g.system.water(g.system.cut_out)
    ),
    "half_volume": Figure(VOLUME, "half the tank", lambda g: g.system.volume / 2.0),
    "drawdown_by_gauge": Figure(VOLUME, "worked out with gauge readings: a slip", Ground.by_gauge),
    "minute_water": Figure(VOLUME, "that the pump gives in a minute", lambda g: g.pump * _MINUTE),
    "factor": Figure(PERCENT, "drawdown of total volume", lambda g: g.drawdown / g.system.volume),
    "volumes_in_drawdown": Figure(
        NUMBER, "total volume over drawdown", lambda g: g.system.volume / g.drawdown
    ),
    # --- the pump ---
    "run_time": Figure(
        SHORT_TIME, "of the pump, no tap open", lambda g: float(cycle.fill_time(g.fill))
    ),
    "until_start": Figure(
        SHORT_TIME, "from cut-out until the pump starts, at this draw", Ground.until_start
    ),
    "starts": Figure(
        STARTS_PER_HOUR, "at this draw", lambda g: float(cycle.starts(g.fill, g.draw))
    ),
    "starts_worst": Figure(STARTS_PER_HOUR, "at the worst draw", lambda g: g.worst[1]),
    "worst_draw": Figure(FLOW, "with most starts", lambda g: g.worst[0]),
    "short_of": Figure(
        FLOW, "by which the tap takes more than the pump gives", lambda g: g.draw - g.pump
    ),
    "back_flow": Figure(FLOW, "back into the well", lambda g: g.system.back_flow),
    "no_water": Figure(SHORT_TIME, "for which the tap gives nothing", Ground.no_water),
    "lasts": Figure(SHORT_TIME, "from cut-out until the tank is empty", Ground.lasts),
    "real_cut_in": Figure(PRESSURE, "where the contacts really close", lambda g: g.system.cut_in),
    "real_cut_out": Figure(PRESSURE, "where they really open", lambda g: g.system.cut_out),
    **{name: Figure(kind, "as set", _entry(name)) for name, kind in _ENTRIES.items()},
}


def like(name: str, known: Collection[str]) -> str:
    """What a person may have meant who wrote a name that is not known."""
    near = get_close_matches(name[:_LONGEST_NAME], known, _MOST_TOLD, 0.0)
    return tr(
        "Use for example {names}; the first lesson's file lists them all.",
        names=", ".join(filter(None, near)),
    )


def entry_text(entry: Quantity, kind: Kind, display: Display) -> str:
    """An entry as typed where its unit belongs to the shown system, else as a figure."""
    if kind is STARTS_PER_HOUR:
        return spoken(entry.si, kind, display)
    typed = display.typed(entry, kind)
    as_typed = typed == str(entry).replace(".", display.mark)
    return typed if as_typed else spoken(entry.si, kind, display)


def _band_text(setting: Setting, display: Display) -> str:
    """Cut-in and cut-out in one, as the trade calls a band."""
    low = spoken(setting.cut_in, PRESSURE, display).rpartition(" ")[0]
    return f"{low}/{spoken(setting.cut_out, PRESSURE, display)}"


def spoken(value: float, kind: Kind, display: Display) -> str:
    """A value as it is read aloud: no more digits than help, and a time in seconds or minutes.

    >>> spoken(262000.8, PRESSURE, Display()), spoken(0.0429, VOLUME, Display())
    ('38 psi', '11.3 gal')
    >>> spoken(7.9, SHORT_TIME, Display()), spoken(165.0, SHORT_TIME, Display())
    ('7.9 s', '2.8 min')
    """
    if kind is SHORT_TIME:
        return _spoken_time(value, display)
    if kind is STARTS_PER_HOUR:  # the text says "starts an hour" itself
        shown = display.value(value, kind)
        return display.number(value, kind, 0 if shown >= 10.0 else 1)
    shown = abs(display.value(value, kind))
    usual = 1 if kind is NUMBER else display.unit(kind).decimals
    number = display.number(value, kind, 0 if shown >= 100.0 else usual)
    if kind is not VOLUME:
        number = number.removesuffix(f"{display.mark}0")
    return f"{number} {display.symbol(kind)}".strip()


def _spoken_time(seconds: float, display: Display) -> str:
    if seconds >= 99.5:
        return f"{seconds / _MINUTE:.1f} min".replace(".", display.mark)
    places = 1 if seconds < 9.95 else 0
    return display.text(seconds, SHORT_TIME, places)
