"""``chart``: the counter chart of the stock, as PDF or plain text, without a display."""

from __future__ import annotations

import argparse
from typing import Any

from workbench.cli.papers import add_paper_options, hand_over, paper_results
from workbench.words import tr


def add(commands: Any) -> None:
    """Add the parser of this sub-command."""
    parser = commands.add_parser("chart", help=tr("the counter chart of the stock, as a file"))
    parser.description = tr(
        "Write the counter chart: drawdown of each tank in stock at the bands of a job, and the"
        " smallest tank for each pump flow and run."
    )
    add_paper_options(parser, is_of_a_job=False)
    parser.set_defaults(run=_run)


def _run(options: argparse.Namespace) -> int:
    asked = paper_results(options, saved_rows=False)
    from workbench.report.chart import chart_content
    from workbench.study.chart.record import chart_record

    content = chart_content(asked.results, asked.display, asked.file)
    record = {"catalog": asked.file, **chart_record(asked.results)}
    return hand_over(options, content, record)
