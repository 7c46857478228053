"""The counter chart on paper: every cell of the view, every mark explained, all pages full."""

from __future__ import annotations

import random
from typing import Any

import pytest
from pypdf import PdfReader

from tests.cli.any_job import any_job
from tests.report.reading import lines_per_page, packed, reader
from tests.study.build import METRIC, US, arranged, results, tank
from workbench import paths
from workbench.catalog.tank import Tank
from workbench.job import document
from workbench.report.blocks import PaperContent, Table, Words
from workbench.report.chart import chart_content
from workbench.report.typeset import pdf
from workbench.study.desk import load_candidates
from workbench.study.evaluate import Results, evaluate
from workbench.units import PRESSURE, VOLUME, Display

SYSTEMS = pytest.mark.parametrize("display", [US, METRIC], ids=["us", "metric"])
SHELF = (
    tank("Small 20", total_volume=20, diameter=16, height=30, date="2026-02-03"),
    tank("Weak 60", total_volume=60, max_working_pressure=75, highest_precharge=60),
    tank("Shy 62", total_volume=62, highest_precharge=40, acceptance=30),
    tank("Usual 85", in_stock=None, date="2026-03-04"),
    tank("Away 119", total_volume=119, height=66, in_stock=False),
    tank("Unlisted 50", total_volume=50, diameter=22, potable_listed=None),
)


def of(*tanks: Tank, **entries: Any) -> Results:
    return results(*(tanks or SHELF), **entries)


def chart(found: Results, display: Display = US, file: str = "") -> PaperContent:
    made = chart_content(found, display, file)
    assert isinstance(made, PaperContent), made
    return made


def tables(paper: PaperContent) -> list[Table]:
    return [one for part in paper.sections for one in part.blocks if isinstance(one, Table)]


def small_print(paper: PaperContent) -> str:
    return " ".join(
        one.text for part in paper.sections for one in part.blocks if isinstance(one, Words)
    )


def printed(paper: PaperContent) -> tuple[str, PdfReader]:
    read = reader(pdf(paper))
    return packed("".join(page.extract_text() for page in read.pages)), read


@SYSTEMS
@pytest.mark.parametrize("sheet", ["us_letter", "a4"])
def test_every_cell_of_the_view_stands_in_its_place_and_in_the_pdf(
    display: Display, sheet: str
) -> None:
    job = document.read(paths.demo_job()).changed(paper=sheet)
    catalog, candidates = load_candidates(paths.default_catalog(), job)
    found = evaluate(job, candidates)
    paper = chart(found, display, catalog.path.name)
    first, *runs = tables(paper)
    charges, *rows = first.rows
    assert charges[3:] == tuple(
        display.number(band.setting.precharge, PRESSURE)
        for band in found.chart.bands
        if band.setting
    )
    for cells, row in zip(rows, found.chart.rows, strict=True):
        assert cells[0].removesuffix(" *") == row.tank.name
        assert cells[3:] == tuple(
            display.number(cell.drawdown, VOLUME) for cell in row.cells if cell is not None
        )
    for picked, shown in zip(found.chart.runs[display.system], runs, strict=True):
        for picks, cells in zip(picked.picks, shown.rows, strict=True):
            for pick, cell in zip(picks, cells[1:], strict=True):
                if pick is None:
                    assert cell == "–"
                else:
                    assert pick.tank.name in cell
                    assert cell.startswith("two of ") is (pick.count == 2)
    text, read = printed(paper)
    for table in (first, *runs):
        for row in table.rows:
            assert packed("".join(row)) in text
    for page in read.pages:
        assert page.mediabox.width > page.mediabox.height


def test_flows_are_round_numbers_of_the_shown_system() -> None:
    flows = [[row[0] for row in tables(chart(of(), display))[1].rows] for display in (US, METRIC)]
    assert flows[0] == ["5 gpm", "7 gpm", "10 gpm", "12 gpm", "15 gpm", "20 gpm", "25 gpm"]
    assert flows[1] == ["20 L/min", "25 L/min", "40 L/min", "45 L/min", "60 L/min", "75 L/min",
                        "100 L/min"]  # fmt: skip


def test_bands_are_called_as_typed_with_the_shown_unit_beneath() -> None:
    entries = {"bands": "40/60 psi"}
    assert tables(chart(of(**entries)))[0].columns[3:] == ("30/50 psi", "40/60 psi")
    metric = tables(chart(of(**entries), METRIC))[0].columns[3:]
    assert metric == ("30/50 psi\n207/345 kPa", "40/60 psi\n276/414 kPa")


def test_a_tank_that_may_not_be_used_at_a_band_shows_no_figure_but_why() -> None:
    paper = chart(of(bands="40/60, 50/70 psi"))
    rows = {row[0]: row[3:] for row in tables(paper)[0].rows}
    assert rows["Weak 60"][1] == "15.5"  # marked 75 psi: just enough for 60 and the margin
    assert rows["Weak 60"][2] == "– marking"
    assert rows["Shy 62"][2] == "– charge"
    legend = small_print(paper)
    assert "– marking: " in legend
    assert "15.0 psi" in legend
    assert "– charge: " in legend


