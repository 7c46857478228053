"""``check-catalog``: all that is wrong in a catalogue."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import Any

from workbench.cli import output
from workbench.words import tr


def add(commands: Any) -> None:
    """Add the parser of this sub-command."""
    parser = commands.add_parser("check-catalog", help=tr("list all that is wrong in a catalogue"))
    parser.add_argument("file", type=Path, metavar="FILE")
    parser.set_defaults(run=_run)


def _run(options: argparse.Namespace) -> int:
    from workbench.catalog.check import check_file

    lines, usable = check_file(options.file)
    output.show(lines)
    return 0 if usable else 1
