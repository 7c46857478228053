"""The firm's catalogue, saved under every disturbance and read in every spoilt state."""

from __future__ import annotations

from decimal import Decimal
from pathlib import Path

import pytest

from tests.faults.fuzz import Read
from tests.faults.harness import faulty_steps, full_disk, full_partition, fuzzed, killed
from workbench.catalog import writing
from workbench.catalog.problems import CatalogError
from workbench.catalog.table import Catalog, catalog_of, read_catalog
from workbench.catalog.tank import Tank, TankKind
from workbench.safe_file import SaveError, digest

NAME = "our tanks.csv"
OWN = (CatalogError, SaveError)


def _tank(number: int, notes: str = "") -> Tank:
    return Tank(
        id=f"invented-{number}",
        name=f"Invented tank {number}, tall",
        kind=TankKind.DIAPHRAGM_HORIZONTAL,
        total_volume=0.3,
        acceptance=0.1,
        diameter=0.6,
        height=1.25,
        connection="1-1/4",
        max_working_pressure=700e3,
        factory_precharge=260e3,
        empty_weight=40.0,
        potable_listed=True,
        price=Decimal("499.5"),
        in_stock=False,
        notes=notes,
    )


def _file(tanks: int, notes: str) -> bytes:
    return writing.new_catalog_bytes(_tank(number, notes) for number in range(tanks))


SMALL_OLD, SMALL_NEW = _file(2, "old"), _file(4, 'new, with a "quotation"\nand a second line')

Content = tuple[bytes, str]  # what to save, and the digest of what was read


def _large() -> tuple[Content, Content]:
    # What stands in the rows does not matter to a save.
    return _change(
        _file(300, "x" + "old " * 400 + "x") * 4, _file(300, "x" + "new! " * 390 + "x") * 4
    )


def _change(old: bytes, new: bytes) -> tuple[Content, Content]:
    return (old, ""), (new, digest(old))


def save(path: Path, content: Content) -> None:
    data, expected = content
    writing.save(path, data, expected)


def read(path: Path) -> str:
    """Read as the program does, and use all of it."""
    catalog = read_catalog(path)
    told = [str(problem) for problem in catalog.all_problems]
    shown = [told, catalog.notes, catalog.tanks, catalog.by_id, catalog.bad_rows, catalog.currency]
    sound = [row for row in catalog.rows if row.tank is not None]
    if any(row.problems for row in sound) or len(catalog.by_id) != len(catalog.tanks):
        raise AssertionError("a tank is offered that has problems, or stands twice")
    if any(len(text) > 500 or "Errno" in text for text in told):
        raise AssertionError(f"a problem is not told plainly: {max(told, key=len)!r:.300}")
    return repr(shown)


def put(path: Path) -> str:
    """Put a tank into whatever was read; all else must be read as before."""
    before = read_catalog(path)
    try:
        data = writing.put_tank(before, _tank(1, "put in"))
    except CatalogError:
        return "refused"
    after = catalog_of(data, path)
    if after.by_id["invented-1"] != _tank(1, "put in"):
        raise AssertionError("the tank reads back as another")
    if _others(after) != _others(before):
        raise AssertionError("another tank is no longer what it was")
    return "put in"


def _others(catalog: Catalog) -> list[Tank]:
    return [tank for tank in catalog.tanks if tank.id != "invented-1"]


def test_a_kill_leaves_the_old_catalogue_or_the_new_one(tmp_path: Path) -> None:
    old, new = _large()
    assert len(new[0]) > 2_000_000
    killed(save, old, new, tmp_path / NAME)


@pytest.mark.soak
def test_two_thousand_kills_leave_the_old_catalogue_or_the_new_one(tmp_path: Path) -> None:
    killed(save, *_large(), tmp_path / NAME, times=2000)


def test_a_full_disk_at_any_byte_leaves_the_old_catalogue_and_says_so(tmp_path: Path) -> None:
    full_disk(save, *_change(SMALL_OLD, SMALL_NEW), tmp_path / NAME, OWN)


def test_a_full_partition_leaves_the_old_catalogue_and_says_so(tmp_path: Path) -> None:
    old, new = _file(60, "o" * 1200), _file(60, "n" * 2000)
    full_partition(save, *_change(old, new), tmp_path / NAME, OWN)


def test_a_fault_in_any_step_leaves_the_old_catalogue_or_the_new_one(tmp_path: Path) -> None:
    faulty_steps(save, *_change(SMALL_OLD, SMALL_NEW), tmp_path / NAME, OWN)


def test_a_spoilt_catalogue_is_told_in_plain_words(tmp_path: Path) -> None:
    fuzzed(read, SMALL_NEW, OWN, tmp_path / NAME)


@pytest.mark.parametrize("separator", [";", "\t"])
def test_a_spoilt_catalogue_of_another_style_is_told_in_plain_words(
    separator: str, tmp_path: Path
) -> None:
    sample = SMALL_OLD.replace(b",", separator.encode()).replace(b".", b",")
    fuzzed(read, sample, OWN, tmp_path / NAME, rounds=40, seed=2)


def test_a_tank_put_into_a_spoilt_catalogue_changes_no_other(tmp_path: Path) -> None:
    fuzzed(put, SMALL_NEW, OWN, tmp_path / NAME, rounds=60, seed=3)


@pytest.mark.soak
@pytest.mark.parametrize("seed", range(10, 20))
@pytest.mark.parametrize("reader", [read, put], ids=lambda f: f.__name__)
def test_many_spoilt_catalogues_are_told_in_plain_words(
    reader: Read, seed: int, tmp_path: Path
) -> None:
    fuzzed(reader, SMALL_NEW, OWN, tmp_path / NAME, rounds=1000, seed=seed)
