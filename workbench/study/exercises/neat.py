"""Round numbers in the units that are shown, and the places and tanks that exercises tell of.

Everything here is invented: places, tanks, pumps.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from workbench.physics.air import ambient_pressure
from workbench.study.exercises.draws import Draws
from workbench.units import (
    ALTITUDE,
    FLOW,
    PRESSURE,
    TEMPERATURE,
    VOLUME,
    Display,
    Kind,
    System,
)
from workbench.words import tr

_US_BANDS = ((20, 40), (30, 50), (40, 60), (50, 70), (25, 45), (35, 55), (45, 65))
_METRIC_BANDS = ((150, 300), (200, 350), (250, 400), (300, 450), (200, 400), (220, 380))
_US_TANKS = (20, 26, 32, 36, 44, 52, 62, 80, 86, 96, 119)
_METRIC_TANKS = (60, 80, 100, 150, 180, 200, 250, 300, 350, 400, 450)
_US_FLOWS = (5, 6, 7, 8, 9, 10, 11, 12, 14, 15, 16, 18, 20)
_METRIC_FLOWS = (20, 24, 25, 30, 35, 40, 45, 50, 55, 60, 70)
_US_HEIGHTS = (3000, 4000, 4500, 5000, 5500, 6000, 7000, 8000)
_METRIC_HEIGHTS = (1000, 1200, 1400, 1500, 1800, 2000, 2200, 2400)
_PLACES = 4


@dataclass(frozen=True)
class Neat:
    """Round numbers in the units of ``display``, for a story at ``place``.

    ``number`` is the exercise's on its sheet, for what comes in turn.
    """

    display: Display
    place: str
    number: int = 0

    @property
    def is_us(self) -> bool:
        """Whether US units are shown."""
        return self.display.system is System.US

    # --- numbers of the shown unit become SI ---

    def si(self, us: float, metric: float, kind: Kind) -> float:
        """The SI value of a number in the shown unit: ``us`` or ``metric``."""
        unit = self.display.unit(kind)
        return ((us if self.is_us else metric) + unit.zero) * unit.factor

    def step(self, us: float, metric: float, kind: Kind) -> float:
        """The same for a difference."""
        return (us if self.is_us else metric) * self.display.unit(kind).factor

    def round(self, si: float, us: float, metric: float, kind: Kind) -> float:
        """The nearest multiple of a step of the shown unit, in SI."""
        step = us if self.is_us else metric
        unit = self.display.unit(kind)
        shown = float(round(self.display.value(si, kind) / step)) * step
        return float((shown + unit.zero) * unit.factor)

    # --- and texts ---

    def digits(self, number: float) -> str:
        """A plain number with as few decimals as it has, four at most."""
        return f"{round(number, _PLACES):g}".replace(".", self.display.mark)

    def say(self, si: float, kind: Kind, most: int = _PLACES) -> str:
        """A value with its unit, with as few decimals as it has."""
        shown = self.display.value(si, kind)
        for places in range(most + 1):
            if abs(round(shown, places) - shown) < 1e-6:
                return self.display.text(si, kind, places)
        return self.display.text(si, kind, most)

    def say_step(self, si: float, kind: Kind) -> str:
        """The same for a difference."""
        unit = self.display.unit(kind)
        return f"{self.digits(si / unit.factor)} {unit.symbol}".strip()

    def band(self, cut_in: float, cut_out: float) -> str:
        """A band as the trade says it, "30/50 psi"."""
        low = self.display.number(cut_in, PRESSURE, 0)
        return f"{low}/{self.display.text(cut_out, PRESSURE, 0)}"

    def height_row(self, height: float) -> tuple[tuple[str, str], ...]:
        """A row that tells the altitude [m] and the air pressure there; none at sea level."""
        if not height:
            return ()
        air = self.display.text(self.ambient(height), PRESSURE, 2 if self.is_us else 1)
        place = self.say(height, ALTITUDE)
        return ((tr("Altitude"), tr("{height}, air {air}", height=place, air=air)),)

    def absolute_warmth(self, temperature: float) -> str:
        """An absolute temperature [K] as it is put into a sum."""
        if self.is_us:
            return f"{self.digits(round(temperature * 9.0 / 5.0, 1))} °R"
        return f"{self.digits(round(temperature, 1))} K"

    def volume_name(self) -> str:
        """The unit of volume, so that no one can mix it with another gallon."""
        return tr("US gallons") if self.is_us else tr("litres")

    def flow_name(self) -> str:
        """The unit of flow, likewise."""
        return tr("US gallons per minute") if self.is_us else tr("litres per minute")

    def rule(self) -> str:
        """How far below cut-in the precharge belongs."""
        if self.is_us:
            return tr("2 psi below cut-in")
        return tr("15 kPa below cut-in (about 2 psi)")

    @cached_property
    def below(self) -> float:
        """The same [Pa]."""
        return self.step(2, 15, PRESSURE)

    # --- what is drawn ---

    def of(
        self, draws: Draws, us: tuple[float, ...], metric: tuple[float, ...], kind: Kind
    ) -> float:
        """One of these numbers of the shown unit, in SI."""
        number = draws.one_of(us if self.is_us else metric)
        return self.si(number, number, kind)

    def a_band(self, draws: Draws) -> tuple[float, float]:
        """Cut-in and cut-out [Pa gauge]."""
        low, high = draws.one_of(_US_BANDS if self.is_us else _METRIC_BANDS)
        return self.si(low, low, PRESSURE), self.si(high, high, PRESSURE)

    def two_bands(self, draws: Draws) -> tuple[tuple[float, float], tuple[float, float]]:
        """A lower band and a higher one, of equal width."""
        bands = _US_BANDS[:4] if self.is_us else _METRIC_BANDS[:4]
        low, high = draws.some(bands, 2)
        to = [tuple(self.si(p, p, PRESSURE) for p in band) for band in (low, high)]
        return (to[0][0], to[0][1]), (to[1][0], to[1][1])

    def a_tank(self, draws: Draws) -> float:
        """A total volume [m³]."""
        return self.of(draws, _US_TANKS, _METRIC_TANKS, VOLUME)

    def tanks(self) -> tuple[float, ...]:
        """All total volumes [m³] in which the invented tanks come."""
        sizes = _US_TANKS if self.is_us else _METRIC_TANKS
        return tuple(self.si(size, size, VOLUME) for size in sizes)

    def a_flow(self, draws: Draws) -> float:
        """A pump's flow [m³/s]."""
        return self.of(draws, _US_FLOWS, _METRIC_FLOWS, FLOW)

    def a_height(self, draws: Draws) -> float:
        """An altitude [m] that matters."""
        return self.of(draws, _US_HEIGHTS, _METRIC_HEIGHTS, ALTITUDE)

    def a_warmth(self, draws: Draws) -> float:
        """The temperature [K] of a van or shop."""
        return self.of(draws, (70, 75, 80, 85, 90), (20, 22, 25, 28, 32), TEMPERATURE)

    def a_coolness(self, draws: Draws) -> float:
        """The temperature [K] of a well house or cellar."""
        return self.of(draws, (40, 42, 45, 48, 50), (4, 5, 7, 9, 10), TEMPERATURE)

    def ambient(self, height: float = 0.0) -> float:
        """Air pressure [Pa] at an altitude [m]."""
        return float(ambient_pressure(height))


def places() -> tuple[str, ...]:
    """Where there is a well of its own; invented.

    A prime number of them that no topic's number of sorts divides, so that on a sheet no two
    questions of one sort are about the same place.
    """
    return (
        tr("a cabin by a lake"),
        tr("a horse barn"),
        tr("a farmhouse"),
        tr("a greenhouse"),
        tr("a summer camp"),
        tr("a small dairy"),
        tr("a house with two flats"),
        tr("a house on a hill"),
        tr("a cottage in the woods"),
        tr("a village school"),
        tr("a sheep farm"),
        tr("a workshop with a wash bay"),
        tr("an orchard"),
        tr("a guest house"),
        tr("a ranger's hut"),
        tr("a plant nursery"),
        tr("a mill house"),
    )
