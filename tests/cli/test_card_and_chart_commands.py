"""``card`` and ``chart``: files, text and JSON of one job; a stop prints no setting."""

from __future__ import annotations

import random
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest

from tests.cli.any_job import any_job
from tests.cli.figures import GAL, PSI
from tests.report.reading import packed, reader, text_of
from workbench import paths
from workbench.cli.papers import new_job
from workbench.job import document, firm
from workbench.job.job import CatalogSnapshot, Job
from workbench.report.card import card_content
from workbench.report.chart import chart_content
from workbench.report.plain_text import plain_text
from workbench.report.typeset import pdf
from workbench.study.card import card_view
from workbench.study.desk import load_candidates
from workbench.study.evaluate import Results, evaluate
from workbench.units import PRESSURE, VOLUME, Display, System, Unread

if TYPE_CHECKING:
    from tests.cli.conftest import Run

Refused = Callable[..., str]
ROOT = Path(__file__).resolve().parents[2]
METRIC = Display(System.METRIC)


@pytest.fixture
def saved(tmp_path: Path) -> Callable[..., Path]:
    """Write a job file: the usual job with some entries replaced, or one that is given."""

    def write(job: Job | None = None, **entries: Any) -> Path:
        path = tmp_path / "one.tankjob.json"
        document.write((job or Job()).changed(**entries), path)
        return path

    return write


def results_of(job: Path, catalog: Path) -> Results:
    read = document.read(job)
    return evaluate(read, load_candidates(catalog, read)[1])


def test_the_files_are_the_papers_of_the_program(
    run: Run, saved: Callable[..., Path], catalog: Path, tmp_path: Path
) -> None:
    job = saved(first_tank="usual", set_date="2026-03-31")
    found = results_of(job, catalog)
    for name, made in (
        ("card", card_content(found, METRIC)),
        ("chart", chart_content(found, METRIC, catalog.name)),
    ):
        assert not isinstance(made, str)
        for ending, data in ((".pdf", pdf(made)), (".txt", plain_text(made).encode())):
            out = tmp_path / f"{name}{ending}"
            ran = run(name, job, "--catalog", catalog, "--si", "-o", out)
            told = "plain text" if ending == ".txt" else f"PDF, pages: {len(reader(data).pages)}"
            assert (ran.status, ran.out, ran.err) == (0, f"{out.name}: {told}\n", "")
            assert out.read_bytes() == data
        printed = run(name, job, "--catalog", catalog, "--si", "--text")
        assert printed.out == plain_text(made)


def test_a_stop_prints_no_setting_and_leaves_what_was_there(
    refused: Refused, saved: Callable[..., Path], catalog: Path, tmp_path: Path
) -> None:
    out = tmp_path / "card.pdf"
    out.write_bytes(b"before")
    for entries, word in (
        ({"cut_out": Unread("x", "Not a number.", "Type one.")}, "Cut-out: “x” has no number"),
        ({"first_tank": "gone"}, "Tank: "),
        ({"first_tank": "usual", "relief_setting": "200 psi"}, "Relief valve: "),
    ):
        job = saved(**entries)
        for asked in (("-o", out), ("--text",), ("--json",)):
            told = refused("card", job, "--catalog", catalog, *asked)
            assert "No setting is printed. Mend first: " in told
            assert word in told
    assert out.read_bytes() == b"before"


def test_a_chart_without_stock_is_refused(refused: Refused, tmp_path: Path, catalog: Path) -> None:
    empty = tmp_path / "empty.csv"
    empty.write_text(catalog.read_text(encoding="utf-8").splitlines()[0] + "\n", encoding="utf-8")
    out = tmp_path / "chart.pdf"
    assert "There is no chart." in refused("chart", "--catalog", empty, "-o", out)
    assert not out.exists()


@pytest.mark.parametrize("name", ["card", "chart"])
@pytest.mark.parametrize(
    ("options", "words"),
    [
        ((), "say where to write it"),
        (("-o", "paper.doc"), "must end in .pdf or .txt"),
        (("-o", "one.tankjob.json"), "must end in .pdf or .txt"),
        (("-o", "paper.pdf", "--text"), "does not go into a file named .pdf"),
        (("--text", "--json"), "not both"),
        (("--text", "--catalog", "nowhere.csv"), "nowhere.csv"),
    ],
)
def test_what_cannot_be_done_is_said_in_one_line(
    refused: Refused,
    saved: Callable[..., Path],
    name: str,
    options: tuple[str, ...],
    words: str,
) -> None:
    assert words in refused(name, saved(), *options)


