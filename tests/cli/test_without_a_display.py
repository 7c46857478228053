"""The command as a process of its own: exit status, one line of error, and no Qt at all."""

from __future__ import annotations

import json
import os
import re
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
_IMPORTED = re.compile(r"^import time:\s+\d+ \|\s+\d+ \|\s+([\w.]+)$", re.MULTILINE)
BAND = ("--cut-in", "30 psi", "--cut-out", "50 psi")
SIZE = ("size", "--pump-flow", "10 gpm", *BAND, "--run-time", "1 min")


def run(*arguments: str) -> tuple[subprocess.CompletedProcess[str], set[str]]:
    """Run ``python -m workbench`` with no display; also return the modules that it imported."""
    environment = {
        name: value
        for name, value in os.environ.items()
        if name not in {"DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM"}
    }
    done = subprocess.run(
        [sys.executable, "-X", "importtime", "-m", "workbench", *arguments],
        cwd=ROOT,
        env=environment | {"PYTHONIOENCODING": "utf-8"},
        capture_output=True,
        encoding="utf-8",
        timeout=120,
    )
    modules = set(_IMPORTED.findall(done.stderr))
    lines = [line for line in done.stderr.splitlines() if not line.startswith("import time:")]
    done.stderr = "\n".join(lines)
    return done, modules


USUAL = SIZE[1:]
DRIVE = (
    *("--drive-set", "60 psi", "--drive-wake", "45 psi", "--drive-tank", "20 gal"),
    *("--drive-share", "70 %", "--drive-ramp", "3 s"),
)
FACTOR = 42.696 / 44.696 - 42.696 / 64.696


@pytest.mark.parametrize(
    ("arguments", "key", "value"),
    [
        (SIZE, "drawdown_factor", FACTOR),
        (("drawdown", "--volume", "85 gal", *BAND), "drawdown_factor", FACTOR),
        (("bands", *USUAL, "--bands", "40/60 psi"), "catalog_rows_not_used", 0),
        (("pump", *USUAL), "mean_flow_gpm", 10.0),
        (("cycle", *USUAL, "--steady-draw", "5 gpm"), "mean_flow_gpm", 10.0),
        (("day", *USUAL, "--leak", "20 gal/d", "--year"), "cut_out_psi", 50.0),
        (("demand", *USUAL, "--method", "two_fixtures"), "peak_demand_gpm", 5.0),
        (("header", *BAND, "--plain-volume", "82 gal"), "catalog_rows_not_used", 0),
        (("drive", *DRIVE), "precharge_psi", 42.0),
        (("tolerance", *USUAL, "--cases", "1000"), "required_run_min", 1.0),
    ],
)
def test_an_answer_needs_no_qt_and_no_pint(
    arguments: tuple[str, ...], key: str, value: float
) -> None:
    done, modules = run(*arguments, "--json")
    assert (done.returncode, done.stderr) == (0, "")
    assert json.loads(done.stdout)[key] == pytest.approx(value, abs=5e-5)
    assert "workbench.study.inputs" in modules  # the list of imports is a real one
    foreign = {name.partition(".")[0] for name in modules}
    assert not foreign & {"PySide6", "shiboken6", "pyqtgraph", "pint"}
    assert not any(name.startswith("workbench.gui") for name in modules)


def test_a_refusal_is_status_2_and_one_line() -> None:
    done, modules = run("size", "--pump-flow", "1,500 gpm", *BAND, "--run-time", "1 min")
    assert done.returncode == 2
    assert done.stdout == ""
    assert done.stderr == (
        "tank-workbench: --pump-flow: “1,500” could mean 1500 or 1.500. Type 1500, or 1.5000."
    )
    assert not any(name.startswith("PySide6") for name in modules)


def test_a_reader_that_has_seen_enough_is_no_error() -> None:
    command = [sys.executable, "-m", "workbench", *SIZE]
    with subprocess.Popen(
        command, cwd=ROOT, stdout=subprocess.PIPE, stderr=subprocess.PIPE, encoding="utf-8"
    ) as process:
        assert process.stdout is not None
        assert process.stderr is not None
        process.stdout.close()
        said = process.stderr.read()
    assert "Traceback" not in said
    assert process.returncode == 0
