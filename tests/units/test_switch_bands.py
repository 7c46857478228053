"""A list of switch bands as it is typed."""

from __future__ import annotations

import pytest

from workbench.units import UnitError, parse_bands

PSI = 6894.757293168361


@pytest.mark.parametrize(
    ("text", "mark", "kept"),
    [
        ("20/40, 30/50, 40/60, 50/70 psi", ".", "20/40, 30/50, 40/60, 50/70 psi"),
        ("30/50", ".", "30/50 psi"),
        ("30/50 PSI", ".", "30/50 psi"),
        ("30 / 50 ; 40 / 60 psi", ".", "30/50, 40/60 psi"),
        ("20/40 30/50", ".", "20/40, 30/50 psi"),
        ("2/3,5; 3/4,5 bar", ",", "2/3.5, 3/4.5 bar"),
        ("2/3,5, 3/4,5 bar", ",", "2/3.5, 3/4.5 bar"),
        ("2.1/3.5, 2.8/4.2 bar", ".", "2.1/3.5, 2.8/4.2 bar"),
        ("0/20 psi", ".", "0/20 psi"),
        ("210/345 kPa", ".", "210/345 kPa"),
        ("0.2/0.35 MPa", ".", "0.2/0.35 MPa"),
        ("30/50, ", ".", "30/50 psi"),
        ("", ".", "psi"),
    ],
)
def test_a_list_is_read_in_the_ways_people_write_it(text: str, mark: str, kept: str) -> None:
    bands = parse_bands(text, mark)
    assert str(bands) == kept
    assert parse_bands(str(bands)) == bands


def test_the_bands_are_gauge_pressures_in_pascal() -> None:
    (band,) = parse_bands("30/50 psi").bands
    assert band.name == "30/50"
    assert [band.cut_in, band.cut_out] == pytest.approx([30 * PSI, 50 * PSI])
    (band,) = parse_bands("2/3,5 bar", ",").bands
    assert [band.cut_in, band.cut_out] == pytest.approx([2e5, 3.5e5])


@pytest.mark.parametrize(
    ("text", "named"),
    [
        ("20-40", "20-40"),
        ("30/50,40/60 psi", "30/50,40/60"),  # no space after the comma
        ("20//40", "20//40"),
        ("/40", "/40"),
        ("20/", "20/"),
        ("30/50, 40", "40"),
        ("20/40/60", "20/40/60"),
    ],
)
def test_what_is_no_band_is_named_and_the_way_to_write_it_shown(text: str, named: str) -> None:
    with pytest.raises(UnitError) as refused:
        parse_bands(text)
    assert f"“{named}” is not a switch band" in str(refused.value)
    assert "30/50, 40/60 psi" in refused.value.remedy


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("50/30 psi", "stop below where it starts"),
        ("30/30 psi", "stop below where it starts"),
        ("-5/20 psi", "stop below where it starts"),
        ("30/50 psia", "absolute pressure"),
        ("30/50 gal", "is not a unit of gauge pressure"),
        ("1,500/2,000 kPa", "could mean 1500 or 1.500"),
        ("low/high", "not a list of switch bands"),
        ("20/40 psi, 30/50 psi", "not a list of switch bands"),
    ],
)
def test_a_list_that_cannot_be_meant_is_refused(text: str, why: str) -> None:
    with pytest.raises(UnitError, match=why):
        parse_bands(text)


def test_a_long_list_is_refused_whole_and_not_cut() -> None:
    """A cut list would lose its last bands, and its unit with them."""
    long = "20/40, " * 40 + "30/50 kPa"
    with pytest.raises(UnitError, match="too long"):
        parse_bands(long)
    shorter = "20/40, " * 32 + "30/50 kPa"
    assert len(parse_bands(shorter).bands) == 33
    assert parse_bands(shorter).unit == "kPa"
