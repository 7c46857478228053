"""Text with a unit becomes a number here, and a number becomes text with a unit; nowhere else.

``kinds`` lists the quantities of the trade and their units; ``reading`` turns what a person typed
into a :class:`Quantity`; ``display`` turns SI values into what a person reads.
Inside the program every value is a plain SI float (Pa, m³, m³/s, s, m, kg, K).
"""

from workbench.units.display import Display, System, distinct
from workbench.units.kinds import (
    ALTITUDE,
    DAILY,
    ENERGY,
    FLOW,
    HEAD,
    LENGTH,
    MASS,
    NUMBER,
    PERCENT,
    POWER,
    PRESSURE,
    SHORT_TIME,
    STARTS_PER_DAY,
    STARTS_PER_HOUR,
    TEMPERATURE,
    TEMPERATURE_STEP,
    TIME,
    VELOCITY,
    VOLUME,
    Kind,
    Unit,
)
from workbench.units.pairs import Pairs, parse_pairs
from workbench.units.reading import (
    Band,
    Bands,
    Quantity,
    UnitError,
    Unread,
    parse,
    parse_bands,
    parse_number,
    to_si,
    unit_of,
)

__all__ = [
    "ALTITUDE",
    "DAILY",
    "ENERGY",
    "FLOW",
    "HEAD",
    "LENGTH",
    "MASS",
    "NUMBER",
    "PERCENT",
    "POWER",
    "PRESSURE",
    "SHORT_TIME",
    "STARTS_PER_DAY",
    "STARTS_PER_HOUR",
    "TEMPERATURE",
    "TEMPERATURE_STEP",
    "TIME",
    "VELOCITY",
    "VOLUME",
    "Band",
    "Bands",
    "Display",
    "Kind",
    "Pairs",
    "Quantity",
    "System",
    "Unit",
    "UnitError",
    "Unread",
    "distinct",
    "parse",
    "parse_bands",
    "parse_number",
    "parse_pairs",
    "to_si",
    "unit_of",
]
