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


@pytest.mark.parametrize(
    "arguments", [(*SIZE, "--json"), ("drawdown", "--volume", "85 gal", *BAND, "--json")]
)
def test_an_answer_needs_no_qt_and_no_pint(arguments: tuple[str, ...]) -> None:
    done, modules = run(*arguments)
    assert (done.returncode, done.stderr) == (0, "")
    assert json.loads(done.stdout)["drawdown_factor"] == pytest.approx(0.2953, abs=5e-5)
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
