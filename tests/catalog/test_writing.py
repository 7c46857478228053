"""A tank is put into a file: it reads back the same, and nothing else changes."""

from __future__ import annotations

import codecs
from collections.abc import Sequence
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from tests.catalog.samples import BAR, GAL, INCH, file_text, make, read, row, tanks
from tests.faults.harness import faulty_steps, killed
from workbench.catalog import writing
from workbench.catalog.headers import OUR_HEADER
from workbench.catalog.problems import CatalogChangedError, CatalogError
from workbench.catalog.table import read_catalog
from workbench.catalog.tank import Tank
from workbench.catalog.writing import new_catalog_bytes, put_tank
from workbench.safe_file import SaveError, digest

METRIC = {
    "total_volume": "total_volume_l",
    "acceptance": "acceptance_l",
    "diameter": "diameter_mm",
    "height": "Height (cm)",
    "max_working_pressure": "max_working_pressure_bar",
    "factory_precharge": "factory_precharge_kpa",
    "highest_precharge": "highest_precharge_bar",
    "empty_weight": "empty_weight_kg",
    "price": "price_eur",
}


def header(
    names: dict[str, str], order: Sequence[str] = tuple(OUR_HEADER), extra: str = ""
) -> list[str]:
    found = [names.get(field, OUR_HEADER[field]) for field in order]
    return [*found[:3], extra, *found[3:]] if extra else found


def lines_of(data: bytes) -> list[bytes]:
    return data.splitlines(keepends=True)


def test_a_new_catalogue_has_our_header_and_no_tank() -> None:
    catalog = read(new_catalog_bytes())
    assert (catalog.tanks, catalog.all_problems, catalog.notes) == ((), (), ())
    assert [column.header for column in catalog.header] == list(OUR_HEADER.values())


@settings(max_examples=40)
@given(st.lists(tanks(), max_size=3, unique_by=lambda tank: tank.id))
def test_a_new_catalogue_of_tanks_reads_back_the_same(several: list[Tank]) -> None:
    catalog = read(new_catalog_bytes(several))
    assert catalog.all_problems == ()
    assert list(catalog.tanks) == several


DIALECTS = [
    (separator, newline, bom, mark)
    for separator, mark in ((",", "."), (",", ","), (";", ","), (";", "."), ("\t", ","))
    for newline in ("\n", "\r\n")
    for bom in (b"", codecs.BOM_UTF8)
]
US_CELLS = {**row(id=" other "), "height_in": "28{}5", "price_usd": "549{}50", "shelf": '"B""7"'}
METRIC_CELLS = {
    "id": " other ",
    "name": "Other",
    "kind": "bladder vertical",
    "total_volume_l": "76",
    "diameter_mm": "406",
    "Height (cm)": "71{}5",
    "max_working_pressure_bar": "7",
    "factory_precharge_kpa": "200",
    "price_eur": "549{}50",
    "shelf": '"B""7"',
}


@pytest.mark.parametrize(("separator", "newline", "bom", "mark"), DIALECTS)
@pytest.mark.parametrize(
    ("names", "cells"), [({}, US_CELLS), (METRIC, METRIC_CELLS)], ids=["us", "metric"]
)
@settings(max_examples=8)
@given(data=st.data())
def test_a_tank_reads_back_the_same_and_every_other_byte_stays(
    separator: str,
    newline: str,
    bom: bytes,
    mark: str,
    names: dict[str, str],
    cells: dict[str, str],
    data: Any,
) -> None:
    order = data.draw(st.permutations(list(OUR_HEADER)))
    quoted = {k: f'"{v}"' if separator == mark and "{}" in v else v for k, v in cells.items()}
    other = {k: v.format(mark) for k, v in quoted.items()}
    text = file_text(
        other, header=header(names, order, "shelf"), separator=separator, newline=newline
    )
    catalog = read(bom + text.encode() + newline.encode())
    assert catalog.all_problems == ()
    tank = data.draw(tanks(currency=catalog.currency).filter(lambda tank: tank.id != "other"))

    added = put_tank(catalog, tank)
    after = read(added)
    assert after.tanks == (*catalog.tanks, tank)
    assert added.startswith(bom + text.encode())
    assert added.endswith(newline.encode() * 2)
    assert (b"\r\n" in added) == (newline == "\r\n") or "\n" in tank.notes + tank.source

    update = {"name": "=changed", "total_volume": tank.total_volume * 0.99, "acceptance": None}
    changed = tank.model_copy(update=update)
    replaced = put_tank(after, changed)
    assert replaced.startswith(bom + text.encode())
    assert read(replaced).tanks == (*catalog.tanks, changed)
    assert put_tank(read(replaced), changed) == replaced


