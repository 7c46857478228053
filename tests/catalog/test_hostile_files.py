"""Whatever a file holds, reading it ends soon, with its problems or with our own error."""

from __future__ import annotations

import json
from contextlib import suppress
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.catalog.samples import file_text, make, read, row
from tests.faults.harness import fuzzed
from workbench.catalog.check import check_file
from workbench.catalog.headers import OUR_HEADER
from workbench.catalog.problems import CatalogError
from workbench.catalog.table import Catalog, read_catalog
from workbench.catalog.writing import new_catalog_bytes, put_tank

SAMPLE = file_text(
    row(acceptance_gal="18.5", notes='"a, ""b""\nc"', price_usd="549.50", date="2026-03-14"),
    row(id="b", height_in="28.25", in_stock="no", highest_precharge_psi="60"),
    row(id="c", height_in="x"),
).encode()
HEAD = ",".join(OUR_HEADER.values()) + "\n"


def looked_at(path: Path) -> list[str]:
    """All that a catalogue says when it is read and shown."""
    catalog = read_catalog(path)
    return [*map(str, catalog.all_problems), *catalog.notes, repr(catalog.columns.ids)]


def agree(catalog: Catalog) -> None:
    """What must be true of every catalogue."""
    assert b"".join(line.encode() for line in catalog.text.lines) in (
        *(catalog_bytes[catalog.digest], catalog_bytes[catalog.digest][3:], b""),
    )
    assert all((row.tank is None) or not row.problems for row in catalog.rows)
    if catalog.problems and catalog.problems[0].row in {0, 1}:
        assert not catalog.tanks
    elif not catalog.problems:
        assert all(row.tank is not None or row.problems for row in catalog.rows)
    assert len(catalog.by_id) == len(catalog.tanks)


catalog_bytes: dict[str, bytes] = {}


def read_and_agree(data: bytes) -> Catalog:
    catalog = read(data)
    catalog_bytes[catalog.digest] = data
    agree(catalog)
    return catalog


def test_spoilt_files_end_in_problems_or_our_own_error(tmp_path: Path) -> None:
    counts = fuzzed(looked_at, SAMPLE, (CatalogError,), tmp_path / "tanks.csv", rounds=50)
    assert counts["read"] > 300


@given(st.binary(max_size=300))
def test_any_bytes_are_read(data: bytes) -> None:
    read_and_agree(data)
    read_and_agree(SAMPLE + data)
    read_and_agree(HEAD.encode() + data)


@given(st.lists(st.text(st.sampled_from("\"\n\r,;\ta1.'=x é"), max_size=12), max_size=40))
def test_any_cells_are_read(cells: list[str]) -> None:
    read_and_agree((HEAD + ",".join(cells)).encode())
    read_and_agree((HEAD.replace(",", ";") + ";".join(cells)).encode())


def test_a_file_cut_off_anywhere_gives_no_tank_that_was_not_there() -> None:
    whole = {tank.id: tank for tank in read(SAMPLE).tanks}
    complete = [i for i, byte in enumerate(SAMPLE) if byte == ord("\n")]
    for length in range(len(SAMPLE)):
        for tank in read_and_agree(SAMPLE[:length]).tanks:
            # Only a number in the last cell can be cut and still be one.
            same = whole[tank.id].model_dump(exclude={"highest_precharge"})
            assert tank.model_dump(exclude={"highest_precharge"}) == same
            assert tank == whole[tank.id] or length not in complete


@pytest.mark.parametrize(
    ("body", "rows"),
    [
        ('"\n' * 100_000, 0),
        ('a","b\n' * 100_000, 1000),
        ("x\n" * 300_000, 1000),
        ("," * 99_999 + "\n", 0),
        ("," * 500_000, 1),
        ("a,,,,,,,,,,,,,,,,,\n" * 50_000, 1000),
        ("\n" * 300_000, 0),
    ],
    ids=["quotes", "open", "short", "blank", "long", "doubles", "empty"],
)
def test_large_garbage_is_given_up_early(body: str, rows: int) -> None:
    assert len(read_and_agree((HEAD + body).encode()).rows) == rows


def test_huge_numbers_and_no_numbers_are_bad_cells() -> None:
    for text in ("9" * 399, "9" * 90_000, "1e999", "nan", "-inf", "0x10", "1_000", "٣"):
        catalog = read_and_agree(file_text(row(height_in=text)).encode())
        assert [problem.column for problem in catalog.all_problems] == ["height_in"]


def test_what_a_terminal_would_obey_is_not_printed(tmp_path: Path) -> None:
    path = tmp_path / "tanks.csv"
    path.write_text(file_text(row(height_in="\x1b]0;x\x07"), header=[*row(), "\x1b[2J"]), "utf-8")
    lines = check_file(path).lines
    assert len(lines) == 3
    assert all(line.isprintable() for line in lines)


@given(st.binary(max_size=60))
def test_a_tank_is_put_into_any_file_or_refused(data: bytes) -> None:
    catalog = read(SAMPLE + data)
    tank = make(id="new", height=28.125 * 0.0254)
    with suppress(CatalogError):
        assert read(put_tank(catalog, tank)).by_id["new"] == tank


def test_the_schema_file_is_no_catalogue() -> None:
    assert read(json.dumps({"fields": []})).problems
    assert read(new_catalog_bytes()).problems == ()
