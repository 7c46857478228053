"""Text with a unit becomes a number here, and a number becomes text with a unit; nowhere else.

``kinds`` lists the quantities of the trade and their units; ``reading`` turns what a person typed
into a :class:`Quantity`; ``display`` turns SI values into what a person reads.
Inside the program every value is a plain SI float (Pa, m³, m³/s, s, m, kg, K).
"""

from workbench.units.display import Display, System, distinct
from workbench.units.kinds import (
    ALTITUDE,
    FLOW,
    LENGTH,
    MASS,
    NUMBER,
    PRESSURE,
    STARTS_PER_HOUR,
    TEMPERATURE,
    TIME,
    VOLUME,
    Kind,
    Unit,
)
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
    "FLOW",
    "LENGTH",
    "MASS",
    "NUMBER",
    "PRESSURE",
    "STARTS_PER_HOUR",
    "TEMPERATURE",
    "TIME",
    "VOLUME",
    "Band",
    "Bands",
    "Display",
    "Kind",
    "Quantity",
    "System",
    "Unit",
    "UnitError",
    "Unread",
    "distinct",
    "parse",
    "parse_bands",
    "parse_number",
    "to_si",
    "unit_of",
]
