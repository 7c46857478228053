"""What the tests of the command line share: running it, and catalogues and jobs to run it on."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any, NamedTuple

import pytest

from workbench import cli

CATALOG = """\
id,name,kind,total_volume_gal,acceptance_gal,diameter_in,height_in,max_working_pressure_psi,\
factory_precharge_psi,highest_precharge_psi,potable_listed,price_usd,in_stock
small,Invented 30,bladder vertical,30,,18,35,125,38,70,yes,300,yes
usual,Invented 85,bladder vertical,85,60,26,47,125,38,70,yes,800,no
large,Invented 119,diaphragm vertical,119,,26,66,100,38,,yes,,yes
unlisted,Invented 60,bladder vertical,60,,22,47,125,38,70,,500,yes
"""


class Ran(NamedTuple):
    """One run in this process: exit status and what was printed."""

    status: int
    out: str
    err: str

    @property
    def data(self) -> Any:
        return json.loads(self.out)


Run = Callable[..., Ran]


@pytest.fixture
def run(capsys: pytest.CaptureFixture[str]) -> Run:
    """Run a sub-command in this process."""

    def go(*arguments: object) -> Ran:
        capsys.readouterr()
        status = cli.main([str(argument) for argument in arguments])
        return Ran(status, *capsys.readouterr())

    return go


@pytest.fixture
def refused(run: Run) -> Callable[..., str]:
    """Run a sub-command that must refuse: status 2, nothing printed, one line of error."""

    def go(*arguments: object) -> str:
        ran = run(*arguments)
        assert ran.status == 2
        assert ran.out == ""
        assert ran.err.startswith("tank-workbench: ")
        assert ran.err.endswith("\n")
        assert ran.err.count("\n") == 1, "not one line"
        assert "Traceback" not in ran.err
        return ran.err

    return go


@pytest.fixture
def catalog(tmp_path: Path) -> Path:
    path = tmp_path / "invented.csv"
    path.write_text(CATALOG, encoding="utf-8")
    return path
