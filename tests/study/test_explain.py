"""Explanations: what they tell, that they are made only when asked, and how they are checked."""

from __future__ import annotations

import subprocess
import sys

import pytest

from tests.study.arithmetic import numbers_in, recomputes
from tests.study.build import COMMA, PSI, SEA, TWO_FLOWS, US, results, tank
from workbench.study.explain import pictures
from workbench.study.explain.book import explain, figures_of
from workbench.study.explain.steps import Air, ending, ending_as, held_step
from workbench.study.setting import Setting
from workbench.study.working import Step
from workbench.units import VOLUME, Display

GAL = 3.785411784e-3
PAGES = ("bench", "bands", "solve", "pump", "cycle", "day", "demand", "header", "drive",
         "tolerance")  # fmt: skip


# --- the checker of arithmetic ---


@pytest.mark.parametrize(
    "numbers",
    [
        "0.2973 × 60.0 gal = 17.84 gal",
        "(42.224/44.224) − (42.224/64.224) = 0.2973",
        "(42.224/44.224)^(1/1.2) − (42.224/64.224)^(1/1.2) = 0.2571",
        "11.00 gpm / (4 × 16.36 gal) = 10.1 /h",
        "1 / (2.91 min + 3.57 min) = 9.3 /h",
        "15 / 1.50 min = 10.0 starts an hour",
        "5.214 gal / 71.258 gal = 7 %",
        "30.0 psi − 2.0 psi = 28.0 psi",
        "−2 × 3 + 10 = 4",
    ],
)
def test_a_right_calculation_is_accepted(numbers: str) -> None:
    assert recomputes(numbers, US) is True


@pytest.mark.parametrize(
    "numbers",
    [
        "0.2973 × 60.0 gal = 17.94 gal",
        "30.0 psi − 2.0 psi = 28.2 psi",
        "11.00 gpm / (4 × 16.36 gal) = 10.3 /h",
        "30.0 psi − 2.0 psi = 28.0 psi, shown as 29.0 psi",
        "0.2973 × 60.0 gal → 17.84 gal, shown as 17.9 gal",
        "2 × 3 = −6",
    ],
)
def test_a_wrong_calculation_is_caught(numbers: str) -> None:
    assert recomputes(numbers, US) is False


def test_what_is_no_plain_arithmetic_is_left_alone() -> None:
    assert recomputes("17.8 gal, 12.5 gpm … 9.5 gpm → 1.62 min", US) is None
    assert recomputes("14.224 psi", US) is None


def test_a_decimal_comma_is_read() -> None:
    assert recomputes("0,2973 × 60,0 L = 17,84 L", COMMA) is True
    assert recomputes("0,2973 × 60,0 L = 18,84 L", COMMA) is False
    assert numbers_in("12,5 L/min gegen 3 kPa") == ["12,5 L/min", "3 kPa"]


# --- steps ---


def test_a_step_ends_with_the_figure_as_it_is_shown() -> None:
    step = Step("Drawdown", "Vd = f × V", "0.2973 × 60.0 gal → 17.84 gal", "definition")
    assert ending(step, 17.84 * GAL, VOLUME, US).numbers.endswith("17.84 gal, shown as 17.8 gal")
    assert ending_as(step, "17.84 gal") is step


@pytest.mark.parametrize("exponent", [1.0, 1.2])
def test_the_water_in_a_tank_recomputes(exponent: float) -> None:
    air = Air(28 * PSI, SEA, exponent)
    share = 1.0 - ((28 * PSI + SEA) / (50 * PSI + SEA)) ** (1.0 / exponent)
    for display in (US, COMMA):
        step = held_step("Water", air, 60 * GAL, 50 * PSI, share * 60 * GAL, display)
        assert recomputes(step.numbers, display)
    below = held_step("Water", air, 60 * GAL, 20 * PSI, 0.0, US)
    assert "≤" in below.numbers
    assert below.numbers.endswith("0.00 gal")


# --- explanations ---


def test_an_explanation_is_told_as_plain_text() -> None:
    found = results(tank(), run_time="1.5 min", pump_flow="10 gpm")
    told = explain("bench.required", "Required drawdown", "15.0 gal", found, US)
    assert told is not None
    text = told.as_text()
    assert text.startswith("Required drawdown: 15.0 gal\n\n")
    for step in (*told.steps, *told.beside):
        for line in (step.title, step.formula, step.numbers, f"Source: {step.source}"):
            assert line in text
    assert told.picture is not None
    assert text.endswith(f"{told.picture.told}\n")


def test_a_figure_that_is_not_there_has_no_working() -> None:
    found = results(cut_out="20 psi")
    assert explain("bench.required", "", "", found, US) is None
    assert explain("cycle.worst", "", "", found, US) is None
    assert explain("day.starts:0", "", "", found, US) is None
    assert explain("tolerance.worst", "", "", found, US) is None


@pytest.mark.parametrize("key", ["bench.nothing", "nowhere.required"])
def test_an_unknown_key_is_refused(key: str) -> None:
    with pytest.raises(KeyError):
        explain(key, "", "", results(), US)


def test_a_place_beyond_the_table_has_no_working() -> None:
    found = results(tank(), header_set="44 gal 38 psi", **TWO_FLOWS)
    for key in ("bench.drawdown:9", "header.share:4", "bands.drawdown:9", "demand.method:40",
                "cycle.limit:90", "pump.friction:80:1", "solve.also:7"):  # fmt: skip
        assert explain(key, "", "", found, US) is None


def test_every_page_has_its_figures() -> None:
    for page in PAGES:
        assert all(callable(one) for one in figures_of(page).values())


def test_no_working_is_imported_before_one_is_asked_for() -> None:
    code = (
        "import sys; import workbench.study.evaluate, workbench.gui.window,"
        " workbench.gui.pages.cycle.page, workbench.gui.pages.day.page;"
        " print([m for m in sys.modules if 'study.explain' in m or 'explain.window' in m])"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"


# --- pictures ---


def test_the_picture_of_the_air_has_the_shares_of_boyles_law() -> None:
    setting = Setting(30 * PSI, 50 * PSI, 28 * PSI, SEA, 1.0)
    picture = pictures.air(setting, Display())
    low, high = picture.sizes
    assert low == pytest.approx((28 * PSI + SEA) / (30 * PSI + SEA))
    assert high == pytest.approx((28 * PSI + SEA) / (50 * PSI + SEA))
    assert f"{100 * low:.0f} %" in picture.told
    assert "30.0 psi" in picture.told


def test_a_tank_charged_above_cut_in_is_all_air_there() -> None:
    picture = pictures.air(Setting(30 * PSI, 50 * PSI, 40 * PSI, SEA, 1.0), US)
    assert picture.sizes[0] == 1.0


def test_each_picture_tells_its_figures_in_words() -> None:
    assert "1.50 min" in pictures.turn(90.0, 120.0, US).told
    assert "2.00 min" in pictures.turn(90.0, 120.0, US).told
    assert pictures.head((("lift", 30.48), ("pressure", 15.24)), US).told == (
        "One upon the other: lift 100.0 ft, pressure 50.0 ft."
    )
    assert "±2 psi" in pictures.spread("2 psi", "Gauge").told
    told = pictures.gauge(28 * PSI, SEA, US).told
    assert all(text in told for text in ("14.7 psi", "28.0 psi", "42.7 psi"))
