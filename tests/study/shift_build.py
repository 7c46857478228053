"""A tank over its precharge, for the tests of the page "Precharge": 44 gal on 30/50."""

from __future__ import annotations

from typing import Any

from tests.study.build import results
from workbench.study.shift.view import Shift, ShiftView, shift_view

BIG = {"live_volume": "44 gal"}


def view(**entries: Any) -> ShiftView:
    return shift_view(results(**(BIG | entries)))


def shift(**entries: Any) -> Shift:
    found = view(**entries).shift
    assert found is not None
    return found


def typed(charge: str, **entries: Any) -> Shift:
    return shift(precharge_rule="typed", precharge=charge, **entries)
