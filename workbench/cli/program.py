"""The parser of all sub-commands, and what becomes of a refusal."""

from __future__ import annotations

import sys
from collections.abc import Sequence

from workbench import __version__
from workbench.catalog.problems import CatalogError
from workbench.cli import (
    bands,
    card,
    chart,
    check_catalog,
    cycle,
    day,
    demand,
    drawdown,
    drive,
    estimate,
    exercises,
    faults,
    header,
    output,
    precharge,
    pump,
    size,
    solve,
    tolerance,
)
from workbench.cli.refusal import Parser, RefusalError
from workbench.job.document import JobError
from workbench.words import tr

_COMMANDS = (
    size,
    drawdown,
    precharge,
    bands,
    solve,
    pump,
    cycle,
    day,
    demand,
    header,
    drive,
    tolerance,
    estimate,
    card,
    chart,
    faults,
    exercises,
    check_catalog,
)


def main(argv: Sequence[str] | None = None) -> int:
    """Run a sub-command. Returns the exit status: 0, or 2 for input that cannot be used."""
    output.prepare()
    try:
        options = _parser().parse_args(argv)
        return int(options.run(options))
    except (RefusalError, JobError, CatalogError) as error:
        output.complain(str(error))
    except BrokenPipeError:
        sys.stderr.close()  # the reader (head, less) has seen enough
        return 0
    return 2


def _parser() -> Parser:
    parser = Parser(
        prog=output.PROGRAM,
        description=tr("Choose and set the pressure tank of a private water well."),
        epilog=tr(
            "Without a sub-command the window opens, with a job FILE if one is named."
            " --reset-settings first forgets how the window was set; --diagnostics prints versions."
        ),
    )
    parser.add_argument("--version", action="version", version=f"{output.PROGRAM} {__version__}")
    commands = parser.add_subparsers(required=True, metavar="COMMAND")
    for command in _COMMANDS:
        command.add(commands)
    return parser
