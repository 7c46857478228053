"""The quantities of the trade, and the exact size of every unit in which one is shown.

The factors follow from four definitions (NIST Special Publication 811, 2008 edition, appendix B):
the inch is 0.0254 m, the pound 0.45359237 kg, standard gravity 9.80665 m/s², and the US gallon
231 cubic inches; the Imperial gallon is 4.54609 L. The tests hold every one against pint.

Units that are typed but never shown ("0.35 MPa") are not listed: :mod:`workbench.units.reading`
asks pint for them, which costs a third of a second once and therefore never happens at start-up.
"""

from __future__ import annotations

from dataclasses import dataclass, field

_INCH = 0.0254
_FOOT = 12 * _INCH
_POUND = 0.45359237
_GALLON = 231 * _INCH**3
_IMPERIAL_GALLON = 4.54609e-3
_PSI = _POUND * 9.80665 / _INCH**2


@dataclass(frozen=True, slots=True)
class Unit:
    """One unit: ``si = (number + zero) * factor``; ``decimals`` is how finely results are shown."""

    symbol: str
    factor: float
    decimals: int = 1
    zero: float = 0.0


@dataclass(frozen=True)
class Kind:
    """A physical quantity: its units by symbol, which one each system shows, and other spellings.

    ``pint`` is the SI unit in pint's spelling; it tells pint which dimension is wanted. With
    ``is_open`` units that are not listed are looked for in pint; starts and temperatures are
    closed, since pint reads "rpm" as an angle and "delta_degF" as a temperature.
    ``us`` and ``metric`` are the symbols shown in US customary and in SI.
    """

    name: str
    pint: str
    us: str
    metric: str
    units: dict[str, Unit]
    spellings: dict[str, str] = field(default_factory=dict)
    is_open: bool = True

    def __hash__(self) -> int:
        """By its name: a table of units cannot be hashed, and findings carry kinds."""
        return hash(self.name)

    def find(self, text: str) -> Unit | None:
        """The listed unit that ``text`` spells (case does not matter), or None."""
        key = " ".join(text.split()).casefold()
        for symbol, unit in self.units.items():
            if symbol.casefold() == key:
                return unit
        spelled = self.spellings.get(key)
        return None if spelled is None else self.units[spelled]


def _kind(
    name: str,
    pint: str,
    us: str,
    metric: str,
    units: list[Unit],
    spellings: str = "",
    *,
    is_open: bool = True,
) -> Kind:
    """Build a kind; ``spellings`` reads "gal: gals, gallon, gallons; L: l, liter"."""
    table: dict[str, str] = {}
    for line in filter(None, spellings.split(";")):
        symbol, _, others = line.partition(":")
        for other in others.split(","):
            table[other.strip().casefold()] = symbol.strip()
    return Kind(name, pint, us, metric, {unit.symbol: unit for unit in units}, table, is_open)


