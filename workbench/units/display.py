"""SI values become what a person reads: one object holds the units and the decimal mark."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from enum import Enum
from math import isclose
from typing import Any

from workbench.units.kinds import Kind, Unit
from workbench.units.reading import Quantity


class System(Enum):
    """The two systems of units that a person can switch between."""

    US = "us"
    METRIC = "metric"


# Listed units of each system; those of time belong to both, pint's to neither.
_US = "psi gal gpm gph in ft °F lb hp ft/s gal/d"
_METRIC = "kPa bar L m³ L/min L/s m³/h mm cm m °C K kg kW W m/s L/d m³/d"
_OWN = {
    System.US: frozenset((*_US.split(), "imp gal", "imp gpm", "imp gal/d")),
    System.METRIC: frozenset(_METRIC.split()),
}


@dataclass(frozen=True, slots=True)
class Display:
    """How values are shown. It is no input: changing it never changes a job or a result."""

    system: System = System.US
    mark: str = "."

    def unit(self, kind: Kind) -> Unit:
        """The unit in which this kind is shown."""
        return kind.units[kind.us if self.system is System.US else kind.metric]

    def symbol(self, kind: Kind) -> str:
        """That unit's symbol."""
        return self.unit(kind).symbol

    def value(self, si: Any, kind: Kind) -> Any:
        """The number(s) to show for the SI float or array ``si``; nothing is rounded."""
        unit = self.unit(kind)
        return si / unit.factor - unit.zero

    def number(self, si: float, kind: Kind, decimals: int | None = None) -> str:
        """``si`` as digits in the shown unit, with the unit's usual decimals unless told."""
        places = self.unit(kind).decimals if decimals is None else decimals
        text = f"{self.value(si, kind):.{places}f}"
        if text.startswith("-") and not text.strip("-0."):
            text = text[1:]  # a rounded-away minus is noise
        return text.replace(".", self.mark)

    def text(self, si: float, kind: Kind, decimals: int | None = None) -> str:
        """``si`` as digits with its unit, such as "28.0 psi"."""
        return f"{self.number(si, kind, decimals)} {self.symbol(kind)}".strip()

    def typed(self, quantity: Quantity, kind: Kind) -> str:
        """An entered quantity: as typed when its unit belongs to this system, else converted."""
        if quantity.unit in _OWN[self.system] or kind.us == kind.metric:
            return str(quantity).replace(".", self.mark)
        return self.converted(quantity, kind)

    def converted(self, quantity: Quantity, kind: Kind) -> str:
        """An entered quantity in the shown unit.

        It carries four significant digits or more, and never loses whole digits.
        """
        shown = self.unit(kind)
        number = self.value(quantity.si, kind)
        # Through a decimal, as "1e+04 ft" is not how people read 9999.7 ft.
        digits = f"{Decimal(f'{number:.4g}'):f}" if abs(number) < 1e4 else f"{number:.0f}"
        return f"{digits.replace('.', self.mark)} {shown.symbol}".strip()


def distinct(a: float, b: float, kind: Kind, display: Display) -> tuple[str, str]:
    """Texts of two values with just enough decimals that unequal values read unequal.

    A tank that falls short by a spoonful must not be said to give "10.0 gal" of "10.0 gal". Values
    that differ by rounding alone (one part in 10⁹) count as equal, as they do in the ranking.

    >>> from workbench.units.kinds import VOLUME
    >>> distinct(0.03785, 0.03786, VOLUME, Display())
    ('9.999 gal', '10.002 gal')
    """
    if isclose(a, b):
        b = a
    usual = display.unit(kind).decimals
    for places in range(usual, 16):
        first, second = display.number(a, kind, places), display.number(b, kind, places)
        if first != second or a == b:
            break
    symbol = display.symbol(kind)
    return f"{first} {symbol}".strip(), f"{second} {symbol}".strip()