def test_an_untouched_row_keeps_its_bytes_however_odd() -> None:
    odd = b'" a ",Al""der, BLADDER vertical ,+20.00,"16",028,1e2,,\r\n'
    first, sound = lines_of(file_text(row(id="b"), newline="\r\n").encode())
    catalog = read(first + odd + sound + b"\r\n,,,\r\n")
    for tank in (make(id="b", notes=""), make(id="c")):
        data = put_tank(catalog, tank)
        assert lines_of(data)[:2] == [first, odd]
        assert data.endswith(b"\r\n,,,\r\n")


def test_cells_that_say_the_same_stay_as_they_were_typed() -> None:
    catalog = read(file_text(row(total_volume_gal="20.000", kind="Vertical Bladder",
                                 height_in="28", price_usd="500.00", shelf="B7")))  # fmt: skip
    changed = catalog.tanks[0].model_copy(update={"height": 29 * INCH})
    assert put_tank(catalog, changed).decode().splitlines()[1] == (
        "a,Alder,Vertical Bladder,20.000,16,29,100,30,500.00,B7"
    )


def test_a_tank_already_there_changes_no_byte() -> None:
    data = file_text(row(), row(id="b", height_in="28.50")).encode()
    catalog = read(data)
    for tank in catalog.tanks:
        assert put_tank(catalog, tank) == data


@pytest.mark.parametrize("end", ["", "\n", "\n\n\n", "\n,,\n"])
def test_a_new_row_stands_before_blank_lines_and_after_a_last_line_without_ending(
    end: str,
) -> None:
    text = file_text(row()).rstrip("\n") + end
    data = put_tank(read(text), make(id="b")).decode()
    assert data == text.rstrip("\n,") + "\nb,Alder,bladder vertical,20,16,28,100,30" + end


def test_a_row_is_put_below_a_header_that_is_all_there_is() -> None:
    text = file_text(row()).splitlines()[0]
    assert read(put_tank(read(text), make())).tanks == (make(),)


def test_a_bad_row_is_mended_by_its_id() -> None:
    catalog = read(file_text(row(height_in="x"), row(id="b")))
    data = put_tank(catalog, make())
    assert data.decode() == file_text(row(), row(id="b"))


def test_a_bad_id_is_mended_by_its_row() -> None:
    catalog = read(file_text(row(), row(height_in="30"), row(id="b")))
    data = put_tank(catalog, make(id="c", height=30 * INCH), row=3)
    assert [tank.id for tank in read(data).tanks] == ["a", "c", "b"]


@pytest.mark.parametrize(
    ("text", "tank", "row_number", "message"),
    [
        (file_text(row(), row()), make(), None, "“a” stands in rows 2, 3"),
        (file_text(row(), row(id="b")), make(), 3, "“a” is already that of row 2"),
        (file_text(row()), make(), 9, "no row 9"),
        (file_text(row()), make(acceptance=18 * GAL), None, "has no column for"),
        (file_text(row()), make(in_stock=False), None, "has no column for “False”"),
        (file_text(row(price_eur="")), make(), None, "prices are in EUR, the tank's in USD"),
        (file_text(row()).replace("_gal", ""), make(), None, "must be mended before"),
        (file_text(row(name='"x'), row(id="b")), make(), None, "must be mended before"),
        ("", make(), None, "must be mended before"),
        (
            file_text(row()),
            make().model_copy(update={"total_volume": 1.0}),
            None,
            "Total volume: is more than a shell",
        ),
    ],
)
def test_what_cannot_be_put_in_is_refused_with_a_remedy(
    text: str, tank: Tank, row_number: int | None, message: str
) -> None:
    with pytest.raises(CatalogError, match=message) as caught:
        put_tank(read(text), tank, row=row_number)
    assert caught.value.remedy


def test_no_other_row_is_read_otherwise_when_the_row_that_showed_the_decimal_mark_goes() -> None:
    text = file_text(row(height_in="28,5"), row(id="b", price_usd="1.500"), separator=";")
    catalog = read(text)
    data = put_tank(catalog, make(height=29 * INCH))
    assert read(data).tanks == (make(height=29 * INCH), catalog.by_id["b"])
    assert "20,0" in data.decode()


def test_no_row_that_was_ambiguous_gets_a_meaning_by_another_s_decimal_mark() -> None:
    catalog = read(file_text(row(price_usd="1,500"), row(id="b"), separator=";"))
    with pytest.raises(CatalogError, match=r"row 2 of “tanks\.csv” would be read in another way"):
        put_tank(catalog, make(id="c", height=28.5 * INCH))
    assert len(read(put_tank(catalog, make(id="c"))).rows) == 3


