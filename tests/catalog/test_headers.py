"""The header of a file: which column is which, and in what unit."""

from __future__ import annotations

import pytest

from tests.catalog.samples import BAR, GAL, INCH, LITRE, PSI, ROW, make, read, read_rows, row, told
from workbench.catalog.headers import OUR_HEADER, read_header
from workbench.units import UnitError, unit_of
from workbench.units.kinds import LENGTH, MASS, PRESSURE, VOLUME


def fields(*header: str) -> list[str]:
    return [column.field for column in read_header(header, 1, 1)[0]]


def renamed(**names: str) -> dict[str, str]:
    return {names.get(name, name): cell for name, cell in ROW.items()}


def rename_in_header(old: str, new: str) -> list[tuple[str, str]]:
    """What is wrong with a header that says ``new`` instead of ``old``: column and text."""
    header = [new if name == old else name for name in ROW]
    _columns, problems = read_header(header, 1, 1)
    return [(p.column, f"{p.rule} {p.suggestion}") for p in problems]


def test_our_own_header_is_understood() -> None:
    columns, problems = read_header(tuple(OUR_HEADER.values()), 1, 1)
    assert problems == ()
    assert [column.field for column in columns] == list(OUR_HEADER)


@pytest.mark.parametrize(
    "header",
    [
        *("total_volume_gal", "Total Volume (gal)", " TOTAL VOLUME [GAL] ", "total-volume, gal"),
        *("total volume US gal", "total_volume_gallons", "Total\nvolume\t(gal.)"),
    ],
)
def test_case_blanks_and_brackets_do_not_matter(header: str) -> None:
    (column,), _problems = read_header([header], 1, 1)
    assert column.field == "total_volume"
    assert column.unit is not None
    assert column.unit.factor == GAL


@pytest.mark.parametrize(
    ("header", "cell", "field", "si"),
    [
        ("total_volume_l", "75", "total_volume", 75 * LITRE),
        ("total_volume_litres", "75", "total_volume", 75 * LITRE),
        ("total_volume_m3", "0.075", "total_volume", 0.075),
        ("total_volume_m³", "0.075", "total_volume", 0.075),
        ("total_volume_imp_gal", "16", "total_volume", 16 * 4.54609e-3),
        ("diameter_mm", "400", "diameter", 0.4),
        ("diameter_cm", "40", "diameter", 0.4),
        ("height_m", "0.7", "height", 0.7),
        ("height_ft", "2", "height", 24 * INCH),
        ("max_working_pressure_kpa", "700", "max_working_pressure", 7e5),
        ("max_working_pressure_bar", "7", "max_working_pressure", 7 * BAR),
        ("Max working pressure (bar(g))", "7", "max_working_pressure", 7 * BAR),
        ("factory_precharge_psig", "30", "factory_precharge", 30 * PSI),
        ("max_working_pressure_MPa", "0.7", "max_working_pressure", 7e5),
    ],
)
def test_the_unit_of_a_column_stands_in_its_header(
    header: str, cell: str, field: str, si: float
) -> None:
    old = OUR_HEADER[field]
    catalog = read_rows({(header if k == old else k): v for k, v in row(**{old: cell}).items()},
                        header=[header if k == old else k for k in ROW])  # fmt: skip
    assert catalog.all_problems == ()
    assert getattr(catalog.tanks[0], field) == pytest.approx(si, rel=1e-15)


def test_a_weight_may_be_in_pounds_or_kilograms() -> None:
    (pounds,) = read_rows(row(empty_weight_lb="100")).tanks
    (kilograms,) = read_rows(row(empty_weight_kg="45.359237")).tanks
    assert pounds.empty_weight == pytest.approx(kilograms.empty_weight, rel=1e-15)


def test_every_unit_of_every_kind_can_stand_in_a_header() -> None:
    for stem, kind in (
        ("total_volume", VOLUME),
        ("height", LENGTH),
        ("factory_precharge", PRESSURE),
        ("empty_weight", MASS),
    ):
        for symbol, unit in kind.units.items():
            (column, *_), _problems = read_header([f"{stem}_{symbol}"], 1, 1)
            assert column.unit == unit


def test_the_currency_of_the_prices_stands_in_their_header() -> None:
    catalog = read_rows(row(**{"Price (CAD)": "500"}))
    assert catalog.currency == "CAD"
    assert catalog.tanks[0].currency == "CAD"


def test_without_prices_the_currency_is_that_of_a_new_tank() -> None:
    assert read_rows(row()).currency == make().currency


