"""Dates in cells, also as spreadsheets rewrite them."""

from __future__ import annotations

import datetime

import pytest

from workbench.catalog.dates import order_in, read_date
from workbench.units import UnitError

MARCH_4 = datetime.date(2026, 3, 4)


@pytest.mark.parametrize(
    ("texts", "order"),
    [
        ([], ""),
        (["2026-03-14", "14.03.2026"], "day"),
        (["3/14/2026"], "month"),
        (["14/3/2026"], "day"),
        (["3/4/2026"], ""),
        (["3/14/2026", "14/3/2026"], ""),
        (["2026-03-14", "soon", "99/99/2026"], ""),
    ],
)
def test_the_dates_of_a_file_show_their_order(texts: list[str], order: str) -> None:
    assert order_in(texts) == order


@pytest.mark.parametrize(
    ("text", "order"),
    [
        ("2026-03-04", ""),
        ("4.3.2026", ""),
        ("04.03.2026", "month"),
        ("3/4/2026", "month"),
        ("4/3/2026", "day"),
        ("03-04-2026", "month"),
    ],
)
def test_a_date_is_read_in_the_file_s_order(text: str, order: str) -> None:
    assert read_date(text, order) == MARCH_4


def test_a_date_that_only_one_order_allows_needs_no_other() -> None:
    assert read_date("3/14/2026", "day") == datetime.date(2026, 3, 14)


def test_a_date_with_two_readings_is_refused_with_both() -> None:
    with pytest.raises(UnitError, match="could mean 2026-04-03 or 2026-03-04") as caught:
        read_date("3/4/2026")
    assert caught.value.remedy == "Write 2026-04-03, or 2026-03-04."


def test_a_date_whose_two_readings_are_the_same_day_is_read() -> None:
    assert read_date("3/3/2026") == datetime.date(2026, 3, 3)


@pytest.mark.parametrize(
    "text", ["soon", "2026-02-30", "2026-3-4", "20260304", "3/4/26", "2026-W10-3", "0/0/2026", "٣"]
)
def test_what_is_no_day_is_refused(text: str) -> None:
    with pytest.raises(UnitError, match="no day of the calendar"):
        read_date(text)
