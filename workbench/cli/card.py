"""``card``: the setting card of a saved job, as PDF or plain text, without a display."""

from __future__ import annotations

import argparse
from typing import Any

from workbench.cli.papers import add_paper_options, hand_over, paper_results
from workbench.words import tr


def add(commands: Any) -> None:
    """Add the parser of this sub-command."""
    parser = commands.add_parser("card", help=tr("the setting card of a job, as a file"))
    parser.description = tr(
        "Write the setting card of a saved job: band, precharge and the steps in their order, on"
        " one page. While a stop is open there is no card."
    )
    add_paper_options(parser)
    parser.set_defaults(run=_run)


def _run(options: argparse.Namespace) -> int:
    asked = paper_results(options)
    from workbench.report.card import card_content
    from workbench.study.card import card_record, card_view

    content = card_content(asked.results, asked.display)
    record: dict[str, Any] = {}
    if not isinstance(content, str):  # else a stop stands, and is refused below
        record = {"catalog": asked.file, **card_record(asked.results, card_view(asked.results))}
    return hand_over(options, content, record)
