"""The tanks of a catalogue as arrays."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

import numpy as np
import pytest

from tests.catalog.samples import GAL, INCH, LB, PSI, make, read_rows, row
from workbench.catalog.columns import TankColumns
from workbench.catalog.tank import TankKind


def arrays(n: int, **changes: Any) -> dict[str, Any]:
    floats = ("volume", "acceptance", "diameter", "height", "max_working", "factory_precharge",
              "highest_precharge", "weight", "price")  # fmt: skip
    whole: dict[str, Any] = {name: np.arange(n, dtype=float) for name in floats}
    whole |= {name: np.zeros(n, dtype=np.int8) for name in ("potable", "in_stock")}
    whole |= {name: np.zeros(n, dtype=bool) for name in ("horizontal", "in_ground")}
    return whole | changes


def test_tanks_are_sorted_by_name_whatever_its_case_and_then_by_id() -> None:
    tanks = [make(id=i, name=n) for i, n in (("3", "b"), ("2", "a"), ("1", "B"), ("0", "C"))]
    for order in (tanks, tanks[::-1]):
        columns = TankColumns.from_tanks(order)
        assert columns.ids == ("2", "1", "3", "0")
        assert columns.names == ("a", "B", "b", "C")
        assert len(columns) == 4


def test_every_value_of_a_tank_stands_in_its_column() -> None:
    stated = make(
        id="stated",
        name="A",
        kind=TankKind.DIAPHRAGM_HORIZONTAL,
        acceptance=9 * GAL,
        highest_precharge=60 * PSI,
        empty_weight=40 * LB,
        potable_listed=True,
        price=Decimal("549.50"),
        in_stock=False,
    )
    columns = TankColumns.from_tanks([make(name="B", kind=TankKind.BLADDER_IN_GROUND), stated])
    assert columns.volume == pytest.approx([20 * GAL] * 2)
    assert columns.acceptance == pytest.approx([9 * GAL, np.inf])
    assert columns.diameter == pytest.approx([16 * INCH] * 2)
    assert columns.height == pytest.approx([28 * INCH] * 2)
    assert columns.max_working == pytest.approx([100 * PSI] * 2)
    assert columns.factory_precharge == pytest.approx([30 * PSI] * 2)
    assert columns.highest_precharge == pytest.approx([60 * PSI, np.nan], nan_ok=True)
    assert columns.weight == pytest.approx([40 * LB, np.nan], nan_ok=True)
    assert columns.price == pytest.approx([549.5, np.nan], nan_ok=True)
    assert columns.potable.tolist() == [1, -1]
    assert columns.in_stock.tolist() == [0, -1]
    assert columns.horizontal.tolist() == [True, False]
    assert columns.in_ground.tolist() == [False, True]


def test_types_are_the_same_even_without_a_tank() -> None:
    for columns in (TankColumns.from_tanks([]), TankColumns.from_tanks([make()])):
        assert columns.volume.dtype == columns.price.dtype == np.float64
        assert columns.potable.dtype == columns.in_stock.dtype == np.int8
        assert columns.horizontal.dtype == columns.in_ground.dtype == np.bool_


def test_the_arrays_cannot_be_written_to() -> None:
    columns = TankColumns.from_tanks([make()])
    with pytest.raises(ValueError, match="read-only"):
        columns.volume[0] = 1.0


def test_a_catalogue_makes_its_arrays_once_and_of_sound_tanks_only() -> None:
    catalog = read_rows(row(), row(id="b", height_in="x"))
    assert catalog.columns.ids == ("a",)
    assert catalog.columns is catalog.columns


def test_columns_can_be_made_of_arrays() -> None:
    n = 100_000
    ids = [str(i) for i in range(n)]
    columns = TankColumns.from_arrays(ids, [f"T{i % 7}" for i in range(n)], **arrays(n))
    assert len(columns) == n
    assert columns.names[:2] == ("T0", "T0")
    assert [float(i) for i in columns.ids] == columns.volume.tolist()


def test_columns_of_arrays_do_not_follow_later_changes_of_them() -> None:
    volume = np.array([1.0])
    columns = TankColumns.from_arrays(["a"], ["A"], **arrays(1, volume=volume))
    volume[0] = 2.0
    assert columns.volume.tolist() == [1.0]


@pytest.mark.parametrize(
    ("changes", "message"),
    [
        ({"volume": np.zeros(3)}, r"volume has the shape \(3,\)"),
        ({"colour": np.zeros(2)}, r"missing or unknown: \['colour'\]"),
    ],
)
def test_arrays_that_do_not_fit_together_are_refused(changes: Any, message: str) -> None:
    with pytest.raises(ValueError, match=message):
        TankColumns.from_arrays(["a", "b"], ["A", "B"], **arrays(2, **changes))