@pytest.mark.parametrize(
    ("old", "new", "expected"),
    [
        (
            "total_volume_gal",
            "total_volume",
            "does not name its unit. Write total_volume_gal or total_volume_l.",
        ),
        (
            "factory_precharge_psi",
            "factory_precharge_psia",
            "“psia” is absolute pressure; the gauge reading is wanted. Subtract",
        ),
        ("diameter_in", "diameter_smoot", "“smoot” is not a"),
        ("diameter_in", "diameter_psi", "“psi” is not a unit of length. Use one of: in, mm,"),
    ],
)
def test_a_header_without_a_unit_of_its_kind_is_told(old: str, new: str, expected: str) -> None:
    ((column, text),) = rename_in_header(old, new)
    assert column == new
    assert text.startswith(expected)


@pytest.mark.parametrize("header", ["price", "price_us_dollars", "price_$"])
def test_a_price_without_a_currency_is_told(header: str) -> None:
    catalog = read_rows(row(**{header: "500"}))
    assert [(p.column, p.rule) for p in catalog.problems] == [
        (header, "does not name its currency.")
    ]
    assert catalog.tanks == ()


def test_a_missing_column_is_told_with_the_one_that_may_be_meant() -> None:
    ((column, text),) = rename_in_header("max_working_pressure_psi", "Max wrking presure (psi)")
    assert column == "max_working_pressure_psi"
    assert text == (
        "the column is missing. Is “Max wrking presure (psi)” meant? "
        "Then name it max_working_pressure_psi."
    )


def test_every_missing_column_is_told_at_once() -> None:
    _columns, problems = read_header(["id", "total_volume_gal"], 1, 1)
    assert [p.column for p in problems] == [n for n in ROW if n not in {"id", "total_volume_gal"}]
    assert all(p.rule == "the column is missing." for p in problems)


@pytest.mark.parametrize("twice", ["total_volume_l", "TOTAL VOLUME (GAL)"])
def test_a_column_that_stands_twice_is_told(twice: str) -> None:
    catalog = read_rows(row(**{twice: "20"}))
    assert told(catalog) == [(1, twice, "")]
    assert "“total_volume_gal”" in catalog.problems[0].rule
    assert catalog.tanks == ()


def test_columns_of_others_are_kept_and_noted_and_not_used() -> None:
    catalog = read_rows(row(shelf="B7", diameter_of_box="anything"))
    assert catalog.all_problems == ()
    assert catalog.tanks == (make(),)
    assert catalog.notes == (
        "The column “shelf” is kept, but not used.",
        "The column “diameter_of_box” is kept, but not used.",
    )
    assert catalog.rows[0].cells[-2:] == ("B7", "anything")


def test_nameless_columns_are_no_problem() -> None:
    catalog = read("id,name,kind,total_volume_gal,diameter_in,height_in,max_working_pressure_psi,"
                   "factory_precharge_psi,,\n" + ",".join(ROW.values()) + ",,\n")  # fmt: skip
    assert (catalog.tanks, catalog.all_problems) == ((make(),), ())


@pytest.mark.parametrize(
    "text",
    ["a,Alder,bladder vertical,20,16,28,100,30\n", "hello\n", "<html>\n", "1\n2\n", "%PDF-1.4\n"],
)
def test_a_file_without_a_header_is_told_once(text: str) -> None:
    catalog = read(text)
    (problem,) = catalog.problems
    assert problem.rule == "the first row names no column of a tank catalogue."
    assert "total_volume_gal" in problem.suggestion
    assert catalog.tanks == ()


def test_a_header_of_too_many_cells_is_told() -> None:
    catalog = read("id," * 600 + "\na\n")
    assert [p.rule for p in catalog.all_problems] == ["the first row has 601 cells."]


def test_with_a_wrong_header_cells_are_checked_all_the_same() -> None:
    catalog = read_rows(row(total_volume_gal="4O", height_in=""), row(),
                        header=[n for n in ROW if n != "name"])  # fmt: skip
    assert told(catalog)[:2] == [(1, "name", ""), (2, "total_volume_gal", "4O")]
    assert catalog.tanks == ()


def test_units_are_read_by_the_same_rules_as_in_fields() -> None:
    with pytest.raises(UnitError) as caught:
        unit_of("psia", PRESSURE)
    _columns, problems = read_header(["factory_precharge_psia"], 1, 1)
    assert problems[0].rule == str(caught.value)
    assert problems[0].suggestion == caught.value.remedy
