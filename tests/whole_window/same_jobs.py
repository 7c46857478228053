"""The 200 jobs of which everything must say the same, and the command line asked about them."""

from __future__ import annotations

import json
import random
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from tests.cli.figures import GAL, PSI
from tests.report.any_paper import any_paper, write_catalog
from tests.report.paper_sums import COMMA
from workbench import cli
from workbench.cli import program
from workbench.job import document
from workbench.job.job import Job
from workbench.job.paper_choices import Copy
from workbench.study.desk import load_candidates
from workbench.study.evaluate import Results, evaluate
from workbench.study.findings import Finding, Level
from workbench.units import System

JOBS = 200
Record = dict[str, Any]
"""What the command line tells as JSON."""

one_parser = cache(program._parser)
"""It takes longer to make than most jobs to answer."""


@cache
def jobs() -> tuple[Job, ...]:
    chance = random.Random(20261125)
    return tuple(any_paper(chance) for _ in range(JOBS))


def system_of(number: int) -> System:
    """Every other job is shown in SI."""
    return System.METRIC if number % 2 else System.US


def results_of(job: Job, folder: Path) -> Results:
    return evaluate(job, load_candidates(write_catalog(folder, job.currency), job)[1])


def stops_of(results: Results) -> tuple[Finding, ...]:
    """All that keeps an estimate from being written."""
    return (*results.of_level(Level.STOP), *results.estimate.stops)


@contextmanager
def about(number: int) -> Iterator[None]:
    """Say of which job a failed check speaks."""
    try:
        yield
    except AssertionError as failed:
        failed.add_note(f"job {number} of {__name__}")
        raise


@dataclass
class Told:
    """What the command line says of a job; None where it refuses, and why."""

    estimate: Record | None
    paper: bytes | None
    bands: Record | None
    refusals: dict[str, str]


class Asking:
    """Asks the command line about jobs, in this process."""

    def __init__(
        self, folder: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
    ) -> None:
        self.folder = folder
        self._capsys = capsys
        monkeypatch.setattr(program, "_parser", one_parser)

    def ask(self, number: int) -> Told:
        """Estimate and comparison of bands of a job."""
        job = jobs()[number]
        refusals: dict[str, str] = {}
        more = ("--office",) if job.copy_for is Copy.OFFICE else ()
        estimate, paper = self.paper(number, "estimate", refusals, *more)
        bands = self.run(job, "bands", refusals)
        return Told(estimate, paper, bands, refusals)

    def paper(
        self, number: int, name: str, refusals: dict[str, str], *more: str
    ) -> tuple[Record | None, bytes | None]:
        """The JSON and the PDF of a paper, both or none."""
        job, out = jobs()[number], self.folder / "out.pdf"
        document.write(job, self.folder / "job.tankjob.json")
        out.unlink(missing_ok=True)
        if system_of(number) is System.METRIC:
            more = (*more, "--si")
        record = self.run(job, name, refusals, "-o", str(out), *more)
        assert out.exists() is (record is not None)
        return record, out.read_bytes() if out.exists() else None

    def run(self, job: Job, name: str, refusals: dict[str, str], *more: str) -> Record | None:
        """The JSON of a sub-command; its refusal is kept."""
        catalog = write_catalog(self.folder, job.currency)
        path = str(self.folder / "job.tankjob.json")
        status = cli.main([name, path, "--catalog", str(catalog), "--json", *more])
        out, err = self._capsys.readouterr()
        if status == 0:
            record: Record = json.loads(out)
            return record
        assert (status, out) == (2, "")
        assert err.startswith("tank-workbench: ")
        assert err.count("\n") == 1
        refusals[name] = err
        return None


UNITS = {
    System.US: {"volume": (1.0, 1, "gal"), "pressure": (1.0, 1, "psi"), "head": (1.0, 1, "ft")},
    System.METRIC: {
        "volume": (GAL / 1e-3, 1, "L"),
        "pressure": (PSI / 1e3, 0, "kPa"),
        "head": (0.3048, 1, "m"),
    },
}
PLAIN = {"run": (1.0, 2, "min"), "hour": (1.0, 1, ""), "day": (1.0, 0, "")}


class Shown:
    """Holds numbers as written against US customary values, without the program's own units."""

    def __init__(self, system: System, form: str = "en_US") -> None:
        self._comma = form in COMMA
        self._units = PLAIN | UNITS[system]

    def check(self, text: str, value: float, kind: str, *, unit: bool = True) -> None:
        """``text`` is this value, rounded to the usual places, with its unit."""
        factor, places, symbol = self._units[kind]
        digits, _, rest = text.partition(" ")
        assert rest == (symbol if unit else ""), text
        assert ("," in digits) is (self._comma and places > 0), text
        number = digits.replace("–", "-").replace("−", "-").replace(",", ".")
        assert len(number.partition(".")[2]) == places, text
        assert abs(float(number) - value * factor) <= 0.5000001 * 10.0**-places, (text, value)
