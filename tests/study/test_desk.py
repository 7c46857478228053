"""From a catalogue file, or the rows saved in a job, to the tanks that are offered."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.study.build import ranking, tank
from workbench import paths
from workbench.catalog.problems import CatalogError
from workbench.catalog.table import read_catalog
from workbench.job import document
from workbench.job.job import CatalogSnapshot, Job
from workbench.study.desk import (
    candidates_of,
    changed_since,
    load_candidates,
    offered_tanks,
    used_tanks,
)
from workbench.study.evaluate import evaluate
from workbench.study.findings import Level


def test_the_shipped_catalogue_is_ranked_for_a_new_job() -> None:
    catalog, candidates = load_candidates(paths.default_catalog(), Job())
    assert len(candidates) == len(catalog.tanks) > 20
    found = evaluate(Job(), candidates)
    assert found.findings == ()
    assert found.ranking is not None
    assert 0 < found.ranking.passing < len(found.ranking)


def test_the_demo_job_has_an_answer_and_no_stop() -> None:
    demo = document.read(paths.demo_job())
    _, candidates = load_candidates(paths.default_catalog(), demo)
    found = evaluate(demo, candidates)
    assert demo.demo
    assert found.of_level(Level.STOP) == ()
    assert found.ranking is not None
    assert found.ranking.passing > 0


def test_a_catalogue_that_is_not_there_is_refused(tmp_path: Path) -> None:
    with pytest.raises(CatalogError, match=r"nowhere\.csv"):
        load_candidates(tmp_path / "nowhere.csv", Job())


def test_without_rows_there_are_no_candidates() -> None:
    assert candidates_of(None, 2) is None


def test_saved_rows_are_ranked_as_the_catalogue_was() -> None:
    catalog = read_catalog(paths.default_catalog())
    saved = CatalogSnapshot(file="demo.csv", tanks=catalog.tanks)
    for most in (1, 3):
        live = evaluate(Job(header_tanks=most), candidates_of(catalog, most)).ranking
        kept = evaluate(Job(header_tanks=most), candidates_of(saved, most)).ranking
        assert live is not None
        assert kept is not None
        assert len(kept) == most * len(catalog.tanks)
        assert [kept.row(k) for k in range(len(kept))] == [live.row(k) for k in range(len(live))]


def test_candidates_of_the_same_rows_are_not_built_twice() -> None:
    catalog = read_catalog(paths.default_catalog())
    assert candidates_of(catalog, 2) is candidates_of(catalog, 2)
    assert candidates_of(catalog, 2) is not candidates_of(catalog, 3)


def test_each_tank_that_passes_is_offered_once() -> None:
    small = tank("Small", total_volume=20, height=20, price="200")
    ranked = ranking(tank(), small, tank("Unlisted", potable_listed=None), header_tanks=3)
    assert [one.name for one in offered_tanks(ranked)] == ["Small", "Invented 85"]
    assert offered_tanks(None) == ()


def test_what_changed_since_a_job_was_saved_is_told_tank_by_tank() -> None:
    catalog = read_catalog(paths.default_catalog())
    first, second, *_ = catalog.tanks
    dearer = first.model_copy(update={"price": 1, "in_stock": None})
    gone = tank("Gone")
    saved = CatalogSnapshot(file="demo.csv", tanks=(dearer, second, gone))
    told = changed_since(saved, catalog)
    assert len(told) == 2
    assert first.name in told[0]
    assert "price" in told[0]
    assert "in stock" in told[0]
    assert told[1].startswith("Gone is no longer")
    assert changed_since(None, catalog) == []
    assert changed_since(saved, None) == []


def test_a_job_keeps_also_the_tanks_that_pass_only_at_the_band_of_an_option() -> None:
    """The saved rows give the same estimate as the catalogue that they were taken from."""
    job = document.read(paths.demo_job()).changed(
        cut_in="20 psi", cut_out="40 psi", first_tank="linden-2-v", offer_c_tank="birch-75-v"
    )
    catalog, candidates = load_candidates(paths.default_catalog(), job)
    found = evaluate(job, candidates)
    kept = {one.id for one in used_tanks(found)}
    offered = {one.id for one in offered_tanks(found.ranking)}
    assert {"linden-2-v", "birch-75-v"} <= kept
    assert "linden-2-v" not in offered
    saved = CatalogSnapshot(file=catalog.path.name, tanks=used_tanks(found))
    again = evaluate(job, candidates_of(saved, job.header_tanks))
    priced = [offer.priced for offer in found.estimate.offers]
    assert [offer.priced for offer in again.estimate.offers] == priced
    assert len(priced) == 3
