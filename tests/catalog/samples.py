"""Tanks and files for the tests of the catalogue."""

from __future__ import annotations

import datetime
from collections.abc import Mapping, Sequence
from decimal import Decimal
from math import pi
from pathlib import Path
from typing import Any

from hypothesis import strategies as st

from workbench.catalog.table import Catalog, catalog_of
from workbench.catalog.tank import Tank, TankKind
from workbench.units import LENGTH, MASS, PRESSURE, VOLUME

GAL = VOLUME.units["gal"].factor
LITRE = VOLUME.units["L"].factor
INCH = LENGTH.units["in"].factor
PSI = PRESSURE.units["psi"].factor
BAR = PRESSURE.units["bar"].factor
LB = MASS.units["lb"].factor

PATH = Path("tanks.csv")

HEADER = (
    "id",
    "name",
    "kind",
    "total_volume_gal",
    "diameter_in",
    "height_in",
    "max_working_pressure_psi",
    "factory_precharge_psi",
)
"""The columns that no catalogue can be without."""

ROW = {
    "id": "a",
    "name": "Alder",
    "kind": "bladder vertical",
    "total_volume_gal": "20",
    "diameter_in": "16",
    "height_in": "28",
    "max_working_pressure_psi": "100",
    "factory_precharge_psi": "30",
}
"""A sound row for them."""


def values(**changes: Any) -> dict[str, Any]:
    """The values of a sound tank of 20 gal, with changes."""
    return {
        "id": "a",
        "name": "Alder",
        "kind": TankKind.BLADDER_VERTICAL,
        "total_volume": 20 * GAL,
        "diameter": 16 * INCH,
        "height": 28 * INCH,
        "max_working_pressure": 100 * PSI,
        "factory_precharge": 30 * PSI,
    } | changes


def make(**changes: Any) -> Tank:
    """That tank."""
    return Tank(**values(**changes))


def row(**changes: str) -> dict[str, str]:
    """The cells of a sound row, with changes."""
    return ROW | changes


def file_text(
    *rows: Mapping[str, str], header: Sequence[str] = (), separator: str = ",", newline: str = "\n"
) -> str:
    """A file of these rows; its columns are those of the rows unless told. Nothing is quoted."""
    columns = header or tuple(dict.fromkeys(name for cells in (ROW, *rows) for name in cells))
    lines = [columns, *([cells.get(name, "") for name in columns] for cells in rows)]
    return "".join(separator.join(line) + newline for line in lines)


def read(text: str | bytes) -> Catalog:
    """The catalogue in a file of this text."""
    return catalog_of(text.encode() if isinstance(text, str) else text, PATH)


def read_rows(*rows: Mapping[str, str], **style: Any) -> Catalog:
    """The catalogue in a file of these rows."""
    return read(file_text(*rows, **style))


def told(catalog: Catalog) -> list[tuple[int, str, str]]:
    """Row, column and value of all that is wrong."""
    return [(p.row, p.column, p.value) for p in catalog.all_problems]


_letters = st.characters(exclude_categories=["Cc", "Cs"])
_tricky = st.sampled_from(list("=+-@'\",;\t 01.é水\u2028\x0b\x85"))


def _texts(longest: int, least: int = 0, more: st.SearchStrategy[str] | None = None) -> Any:
    def allowed(text: str) -> bool:
        controls = any((c < " " and c not in "\n\r\t") or "\x7f" <= c <= "\x9f" for c in text)
        one_line = more is not None or not set(text) & set("\n\r\t")
        return len(text) >= least and not controls and one_line

    letters = _letters | _tricky | (st.nothing() if more is None else more)
    return st.text(letters, max_size=longest).map(str.strip).filter(allowed)


_line_ends = st.sampled_from(["\n", "\r", "\t"])
_share = st.floats(0.3, 1.05)


@st.composite
def tanks(draw: st.DrawFn, currency: str = "USD") -> Tank:
    """Any sound tank, most of them with values that nobody would type."""
    diameter, height = draw(st.floats(0.05, 3.0)), draw(st.floats(0.05, 8.0))
    around = pi / 4 * diameter**2 * height
    volume = min(around * draw(_share), 5000 * GAL)
    if volume < around * 0.26:
        diameter *= 0.5
        volume = pi / 4 * diameter**2 * height
    most = draw(st.floats(1e4, 600 * PSI) | st.sampled_from([75 * PSI, 6 * BAR]))
    precharge = draw(st.floats(0, most) | st.just(most))
    optional = st.none() | st.booleans()
    return make(
        id=draw(_texts(20, 1)),
        name=draw(_texts(20, 1)),
        kind=draw(st.sampled_from(TankKind)),
        total_volume=volume,
        acceptance=draw(st.none() | st.floats(1e-6, volume) | st.just(volume)),
        diameter=diameter,
        height=height,
        connection=draw(st.sampled_from(["", "1", "1-1/4", "3/4 in"]) | _texts(8).filter(_no_date)),
        max_working_pressure=most,
        factory_precharge=precharge,
        highest_precharge=draw(st.none() | st.floats(precharge, most)),
        empty_weight=draw(st.none() | st.floats(1e-300, 9000)),
        potable_listed=draw(optional),
        price=draw(
            st.none()
            | st.decimals(Decimal("0.0001"), 1_000_000, places=4)
            | st.sampled_from([Decimal("1.500"), Decimal("1E+3"), Decimal("0.5")])
        ),
        currency=currency,
        in_stock=draw(optional),
        notes=draw(_texts(30, more=_line_ends)),
        source=draw(_texts(30, more=_line_ends)),
        date=draw(st.none() | st.dates(datetime.date(1000, 1, 1))),
    )


def _no_date(text: str) -> bool:
    return not any(c.isalpha() or c == "-" for c in text)