@pytest.mark.parametrize("name", ["card", "chart"])
def test_a_file_that_cannot_be_written_is_told(
    refused: Refused, saved: Callable[..., Path], catalog: Path, tmp_path: Path, name: str
) -> None:
    job = saved(first_tank="usual")
    out = tmp_path / "no folder" / "paper.pdf"
    assert "paper.pdf" in refused(name, job, "--catalog", catalog, "-o", out)


def test_a_character_that_the_font_lacks_is_refused_with_its_place(
    refused: Refused, saved: Callable[..., Path], catalog: Path, tmp_path: Path
) -> None:
    job = saved(first_tank="usual", card_note="a \u6c34 in it")
    out = tmp_path / "card.pdf"
    assert "U+6C34" in refused("card", job, "--catalog", catalog, "-o", out)
    assert not out.exists()


def test_a_card_needs_a_job_and_a_chart_none(run: Run, refused: Refused, catalog: Path) -> None:
    assert "JOBFILE" in refused("card", "--text")
    ran = run("chart", "--catalog", catalog, "--json")
    assert [band["name"] for band in ran.data["bands"]] == ["20/40", "30/50", "40/60", "50/70"]
    assert ran.data["catalog"] == catalog.name


def test_a_card_goes_by_the_rows_its_job_was_saved_with_and_a_chart_by_the_stock(
    run: Run, saved: Callable[..., Path], catalog: Path
) -> None:
    read = load_candidates(catalog, Job())[0]
    rows = tuple(tank for tank in read.tanks if tank.id == "usual")
    job = saved(first_tank="usual", catalog=CatalogSnapshot(file="then.csv", tanks=rows))
    card = run("card", job, "--json").data
    assert (card["catalog"], card["tank"]) == ("then.csv", "Invented 85")
    assert run("chart", job, "--json").data["catalog"] == paths.default_catalog().name
    assert run("card", job, "--json", "--catalog", catalog).data["catalog"] == catalog.name


@pytest.mark.parametrize("chance", range(30))
def test_window_json_and_pdf_say_the_same_of_any_job(
    run: Run, saved: Callable[..., Path], catalog: Path, tmp_path: Path, chance: int
) -> None:
    job = saved(any_job(random.Random(chance)))
    found = results_of(job, catalog)
    made = card_content(found, Display())
    out = tmp_path / "card.pdf"
    ran = run("card", job, "--catalog", catalog, "--json", "-o", out)
    if isinstance(made, str):
        assert ran.status == 2
        assert not out.exists()
    else:
        view = card_view(found)
        assert view.setting is not None
        assert view.tank is not None
        data, text = ran.data, text_of(out.read_bytes())
        assert data["precharge_psi"] == pytest.approx(view.setting.precharge / PSI)
        assert data["drawdown_gal"] == pytest.approx(view.tank.drawdown / GAL)
        assert packed(Display().text(view.setting.precharge, PRESSURE)) in text
        assert packed(Display().text(view.tank.drawdown, VOLUME)) in text
        assert packed(data["tank"]) in text
    ran = run("chart", job, "--catalog", catalog, "--json")
    if found.chart.is_empty:
        assert ran.status == 2
        return
    for told, row in zip(ran.data["tanks"], found.chart.rows, strict=True):
        for number, cell in zip(told["drawdown_gal"], row.cells, strict=True):
            if cell is not None and cell.can_be_used:
                assert number == pytest.approx(cell.drawdown / GAL)
            else:
                assert number is None


def test_both_run_without_qt(tmp_path: Path) -> None:
    for name in ("card", "chart"):
        out = tmp_path / f"{name}.pdf"
        done = subprocess.run(
            [sys.executable, "-X", "importtime", "-m", "workbench", name, paths.demo_job(),
             "-o", out],
            cwd=ROOT, capture_output=True, encoding="utf-8", timeout=120,
        )  # fmt: skip
        assert done.returncode == 0, done.stderr[-500:]
        assert "PySide6" not in done.stderr
        assert out.read_bytes().startswith(b"%PDF")


def test_a_new_job_makes_the_chart_that_needs_none() -> None:
    assert new_job() == Job().changed(**firm.shipped_entries())


def test_a_chart_without_a_job_bears_the_firms_name(run: Run, tmp_path: Path) -> None:
    job = Job().changed(**firm.shipped_entries()).changed(firm_name="Ours (invented)")
    firm.write_firm(job, firm.own_firm_path())
    status, out, _ = run("chart", "--text")
    assert status == 0
    assert out.startswith("Ours (invented)")
    firm.own_firm_path().write_bytes(b"{}")
    status, out, err = run("chart", "-o", str(tmp_path / "chart.pdf"))
    assert (status, out) == (2, "")
    assert "firm.json" in err
    assert not (tmp_path / "chart.pdf").exists()
