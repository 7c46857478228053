"""Starting: whole processes, ours beside an empty window and beside its libraries alone.

Every start is a second one, with settings present and compiled modules at hand. The time is that
until the process ends, which is when the wanted picture has been painted. Processor time is told
as well, for it depends less on what else the machine does.
"""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from screen import offscreen
from timing import Row, compare, take_turns

CHILD = Path(__file__).with_name("start_child.py")
STARTS = ("empty", "first-frame", "libraries", "all-drawn")
# ours, compared with, what is told, the most that is wanted of the ratio of times
PAIRS = (
    ("first-frame", "empty", "first frame / empty window", 2.5),
    ("all-drawn", "libraries", "all drawn / libraries and empty window", 0.9),
)
MEASURES = (("time", "ms"), ("processor time", "ms"), ("peak memory", "MB"))


def measure(rounds: int) -> list[Row]:
    with tempfile.TemporaryDirectory(prefix="bench-") as folder:
        environment = _environment(Path(folder))
        for what in ("prepare", *STARTS):
            _run(what, environment)
        runs: dict[str, list[tuple[float, ...]]] = {what: [] for what in STARTS}

        def start(what: str) -> float:
            runs[what].append(_run(what, environment))
            return 0.0

        take_turns({what: lambda what=what: start(what) for what in STARTS}, rounds)
    rows = []
    for place, (name, unit) in enumerate(MEASURES):
        for ours, bare, what, target in PAIRS:
            series = [
                [run[place] for run in runs[side][1:] if place < len(run)] for side in (ours, bare)
            ]
            if all(series):
                wanted = target if name != "peak memory" else None
                rows.append(compare("Starting", f"{what}, {name}", unit, *series, target=wanted))
    return rows


def _environment(folder: Path) -> dict[str, str]:
    """A home of its own, and a store of compiled modules that nobody else uses."""
    kept = {name: value for name, value in os.environ.items() if not name.startswith("PYTHON")}
    places = ("HOME", "USERPROFILE", "XDG_CONFIG_HOME", "XDG_DATA_HOME", "XDG_CACHE_HOME",
              "APPDATA", "LOCALAPPDATA")  # fmt: skip
    return (
        kept
        | dict.fromkeys(places, str(folder))
        | {
            "QT_QPA_PLATFORM": offscreen(folder),
            "PYTHONPYCACHEPREFIX": str(folder / "compiled"),
        }
    )


def _run(what: str, environment: dict[str, str]) -> tuple[float, ...]:
    """One start: time [ms]; where the system tells also processor time [ms] and memory [MB]."""
    command = [sys.executable, str(CHILD), what]
    with tempfile.TemporaryFile() as said:
        begin = time.perf_counter()
        child = subprocess.Popen(command, env=environment, stdout=said, stderr=said)
        used = None
        if hasattr(os, "wait4"):
            _, status, used = os.wait4(child.pid, 0)
            child.returncode = os.waitstatus_to_exitcode(status)
        else:
            child.wait()
        elapsed = (time.perf_counter() - begin) * 1e3
        if child.returncode:
            said.seek(0)
            raise SystemExit(f"start “{what}” failed:\n{said.read().decode(errors='replace')}")
    if used is None:
        return (elapsed,)
    per_megabyte = 1e6 if sys.platform == "darwin" else 1e3
    return elapsed, (used.ru_utime + used.ru_stime) * 1e3, used.ru_maxrss / per_megabyte
