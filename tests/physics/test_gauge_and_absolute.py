"""A gauge pressure cannot creep into Boyle's law: neither past the type checker nor in numbers."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
from mypy import api

from workbench.physics.air import AbsolutePressure, absolute, gauge_pressure
from workbench.physics.tank import drawdown_factor

PSI = 6894.757293168361
ROOT = Path(__file__).resolve().parents[2]

MIXED = """\
import numpy as np
from workbench.physics import tank
from workbench.physics.air import absolute, ambient_pressure, compression, gauge, gauge_pressure
sea, reading = ambient_pressure(0.0), gauge_pressure(2e5)
inside = absolute(reading, sea)
tank.drawdown_factor(inside, inside, inside)
gauge(inside, sea)
tank.drawdown_factor(reading, inside, inside)  # wrong
tank.drawdown_factor(inside, reading, inside)  # wrong
tank.drawdown_factor(inside, inside, reading)  # wrong
tank.water_in_tank(reading, inside, 0.1)  # wrong
tank.drawdown(inside, inside, np.asarray(2e5), 0.1)  # wrong
tank.volume_for_drawdown(0.1, inside, inside, reading)  # wrong
tank.precharge_for_drawdown(0.1, reading, inside, 0.1)  # wrong
tank.cut_out_for_drawdown(0.1, inside, reading, 0.1)  # wrong
tank.no_water_gap(reading, inside)  # wrong
compression(reading, inside)  # wrong
absolute(inside, sea)  # wrong
absolute(reading, reading)  # wrong
gauge(reading, sea)  # wrong
"""


def test_the_type_checker_refuses_a_gauge_pressure_where_an_absolute_one_is_wanted(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("MYPYPATH", str(ROOT))
    snippet = tmp_path / "snippet.py"
    snippet.write_text(MIXED, encoding="utf-8")
    options = ["--config-file=", "--follow-imports=silent", "--strict", "--no-error-summary"]
    output, errors, _ = api.run([*options, f"--cache-dir={tmp_path / 'cache'}", str(snippet)])
    assert errors == ""
    found = {int(line.split(":")[-3]) for line in output.splitlines() if " error: " in line}
    lines = MIXED.splitlines()
    wrong = {number for number, line in enumerate(lines, 1) if line.endswith("# wrong")}
    assert found == wrong, output
    assert all(("[arg-type]" in line) for line in output.splitlines() if " error: " in line), output


def test_the_gauge_formula_is_26_percent_high_and_is_never_ours() -> None:
    # The slip: 28/30 − 28/50 in gauge psi is 0.373 instead of 0.295.
    slip = 28 / 30 - 28 / 50
    sea = AbsolutePressure(np.asarray(14.7 * PSI))
    pressures = (absolute(gauge_pressure(p * PSI), sea) for p in (28, 30, 50))
    ours = float(drawdown_factor(*pressures))
    assert slip / ours - 1 == pytest.approx(0.264, abs=0.001)


@pytest.mark.parametrize("cut_in", [20, 30, 40, 50, 60])
@pytest.mark.parametrize("air", [10.1, 12.2, 14.7])
def test_ours_stays_well_under_the_gauge_formula(cut_in: int, air: float) -> None:
    slip = (cut_in - 2) / cut_in - (cut_in - 2) / (cut_in + 20)
    ambient = AbsolutePressure(np.asarray(air * PSI))
    pressures = (
        absolute(gauge_pressure(p * PSI), ambient) for p in (cut_in - 2, cut_in, cut_in + 20)
    )
    assert float(drawdown_factor(*pressures)) < 0.95 * slip


def test_two_sites_with_the_same_gauge_readings_do_not_give_the_same_water() -> None:
    readings = [gauge_pressure(p * PSI) for p in (28, 30, 50)]
    low, high = (AbsolutePressure(np.asarray(a * PSI)) for a in (14.7, 12.2))
    at_sea = float(drawdown_factor(*(absolute(r, low) for r in readings)))
    in_hills = float(drawdown_factor(*(absolute(r, high) for r in readings)))
    assert in_hills > 1.03 * at_sea