@pytest.mark.parametrize(
    ("part", "spoilt"),
    [("write_cell", lambda *_args, **_more: "7"), ("join", lambda *_args: "a\nb\nc")],
)
def test_a_row_that_would_not_read_back_the_same_is_refused(
    part: str, spoilt: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    catalog = read(file_text(row(), row(id="b")))
    monkeypatch.setattr(writing, part, spoilt)
    with pytest.raises(CatalogError, match="would be read in another way"):
        put_tank(catalog, make(id="c"))


def test_a_value_from_another_unit_is_written_with_all_its_digits() -> None:
    tank = make(max_working_pressure=7 * BAR)
    data = put_tank(read(file_text(row())), tank)
    assert read(data).tanks == (tank,)
    assert b"101.52641641114646" in data


@pytest.mark.parametrize(
    ("name", "cell"),
    [
        ("=1+1", "'=1+1"),
        ("+1", "'+1"),
        ("@cmd", "'@cmd"),
        ("-1+2", "'-1+2"),
        ("-a", "'-a"),
        ("'=1", "''=1"),
        ("-5", "-5"),
        ("-5,5", '"-5,5"'),
        ("'a", "'a"),
        ("a=1", "a=1"),
    ],
)
def test_a_text_that_looks_like_a_formula_is_defused(name: str, cell: str) -> None:
    tank = make(name=name)
    data = put_tank(read(file_text(row(id="b"))), tank)
    assert data.decode().splitlines()[-1].startswith(f"a,{cell},")
    assert read(data).by_id["a"] == tank


@given(st.text(st.sampled_from("'=+-@0123.,ab"), min_size=1, max_size=8))
@example("''-")
@example("-1\n")
def test_defusing_loses_no_text(name: str) -> None:
    tank = make(notes=name.strip())
    assert read(new_catalog_bytes([tank])).tanks == (tank,)


def test_prices_keep_their_cents() -> None:
    data = new_catalog_bytes([make(price=Decimal("549.50")), make(id="b", price=Decimal("1E+3"))])
    assert [tank.price for tank in read(data).tanks] == [Decimal("549.50"), Decimal(1000)]
    assert b",549.50," in data
    assert b",1000," in data


def test_new_catalogues_are_priced_in_dollars_only() -> None:
    with pytest.raises(CatalogError, match="USD, the tank's in CAD"):
        new_catalog_bytes([make(currency="CAD")])


def test_saving_keeps_the_version_before(tmp_path: Path) -> None:
    path = tmp_path / "tanks.csv"
    old = file_text(row()).encode()
    path.write_bytes(old)
    catalog = read_catalog(path)
    new = put_tank(catalog, make(id="b"))
    writing.save(path, new, catalog.digest)
    assert path.read_bytes() == new
    assert (tmp_path / "tanks.csv.bak").read_bytes() == old
    writing.save(path, old, digest(new))
    assert path.read_bytes() == old


def test_a_new_file_is_saved_where_there_is_none(tmp_path: Path) -> None:
    path = tmp_path / "tanks.csv"
    writing.save(path, new_catalog_bytes(), "")
    assert read_catalog(path).digest == digest(new_catalog_bytes())
    assert [file.name for file in tmp_path.iterdir()] == ["tanks.csv"]
    with pytest.raises(CatalogChangedError, match="There is a file"):
        writing.save(path, b"", "")


@pytest.mark.parametrize("now", [b"something else", None])
def test_a_file_that_someone_else_changed_is_not_written_over(
    tmp_path: Path, now: bytes | None
) -> None:
    path = tmp_path / "tanks.csv"
    path.write_bytes(file_text(row()).encode())
    catalog = read_catalog(path)
    path.unlink()
    if now is not None:
        path.write_bytes(now)
    with pytest.raises(CatalogChangedError, match=r"“tanks\.csv” has been") as caught:
        writing.save(path, b"new", catalog.digest)
    assert "gain" in caught.value.remedy
    assert [file.read_bytes() for file in tmp_path.iterdir()] == ([] if now is None else [now])


def test_a_folder_in_the_file_s_place_is_told(tmp_path: Path) -> None:
    with pytest.raises(CatalogError, match=f"“{tmp_path.name}” could not be read"):
        writing.save(tmp_path, b"new", "")


OLD, NEW = file_text(row()).encode(), file_text(row(), row(id="b")).encode()


def save(path: Path, data: bytes) -> None:
    writing.save(path, data, digest(OLD) if data == NEW else "")


def test_a_kill_while_saving_leaves_the_old_or_the_new_catalogue(tmp_path: Path) -> None:
    killed(save, OLD, NEW, tmp_path / "tanks.csv", times=40)


def test_a_fault_at_any_step_of_saving_leaves_the_old_catalogue(tmp_path: Path) -> None:
    faulty_steps(save, OLD, NEW, tmp_path / "tanks.csv", (SaveError, CatalogError))
