"""``size``: required drawdown, precharge and ranked tanks."""

from __future__ import annotations

import argparse
from typing import Any

from workbench.cli.asked import ask, needed_to_size
from workbench.cli.options import add_job_options
from workbench.cli.output import answer, finding_lines
from workbench.words import tr


def add(commands: Any) -> None:
    """Add the parser of this sub-command."""
    parser = commands.add_parser("size", help=tr("required drawdown and ranked tanks"))
    parser.description = tr("Required drawdown, precharge and ranked tanks.")
    add_job_options(parser)
    parser.set_defaults(run=_run)


def _run(options: argparse.Namespace) -> int:
    asked = ask(options, needed_to_size(options))
    from workbench.study.record import size_record  # imports NumPy

    record = asked.source | size_record(asked.results)
    return answer(record, _lines(record), as_json=options.json)


def _lines(record: dict[str, Any]) -> list[str]:
    lines = [
        tr("Required drawdown {water} gal ({run} min run, {starts} starts an hour at worst)",
           water=f"{record['required_drawdown_gal']:.1f}", run=f"{record['run_time_min']:.2f}",
           starts=f"{record['worst_starts_per_hour']:.1f}"),
        _precharge(record),
        *finding_lines(record),
        "",
    ]  # fmt: skip
    for row in record["ranking"]:
        mark = f"{row['rank']:>3}" if row["passes"] else "  –"
        lines.append(f"{mark}  {row['set']}  {row['drawdown_gal']:.1f} gal")
        lines.append(f"     {' '.join(row['reasons'])}")
    return lines


def _precharge(record: dict[str, Any]) -> str:
    service, where_set = record["precharge_psi"], record["precharge_where_set_psi"]
    if where_set is None:
        return tr("Precharge {pressure} psi, tank drained", pressure=f"{service:.1f}")
    return tr(
        "Precharge {pressure} psi where it is set, tank drained, to be {service} psi in service",
        pressure=f"{where_set:.1f}",
        service=f"{service:.1f}",
    )
