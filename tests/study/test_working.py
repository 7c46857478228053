"""The working: what is written down, when computed again, comes to what is written behind it."""

from __future__ import annotations

import re
from typing import Any

import pytest

from tests.study.build import COMMA, GAL, METRIC, US, job, results, tank
from workbench.job.choices import RunTimeRule, run_time_rules
from workbench.physics.tank import drawdown, drawdown_factor
from workbench.study.evaluate import Results
from workbench.study.inputs import read_inputs
from workbench.study.setting import pressures
from workbench.study.single import drawdown_record
from workbench.study.working import Step, drawdown_steps, required_steps
from workbench.units import VOLUME, Display

DISPLAYS = pytest.mark.parametrize("display", [US, METRIC, COMMA], ids=["us", "metric", "comma"])


def computed(text: str, mark: str = ".") -> float:
    """The value of a written calculation; its units are left out."""
    clean = text.replace(mark, ".").replace("−", "-").replace("×", "*").replace("^", "**")
    clean = re.sub(r"[A-Za-z/]*[A-Za-z]+", "", clean)
    assert re.fullmatch(r"[0-9.+\-*/() ]+", clean), clean
    return float(eval(clean))  # noqa: S307 - checked above to be plain arithmetic


def setting_steps(display: Display, **entries: Any) -> tuple[tuple[Step, ...], float, float]:
    setting = read_inputs(job(**entries)).setting
    assert setting is not None
    pp, pin, pout = pressures(setting)
    factor = float(drawdown_factor(pp, pin, pout, setting.exponent))
    water = float(drawdown(pp, pin, pout, 85 * GAL, exponent=setting.exponent))
    return drawdown_steps(setting, 85 * GAL, water, factor, display), factor, water


@DISPLAYS
@pytest.mark.parametrize(
    "entries",
    [
        {},
        {"precharge_rule": "cut_in"},
        {"altitude": "5000 ft"},
        {"exponent": "1.2"},
        {"exponent": "1.4", "altitude": "2000 m"},
        {"precharge": "38 psi", "precharge_rule": "typed"},
        {"precharge": "38 psi", "precharge_rule": "typed", "exponent": "1.2"},
        {"precharge": "0 psi", "precharge_rule": "typed"},
        {"cut_in": "2.1 bar", "cut_out": "3.5 bar"},
    ],
)
def test_the_factor_follows_from_the_numbers_before_it(
    entries: dict[str, Any], display: Display
) -> None:
    (_, factor_step, water_step), factor, water = setting_steps(display, **entries)
    written, _, result = factor_step.numbers.rpartition(" = ")
    assert computed(written, display.mark) == pytest.approx(factor, abs=5e-5)
    assert computed(result, display.mark) == pytest.approx(factor, abs=5.1e-5)
    written, _, result = water_step.numbers.rpartition(" → ")
    shown = computed(result, display.mark)
    assert computed(written, display.mark) == pytest.approx(shown, rel=1e-3)
    assert shown == pytest.approx(float(display.value(water, VOLUME)), abs=0.0051)


@DISPLAYS
def test_the_air_pressure_is_written_with_its_place(display: Display) -> None:
    (air, *_), _, _ = setting_steps(display)
    assert "sea level" in air.title
    assert computed(air.numbers, display.mark) == pytest.approx(
        14.696 if display is US else 101.325, abs=0.001
    )
    (air, *_), _, _ = setting_steps(display, altitude="1500 m")
    assert "site" in air.title
    assert computed(air.numbers, display.mark) == pytest.approx(
        12.264 if display is US else 84.560, abs=0.001
    )


def sized(**entries: Any) -> Results:
    return results(tank(), **entries)


@DISPLAYS
@pytest.mark.parametrize("rule", list(RunTimeRule))
@pytest.mark.parametrize("flow", ["10 gpm", "17.3 gpm", "80 L/min"])
def test_the_required_drawdown_follows_from_the_numbers_before_it(
    rule: RunTimeRule, flow: str, display: Display
) -> None:
    found = sized(pump_flow=flow, run_time_rule=rule, run_time="1.25 min", starts_limit="8 /h")
    assert found.sizing is not None
    assert found.ranking is not None
    source = run_time_rules()[rule].source
    steps = required_steps(found.ranking.duty, found.sizing, source, display)
    for step in steps:
        written, _, result = step.numbers.rpartition(" = ")
        after = computed(result, display.mark)
        assert computed(written, display.mark) == pytest.approx(after, rel=0.006, abs=0.06)
    assert steps[0].source == source
    required = float(display.value(found.sizing.required, VOLUME))
    assert computed(steps[0].numbers.rpartition(" = ")[2], display.mark) == pytest.approx(
        required, abs=0.0051
    )


@DISPLAYS
def test_every_step_names_its_source_and_reads_as_one_line(display: Display) -> None:
    found = sized()
    assert found.sizing is not None
    assert found.ranking is not None
    steps, _, _ = setting_steps(display, exponent="1.2")
    for step in (*steps, *required_steps(found.ranking.duty, found.sizing, "a source", display)):
        assert all((step.title, step.formula, step.numbers, step.source))
        line = str(step)
        assert "\n" not in line
        assert not re.search(r"[{}]|\bnan\b|\binf\b", line)


def test_the_formula_names_an_exponent_only_when_there_is_one() -> None:
    (_, plain, _), _, _ = setting_steps(US)
    (_, quick, _), _, _ = setting_steps(US, exponent="1.2")
    assert plain.formula == "f = (Pp/Pin) − (Pp/Pout)"
    assert quick.formula == "f = (Pp/Pin)^(1/n) − (Pp/Pout)^(1/n)"
    assert "^(1/1.2)" in quick.numbers


def test_the_published_example_is_written_out() -> None:
    # Trade magazine for water-well drillers, technical column, February 2006, example 1.
    (_, factor, water), _, _ = setting_steps(US)
    assert factor.numbers == "(42.696/44.696) − (42.696/64.696) = 0.2953"
    assert water.numbers == "0.2953 × 85.0 gal → 25.10 gal"


def test_a_record_of_one_tank_writes_the_same_working() -> None:
    record, findings = drawdown_record(job(), 85 * GAL)
    assert findings == ()
    steps, factor, water = setting_steps(US)
    assert record["working"] == [str(step) for step in steps]
    assert record["drawdown_factor"] == factor
    assert record["drawdown_gal"] == pytest.approx(water / GAL, rel=1e-11)
