"""``estimate``: the same paper as in the window, written whole or refused in one line."""

from __future__ import annotations

import io
from collections.abc import Callable
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest
from pypdf import PdfReader

from tests.cli.conftest import Run
from workbench import paths
from workbench.catalog.table import read_catalog
from workbench.job import document
from workbench.job.job import CatalogSnapshot, Job
from workbench.report.estimate import estimate_content
from workbench.report.plain_text import plain_text
from workbench.report.typeset import pdf
from workbench.study.desk import load_candidates
from workbench.study.evaluate import Results, evaluate
from workbench.units import Display, System

GAL, PSI = 3.785411784e-3, 6894.757293168361


def demo(**entries: Any) -> Job:
    return document.read(paths.demo_job()).changed(**entries)


def results(job: Job) -> Results:
    return evaluate(job, load_candidates(paths.default_catalog(), job)[1])


@pytest.fixture
def saved(tmp_path: Path) -> Callable[..., Path]:
    """Save the demo with some entries replaced."""

    def save(**entries: Any) -> Path:
        path = tmp_path / "invented.tankjob.json"
        document.write(demo(**entries), path)
        return path

    return save


def test_the_pdf_is_that_of_the_window(run: Run, saved: Callable[..., Path]) -> None:
    job = saved()
    target = job.with_name("out.pdf")
    ran = run("estimate", job, "-o", target)
    assert ran.status == 0
    assert target.read_bytes() == pdf(estimate_content(results(demo()), Display()))
    pages = len(PdfReader(io.BytesIO(target.read_bytes())).pages)
    first = ran.out.splitlines()[0]
    assert first == f"out.pdf: PDF, pages: {pages}"
    assert "Option C, Rowan 85 V at 40/60 psi: $1,798.89" in ran.out
    assert "caution: The prices are invented" in ran.out


def test_a_name_that_ends_in_txt_gets_plain_text(run: Run, saved: Callable[..., Path]) -> None:
    job = saved()
    target = job.with_name("out.txt")
    assert run("estimate", job, "-o", target, "--si").status == 0
    expected = plain_text(estimate_content(results(demo()), Display(System.METRIC)))
    assert target.read_text(encoding="utf-8") == expected
    assert "227.1 L" in expected


def test_the_text_can_be_printed(run: Run, saved: Callable[..., Path]) -> None:
    ran = run("estimate", saved(), "--text")
    assert ran.out == plain_text(estimate_content(results(demo()), Display()))


def test_cost_is_printed_on_the_office_copy_alone(run: Run, saved: Callable[..., Path]) -> None:
    """Whatever copy the job was last shown as: who sends by a script must ask for the cost."""
    job = saved(copy_for="office")
    assert "Margin" not in run("estimate", job, "--text").out
    assert "Margin" in run("estimate", job, "--text", "--office").out


def test_json_has_every_figure_of_the_view(run: Run, saved: Callable[..., Path]) -> None:
    data = run("estimate", saved(), "--json").data
    view = results(demo()).estimate
    assert [one["letter"] for one in data["options"]] == ["A", "B", "C"]
    for one, offer in zip(data["options"], view.offers, strict=True):
        assert offer.one is not None
        assert offer.starts_per_day is not None
        assert offer.daily_volume is not None
        assert offer.precharge is not None
        assert one["drawdown_gal"] == pytest.approx(offer.one.drawdown / GAL, rel=1e-11)
        assert one["run_time_min"] == pytest.approx(offer.one.run_time / 60, rel=1e-11)
        assert one["worst_starts_per_hour"] == pytest.approx(offer.one.starts * 3600, rel=1e-11)
        assert one["starts_per_day_at_most"] == pytest.approx(offer.starts_per_day * 86_400)
        assert one["daily_use_gal_per_day"] == pytest.approx(offer.daily_volume / GAL)
        assert one["precharge_psi"] == pytest.approx(offer.precharge.in_service / PSI, rel=1e-11)
        assert one["total_volume_gal"] == pytest.approx(offer.one.total_volume / GAL, rel=1e-11)
        assert (one["tank"], one["name"], one["band"]) == (
            " + ".join(part.id for part in offer.one.parts), offer.one.name, offer.band_name
        )  # fmt: skip
        assert one["passes"] is offer.one.passes
        assert one["band_moves"] is offer.band_moves


