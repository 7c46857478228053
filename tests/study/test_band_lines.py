"""The lines of the plot: the user's own band first, the usual ones after it."""

from __future__ import annotations

import pytest

from tests.study.build import PSI, SEA, results
from workbench.study.lines import BandLine


def lines(**entries: object) -> tuple[BandLine, ...]:
    return results(**entries).lines


def by_hand(precharge: float, cut_in: float, cut_out: float) -> float:
    pp, pin, pout = (p * PSI + SEA for p in (precharge, cut_in, cut_out))
    return pp / pin - pp / pout


def test_the_users_band_is_first_and_is_not_drawn_twice() -> None:
    drawn = lines()
    assert [(line.name, line.unit, line.is_users) for line in drawn] == [
        ("30/50", "psi", True),
        ("20/40", "psi", False),
        ("40/60", "psi", False),
        ("50/70", "psi", False),
    ]


def test_every_band_has_its_own_precharge_at_the_users_distance() -> None:
    for line in lines():
        cut_in, cut_out = (int(part) for part in line.name.split("/"))
        assert line.setting.precharge / PSI == pytest.approx(cut_in - 2)
        assert line.factor == pytest.approx(by_hand(cut_in - 2, cut_in, cut_out), rel=1e-12)


def test_a_typed_precharge_sets_the_distance_of_every_band() -> None:
    drawn = lines(precharge="20 psi", precharge_rule="typed")
    assert [line.setting.precharge / PSI for line in drawn] == pytest.approx([20, 10, 30, 40])


def test_a_band_too_low_for_the_distance_is_drawn_without_precharge_and_said_so() -> None:
    found = results(precharge="5 psi", precharge_rule="typed")  # 25 psi below cut-in
    low = next(line for line in found.lines if line.name == "20/40")
    assert low.setting.precharge == 0.0
    assert low.factor == pytest.approx(by_hand(0, 20, 40), rel=1e-12)
    (finding,) = [one for one in found.findings if one.code == "band_low"]
    assert "20/40" in finding.text
    assert "30/50" not in finding.text


def test_the_same_band_typed_in_another_unit_stands_beside_the_usual_one() -> None:
    drawn = lines(cut_in="2.1 bar", cut_out="3.5 bar")
    assert (drawn[0].name, drawn[0].unit) == ("2.1/3.5", "bar")
    assert len(drawn) == 5


def test_a_band_typed_in_two_units_is_named_in_full() -> None:
    drawn = lines(cut_in="2.1 bar", cut_out="50 psi")
    assert (drawn[0].name, drawn[0].unit) == ("2.1 bar / 50 psi", "")


def test_the_usual_bands_keep_their_own_unit() -> None:
    drawn = lines(bands="2/3,5; 3/4,5 bar")
    assert [(line.name, line.unit) for line in drawn] == [
        ("30/50", "psi"),
        ("2/3.5", "bar"),
        ("3/4.5", "bar"),
    ]


def test_without_a_readable_list_only_the_users_band_is_drawn() -> None:
    assert [line.is_users for line in lines(bands="?")] == [True]
    assert [line.is_users for line in lines(bands="")] == [True]


def test_without_a_setting_nothing_is_drawn() -> None:
    assert lines(cut_in="?") == ()
    assert lines(cut_in="50 psi", cut_out="30 psi") == ()


def test_a_higher_band_lies_lower() -> None:
    factors = [line.factor for line in sorted(lines(), key=lambda line: line.setting.cut_in)]
    assert factors == sorted(factors, reverse=True)