PRESSURE = _kind(
    "gauge pressure",
    "pascal",
    "psi",
    "kPa",
    [Unit("psi", _PSI), Unit("kPa", 1e3, 0), Unit("bar", 1e5, 2)],
    "psi: psig, lb/in2, lb/in², lbs, pounds; kPa: kpag, kpa(g); bar: barg, bar(g), bars",
)
VOLUME = _kind(
    "volume",
    "meter ** 3",
    "gal",
    "L",
    [Unit("gal", _GALLON), Unit("L", 1e-3), Unit("m³", 1.0, 3), Unit("imp gal", _IMPERIAL_GALLON)],
    "gal: gals, gallon, gallons, us gal, us gallon, us gallons; L: liter, liters, litre, litres;"
    "m³: m3, m^3; imp gal: imperial gal, imperial gallon, imperial gallons, uk gal, igal",
)
FLOW = _kind(
    "flow",
    "meter ** 3 / second",
    "gpm",
    "L/min",
    [
        Unit("gpm", _GALLON / 60),
        Unit("L/min", 1e-3 / 60),
        Unit("L/s", 1e-3, 2),
        Unit("m³/h", 1 / 3600, 2),
        Unit("gph", _GALLON / 3600, 0),
        Unit("imp gpm", _IMPERIAL_GALLON / 60),
    ],
    "gpm: gal/min, gallons/min, us gpm, gallons per minute; L/min: lpm, l per min, litres/min,"
    "liters/min; L/s: lps; m³/h: m3/h, m^3/h, m3/hr; gph: gal/h, gal/hr; imp gpm: igpm,"
    "imp gal/min",
)
TIME = _kind(
    "time",
    "second",
    "min",
    "min",
    [Unit("min", 60.0, 2), Unit("s", 1.0, 0), Unit("h", 3600.0, 2)],
    "min: mins, minute, minutes; s: sec, secs, second, seconds; h: hr, hrs, hour, hours",
)
LENGTH = _kind(
    "length",
    "meter",
    "in",
    "mm",
    [
        Unit("in", _INCH),
        Unit("mm", 1e-3, 0),
        Unit("cm", 1e-2),
        Unit("ft", _FOOT),
        Unit("m", 1.0, 2),
    ],
    "in: inch, inches, \", ″; ft: foot, feet, ', ′; m: metre, metres, meter, meters",
)
ALTITUDE = _kind(
    "altitude",
    "meter",
    "ft",
    "m",
    [Unit("ft", _FOOT, 0), Unit("m", 1.0, 0)],
    "ft: foot, feet, ', ′; m: metre, metres, meter, meters",
)
TEMPERATURE = _kind(
    "temperature",
    "kelvin",
    "°F",
    "°C",
    [Unit("°F", 5 / 9, 0, 459.67), Unit("°C", 1.0, 1, 273.15), Unit("K", 1.0, 1)],
    "°F: f, degf, deg f, fahrenheit; °C: c, degc, deg c, celsius; K: kelvin",
    is_open=False,
)
MASS = _kind(
    "weight",
    "kilogram",
    "lb",
    "kg",
    [Unit("lb", _POUND, 0), Unit("kg", 1.0)],
    "lb: lbs, pound, pounds",
)
STARTS_PER_HOUR = _kind(
    "starts per hour",
    "1 / second",
    "/h",
    "/h",
    [Unit("/h", 1 / 3600)],
    "/h: per hour, per h, starts/h, 1/h, starts per hour, /hr",
    is_open=False,
)
STARTS_PER_DAY = _kind(
    "starts per day",
    "1 / second",
    "/d",
    "/d",
    [Unit("/d", 1 / 86400)],
    "/d: per day, per d, starts/d, 1/d, starts per day, /day",
    is_open=False,
)
DAILY = _kind(
    "volume per day",
    "meter ** 3 / second",
    "gal/d",
    "L/d",
    [
        Unit("gal/d", _GALLON / 86400, 0),
        Unit("L/d", 1e-3 / 86400, 0),
        Unit("m³/d", 1 / 86400, 2),
        Unit("imp gal/d", _IMPERIAL_GALLON / 86400, 0),
    ],
    "gal/d: gpd, gal/day, gallons/day, gallons per day, us gpd; L/d: l/day, lpd, litres/day,"
    "liters/day; m³/d: m3/d, m^3/d, m3/day; imp gal/d: imp gpd, igpd, imp gal/day",
)
HEAD = _kind(
    "head or depth",
    "meter",
    "ft",
    "m",
    [Unit("ft", _FOOT), Unit("m", 1.0)],
    "ft: foot, feet, ', ′; m: metre, metres, meter, meters",
)
VELOCITY = _kind(
    "velocity",
    "meter / second",
    "ft/s",
    "m/s",
    [Unit("ft/s", _FOOT), Unit("m/s", 1.0, 2)],
    "ft/s: fps, feet per second; m/s: metres per second, meters per second",
)
SHORT_TIME = _kind(
    "time",
    "second",
    "s",
    "s",
    [Unit("s", 1.0, 0), Unit("min", 60.0, 2), Unit("h", 3600.0, 2)],
    "s: sec, secs, second, seconds; min: mins, minute, minutes; h: hr, hrs, hour, hours",
)
POWER = _kind(
    "power",
    "watt",
    "hp",
    "kW",
    [Unit("hp", 550 * _FOOT * _POUND * 9.80665, 2), Unit("kW", 1e3, 2), Unit("W", 1.0, 0)],
    "hp: horsepower; kW: kilowatt, kilowatts; W: watt, watts",
)
ENERGY = _kind(
    "energy",
    "joule",
    "kWh",
    "kWh",
    [Unit("kWh", 3.6e6, 2)],
    "kWh: kilowatt hours, kilowatthours",
)
PERCENT = _kind(
    "share",
    "dimensionless",
    "%",
    "%",
    [Unit("%", 0.01, 0)],
    "%: percent, per cent, pct",
    is_open=False,
)
TEMPERATURE_STEP = _kind(
    "difference of temperature",
    "kelvin",
    "°F",
    "°C",
    [Unit("°F", 5 / 9, 0), Unit("°C", 1.0, 1), Unit("K", 1.0, 1)],
    "°F: f, degf, deg f, fahrenheit; °C: c, degc, deg c, celsius; K: kelvin",
    is_open=False,
)
MONEY = _kind("amount of money", "dimensionless", "", "", [Unit("", 1.0, 2)], is_open=False)
NUMBER = _kind("plain number", "dimensionless", "", "", [Unit("", 1.0, 2)], is_open=False)
KINDS = (
    PRESSURE,
    VOLUME,
    FLOW,
    TIME,
    LENGTH,
    ALTITUDE,
    TEMPERATURE,
    MASS,
    STARTS_PER_HOUR,
    STARTS_PER_DAY,
    DAILY,
    HEAD,
    VELOCITY,
    SHORT_TIME,
    POWER,
    ENERGY,
    PERCENT,
    TEMPERATURE_STEP,
    MONEY,
    NUMBER,
)
