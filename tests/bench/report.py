"""Runs the parts, each in a process of its own, and prints what they found."""

from __future__ import annotations

import argparse
import importlib
import json
import os
import platform
import subprocess
import sys
from collections.abc import Sequence
from pathlib import Path

from timing import Row, table

PARTS = {
    "start": "starting the window",
    "refresh": "an edit until it is painted",
    "ranking": "ranking 100,000 tanks",
    "reading": "reading a catalogue",
    "tolerance": "a tolerance study",
    "day": "simulating a year",
    "papers": "a paper until it is seen",
    "live": "a frame of the live tank",
}
ROUNDS = 9


def report(arguments: Sequence[str]) -> int:
    """Print the table, or JSON; return the exit status."""
    parser = _parser()
    options = parser.parse_args(arguments)
    parts = options.parts or list(PARTS)
    if unknown := set(parts) - set(PARTS):
        parser.error(f"no part {', '.join(sorted(unknown))}; there are {', '.join(PARTS)}")
    if options.rounds < 1:
        parser.error("--rounds must be 1 or more")
    rows = [row for part in parts for row in _rows(part, options.rounds, alone=len(parts) == 1)]
    if options.json:
        record = {"machine": machine(), "rounds": options.rounds}
        print(json.dumps(record | {"rows": [row.as_json() for row in rows]}, indent=1))
    else:
        print(f"{machine()}\nMedians of {options.rounds} rounds (least–greatest); A B A B …\n")
        print(table(rows))
    return 0


def _parser() -> argparse.ArgumentParser:
    told = "; ".join(f"{name}: {what}" for name, what in PARTS.items())
    parser = argparse.ArgumentParser(prog="python3 tests/bench", description=f"Parts: {told}.")
    parser.add_argument("parts", nargs="*", metavar="part", help="all if none is named")
    parser.add_argument("--rounds", type=int, default=ROUNDS, help="default %(default)s")
    parser.add_argument("--json", action="store_true")
    return parser


def _rows(part: str, rounds: int, *, alone: bool) -> list[Row]:
    if alone:
        found: list[Row] = importlib.import_module(part).measure(rounds)
        return found
    print(f"measuring {PARTS[part]} …", file=sys.stderr, flush=True)
    command = [sys.executable, str(Path(__file__).parent), part, "--rounds", str(rounds), "--json"]
    done = subprocess.run(command, stdout=subprocess.PIPE, text=True, check=True)
    return [Row.from_json(record) for record in json.loads(done.stdout)["rows"]]


def machine() -> str:
    """What the numbers were measured on; no names of users or folders."""
    return (
        f"Python {platform.python_version()}, {platform.system()} {platform.machine()},"
        f" {os.cpu_count()} cores"
    )