def test_marks_are_explained_and_only_those_that_stand_there() -> None:
    legend = small_print(chart(of()))
    for words in ("* The catalogue does not say", "Acceptance not stated", "left out: 1."):
        assert words in legend
    plain = small_print(chart(of(tank("Sure 40", total_volume=40, height=33, acceptance=30))))
    for words in ("* ", "Acceptance", "left out", "marking", "charge:", "buried"):
        assert words not in plain


def test_a_band_without_figures_is_a_dash_throughout() -> None:
    paper = chart(of(bands="1/20 psi"))
    assert {row[3] for row in tables(paper)[0].rows} == {"–"}
    assert {row[1] for table in tables(paper)[1:] for row in table.rows} == {"–"}
    assert "the precharge rule does not suit this band" in small_print(paper)


def test_file_dates_sources_altitude_and_rule_are_named() -> None:
    told = dict(chart(of(altitude="900 ft"), file="stock.csv").facts)
    assert told["Catalogue"] == "stock.csv"
    assert told["Rows dated"] == "February 3, 2026 to March 4, 2026, some not stated"
    assert told["Altitude"] == "900 ft"
    assert told["Precharge"] == "cut-in less 2 psi"
    assert chart(of()).date == "2026-03-04"
    undated = chart(of(SHELF[1]))
    assert (undated.date, dict(undated.facts)["Rows dated"]) == ("", "not stated")
    sources = [tank(f"N {n}", source=f"list {n}") for n in range(5)]
    assert dict(chart(of(*sources[:2])).facts)["Their source"] == "list 0; list 1"
    assert dict(chart(of(*sources)).facts)["Their sources"] == "5 different ones"


def test_cautions_stand_on_it() -> None:
    text, _ = printed(chart(of(bands="70/90 psi")))
    assert packed("set with the tank drained") in text
    assert packed("local codes") in text
    assert packed("P2903.3.1): 70/90") in text
    above, _ = printed(chart(of(precharge_rule="typed", precharge="32 psi")))
    assert packed("lies above cut-in") in above
    assert packed("lies above cut-in") not in printed(chart(of()))[0]


def test_there_are_no_prices_on_it() -> None:
    text, _ = printed(chart(of(tank("Dear 85", price="4321.50"))))
    assert "4321" not in text
    assert "$" not in text


@pytest.mark.parametrize(
    ("tanks", "entries", "words"),
    [
        (SHELF[-2:], {}, "in stock"),
        (SHELF, {"altitude": "99999 ft"}, "Altitude: "),
        (SHELF, {"cut_out": "20 psi"}, "Cut-out: "),
    ],
)
def test_where_there_is_no_chart_it_says_why(
    tanks: tuple[Tank, ...], entries: dict[str, Any], words: str
) -> None:
    made = chart_content(of(*tanks, **entries), US)
    assert isinstance(made, str)
    assert made.startswith("There is no chart. Mend first: ")
    assert words in made


def test_a_large_stock_with_long_names_keeps_its_header_on_every_page() -> None:
    name = "W" * 119
    one = tank("Usual 85")
    many = [
        one.model_copy(
            update={"id": f"t{n}", "name": f"{name}{n % 10}" if n % 9 == 0 else f"Invented {n}"}
        )
        for n in range(120)
    ]
    text, read = printed(chart(of(*many)))
    assert len(read.pages) > 3
    assert packed(name) in text
    assert min(lines_per_page(pdf(chart(of(*many))))) >= 3
    rows = [packed(page.extract_text()) for page in read.pages]
    for page in rows[:4]:
        assert "30/50psi" in page


@pytest.mark.parametrize("chance", range(16))
def test_any_job_makes_a_chart_that_can_be_set_or_says_why(chance: int) -> None:
    job = any_job(random.Random(chance))
    made = chart_content(evaluate(job, arranged(SHELF, 1)), METRIC if chance % 2 else US, "x.csv")
    if isinstance(made, PaperContent):
        assert pdf(made) == pdf(made)
    else:
        assert made.startswith("There is no chart.")


def test_the_fingerprint_follows_what_the_chart_rests_on_and_nothing_else() -> None:
    plain = chart(of()).foot
    assert chart(of(customer_name="Someone", pump_flow="7 gpm", door_width="3 ft")).foot == plain
    for entries in ({"altitude": "100 ft"}, {"precharge_rule": "cut_in"}, {"bands": "35/55 psi"},
                    {"pressure_margin": "16 psi"}):  # fmt: skip
        assert chart(of(**entries)).foot != plain
    assert chart(of(*SHELF[1:])).foot != plain


def test_numbers_follow_the_form_of_the_money() -> None:
    text, _ = printed(chart(of(money_form="de_DE"), METRIC))
    assert "75,7" in text
    assert "75.7" not in text