def test_json_has_the_amounts_as_exact_text(run: Run, saved: Callable[..., Path]) -> None:
    data = run("estimate", saved(tank_price="cost"), "--json").data
    job = demo(tank_price="cost")
    for one, offer in zip(data["options"], results(job).estimate.offers, strict=True):
        assert offer.priced is not None
        assert offer.priced.totals is not None
        for told, line in zip(one["lines"], offer.priced.lines, strict=True):
            for name in ("quantity", "each", "amount", "cost"):
                assert isinstance(told[name], str)
                assert Decimal(told[name]) == getattr(line, name)
        for name, told in one["totals"].items():
            assert Decimal(told) == getattr(offer.priced.totals, name)
        amounts = sum(Decimal(line["amount"]) for line in one["lines"])
        assert amounts == Decimal(one["totals"]["subtotal"])


def test_json_may_stand_beside_a_file(run: Run, saved: Callable[..., Path]) -> None:
    job = saved()
    target = job.with_name("out.pdf")
    data = run("estimate", job, "-o", target, "--json").data
    assert target.read_bytes().startswith(b"%PDF-")
    assert data["fingerprint"] in PdfReader(target).pages[0].extract_text()


# --- where the tanks come from ---


def test_the_rows_saved_in_the_job_go_before_the_demo(run: Run, tmp_path: Path) -> None:
    rows = read_catalog(paths.default_catalog()).tanks
    dearer = tuple(one.model_copy(update={"price": Decimal(2000)}) for one in rows)
    job = demo(catalog=CatalogSnapshot(file="ours.csv", tanks=dearer))
    path = tmp_path / "job.tankjob.json"
    document.write(job, path)
    data = run("estimate", path, "--json").data
    assert (data["catalog"], data["catalog_from"]) == ("ours.csv", "job")
    assert {one["lines"][0]["amount"] for one in data["options"]} == {"2000.00"}
    named = run("estimate", path, "--json", "--catalog", paths.default_catalog()).data
    assert named["catalog_from"] == "option"
    assert named["options"][1]["lines"][0]["amount"] == "715.50"


def test_without_saved_rows_it_is_the_demos(run: Run, saved: Callable[..., Path]) -> None:
    data = run("estimate", saved(), "--json").data
    assert (data["catalog"], data["catalog_from"]) == ("demo-tanks.csv", "demo")


# --- refusals ---


@pytest.mark.parametrize(
    ("entries", "reason"),
    [
        ({"estimate_date": "soon"}, "Date: “soon” is no date"),
        ({"offer_b_tank": "sold-out"}, "sold-out"),
        ({"offer_c_band": "30/50, 40/60 psi"}, "one switch band"),
        ({"pump_flow": "fast"}, "fast"),
        ({"prices": ()}, "price list"),
    ],
)
def test_a_stop_is_refused_and_nothing_is_written(
    refused: Callable[..., str],
    saved: Callable[..., Path],
    entries: dict[str, Any],
    reason: str,
) -> None:
    job = saved(**entries)
    target = job.with_name("out.pdf")
    assert reason in refused("estimate", job, "-o", target)
    assert not target.exists()
    assert reason in refused("estimate", job, "--json")


def test_it_must_be_said_where_the_paper_goes(
    refused: Callable[..., str], saved: Callable[..., Path]
) -> None:
    assert "-o" in refused("estimate", saved())
    assert ".doc" in refused("estimate", saved(), "-o", "out.doc")


def test_a_character_that_cannot_be_printed_is_refused(
    refused: Callable[..., str], saved: Callable[..., Path]
) -> None:
    job = saved(problem="No water \U0001f4a7")
    assert "U+1F4A7" in refused("estimate", job, "-o", job.with_name("out.pdf"))


def test_a_file_that_cannot_be_written_is_refused(
    refused: Callable[..., str], saved: Callable[..., Path], tmp_path: Path
) -> None:
    assert "could not be saved" in refused(
        "estimate", saved(), "-o", tmp_path / "missing" / "out.pdf"
    )


def test_a_job_that_does_not_exist_is_refused(refused: Callable[..., str], tmp_path: Path) -> None:
    assert "none.json" in refused("estimate", tmp_path / "none.json", "--text")
