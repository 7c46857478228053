"""The command line: the same job, evaluation and numbers as the window, without a display."""

from __future__ import annotations

import argparse
import json
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import Any, NoReturn

from workbench import __version__, paths
from workbench.catalog.problems import CatalogError
from workbench.job import document
from workbench.job.choices import Order, PrechargeRule, RunTimeRule
from workbench.job.document import JobError
from workbench.job.fields import fields
from workbench.job.job import Job
from workbench.units import VOLUME, Display, Kind, UnitError, parse
from workbench.words import tr

PROGRAM = "tank-workbench"
_NEEDED = ("pump_flow", "cut_in", "cut_out")


class _RefusalError(Exception):
    """Input that cannot be used; its text is the one line that the user reads."""


class _Parser(argparse.ArgumentParser):
    """argparse, but an error is one line."""

    def error(self, message: str) -> NoReturn:
        raise _RefusalError(message)


def main(argv: Sequence[str] | None = None) -> int:
    """Run a sub-command. Returns the exit status: 0, or 2 for input that cannot be used."""
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(encoding="utf-8", errors="replace")
    try:
        options = _parser().parse_args(argv)
        return int(options.run(options))
    except _RefusalError as refusal:
        line = " ".join(str(refusal).split())
    except (JobError, CatalogError) as error:
        line = " ".join(str(error).split())
    except BrokenPipeError:
        sys.stderr.close()  # the reader (head, less) has seen enough
        return 0
    print(f"{PROGRAM}: {line}", file=sys.stderr)
    return 2


def _parser() -> argparse.ArgumentParser:
    parser = _Parser(
        prog=PROGRAM,
        description=tr("Choose and set the pressure tank of a private water well."),
        epilog=tr(
            "Without a sub-command the window opens, with a job FILE if one is named."
            " --reset-settings first forgets how the window was set; --diagnostics prints versions."
        ),
    )
    parser.add_argument("--version", action="version", version=f"{PROGRAM} {__version__}")
    commands = parser.add_subparsers(required=True, metavar="COMMAND")
    _add_size(commands.add_parser("size", help=tr("required drawdown and ranked tanks")))
    _add_drawdown(commands.add_parser("drawdown", help=tr("drawdown of one tank")))
    check = commands.add_parser("check-catalog", help=tr("list all that is wrong in a catalogue"))
    check.add_argument("file", type=Path, metavar="FILE")
    check.set_defaults(run=_check_catalog)
    return parser


def _option(name: str) -> str:
    return "--" + name.replace("_", "-")


def _add_quantities(parser: argparse.ArgumentParser, names: Sequence[str]) -> None:
    for name in names:
        field = fields()[name]
        parser.add_argument(_option(name), metavar="TEXT", help=f"{field.label}. {field.help}")


def _add_size(parser: argparse.ArgumentParser) -> None:
    parser.description = tr("Required drawdown, precharge and ranked tanks.")
    parser.add_argument("job", nargs="?", type=Path, metavar="JOBFILE", help=tr("a saved job"))
    _add_quantities(parser, [name for name in fields() if name != "bands"])
    parser.add_argument("--rule", choices=[rule.value for rule in RunTimeRule])
    parser.add_argument("--precharge-rule", choices=[rule.value for rule in PrechargeRule])
    parser.add_argument("--order", choices=[order.value for order in Order])
    parser.add_argument("--tanks", type=int, choices=(1, 2, 3), help=tr("most tanks on a header"))
    parser.add_argument(
        "--any-water",
        action="store_true",
        help=tr("also offer tanks without a potable-water listing"),
    )
    parser.add_argument("--catalog", type=Path, metavar="FILE", help=tr("catalogue to rank"))
    parser.add_argument("--json", action="store_true", help=tr("print JSON"))
    parser.set_defaults(run=_size)


def _add_drawdown(parser: argparse.ArgumentParser) -> None:
    parser.description = tr("Drawdown of one tank at one setting, with the working.")
    parser.add_argument("--volume", required=True, metavar="TEXT", help=tr("total volume"))
    parser.add_argument("--acceptance", metavar="TEXT", help=tr("most water it lets in"))
    _add_quantities(parser, ["cut_in", "cut_out", "precharge", "altitude", "exponent"])
    parser.add_argument("--precharge-rule", choices=[rule.value for rule in PrechargeRule])
    parser.add_argument("--json", action="store_true", help=tr("print JSON"))
    parser.set_defaults(run=_drawdown)


def _quantity(text: str, kind: Kind, option: str) -> Any:
    try:
        return parse(text, kind, default="" if not kind.us else None)
    except UnitError as error:
        raise _RefusalError(f"{option}: {error} {error.remedy}") from error


def _job(options: argparse.Namespace, base: Job) -> Job:
    """The job that the options describe, on top of ``base``."""
    changes: dict[str, Any] = {
        name: _quantity(text, field.kind, _option(name))
        for name, field in fields().items()
        if (text := getattr(options, name, None)) is not None
    }
    rules = {
        "run_time_rule": (RunTimeRule, "rule"),
        "precharge_rule": (PrechargeRule, "precharge_rule"),
        "order": (Order, "order"),
    }
    for name, (choice, option) in rules.items():
        if value := getattr(options, option, None):
            changes[name] = choice(value)
    typed = PrechargeRule.TYPED
    if "precharge" in changes and changes.setdefault("precharge_rule", typed) is not typed:
        raise _RefusalError(tr("--precharge: goes only with --precharge-rule typed."))
    if "run_time" in changes:
        changes.setdefault("run_time_rule", RunTimeRule.TYPED)
    if "starts_limit" in changes:
        changes.setdefault("run_time_rule", RunTimeRule.STARTS)
    if getattr(options, "tanks", None):
        changes["header_tanks"] = options.tanks
    if getattr(options, "any_water", False):
        changes["potable_required"] = False
    return base.changed(**changes)


def _require(options: argparse.Namespace, names: Sequence[str]) -> None:
    missing = [_option(name) for name in names if getattr(options, name) is None]
    if missing:
        raise _RefusalError(tr("these options are needed: {options}", options=", ".join(missing)))


def _size(options: argparse.Namespace) -> int:
    from workbench.study.desk import load_candidates  # imports NumPy
    from workbench.study.evaluate import evaluate
    from workbench.study.record import size_record

    if options.job is None:
        rule = options.rule or ("starts" if options.starts_limit else RunTimeRule.TYPED.value)
        by_rule = {
            RunTimeRule.TYPED.value: ["run_time"],
            RunTimeRule.STARTS.value: ["starts_limit"],
        }
        _require(options, (*_NEEDED, *by_rule.get(rule, [])))
        base = Job()
    else:
        base = document.read(options.job)
    job = _job(options, base)
    catalog, candidates = load_candidates(options.catalog or paths.default_catalog(), job)
    if catalog.problems:  # with the file as a whole, not with a row of it
        first = catalog.problems[0]
        raise _RefusalError(tr("{name}: {problem}", name=catalog.path.name, problem=first))
    results = evaluate(job, candidates)
    _refuse_stops(results.findings)
    source = {"catalog": catalog.path.name, "catalog_rows_not_used": len(catalog.bad_rows)}
    record = source | size_record(results)
    print(_json(record) if options.json else _size_text(record))
    return 0


def _drawdown(options: argparse.Namespace) -> int:
    from workbench.study.single import drawdown_record  # imports NumPy

    _require(options, ("cut_in", "cut_out"))
    volume = _quantity(options.volume, VOLUME, "--volume")
    acceptance = None
    if options.acceptance is not None:
        acceptance = _quantity(options.acceptance, VOLUME, "--acceptance").si
    for option, value in (("--volume", volume.si), ("--acceptance", acceptance)):
        if value is not None and value <= 0:
            raise _RefusalError(tr("{option}: must be above zero.", option=option))
    if acceptance is not None and acceptance > volume.si:
        raise _RefusalError(tr("--acceptance: cannot be more than the total volume."))
    record, findings = drawdown_record(_job(options, Job()), volume.si, acceptance)
    _refuse_stops(findings)
    if options.json:
        print(_json(record))
    else:
        print(tr("Drawdown {water} gal", water=f"{record['drawdown_gal']:.2f}"))
        print("\n".join(record["working"]))
        print("\n".join(f"{item['text']} {item['remedy']}" for item in record["findings"]))
    return 0


def _refuse_stops(findings: Any) -> None:
    from workbench.study.findings import Level

    stops = [finding for finding in findings if finding.level is Level.STOP]
    if stops:
        lines = (f"{_option(stop.field)}: {stop.sentence(Display())}" for stop in stops)
        raise _RefusalError("; ".join(lines))


def _json(record: dict[str, Any]) -> str:
    return json.dumps(record, ensure_ascii=False, indent=1, allow_nan=False)


def _precharge_text(record: dict[str, Any]) -> str:
    service, where_set = record["precharge_psi"], record["precharge_where_set_psi"]
    if where_set is None:
        return tr("Precharge {pressure} psi, tank drained", pressure=f"{service:.1f}")
    return tr(
        "Precharge {pressure} psi where it is set, tank drained, to be {service} psi in service",
        pressure=f"{where_set:.1f}",
        service=f"{service:.1f}",
    )


def _size_text(record: dict[str, Any]) -> str:
    lines = [
        tr("Required drawdown {water} gal ({run} min run, {starts} starts an hour at worst)",
           water=f"{record['required_drawdown_gal']:.1f}", run=f"{record['run_time_min']:.2f}",
           starts=f"{record['worst_starts_per_hour']:.1f}"),
        _precharge_text(record),
        *(f"{item['level']}: {item['text']} {item['remedy']}" for item in record["findings"]),
        *_rows_not_used(record),
        "",
    ]  # fmt: skip
    for row in record["ranking"]:
        mark = f"{row['rank']:>3}" if row["passes"] else "  –"
        count = f"{row['tanks']} × " if row["tanks"] > 1 else ""
        lines.append(f"{mark}  {count}{row['name']}  {row['drawdown_gal']:.1f} gal")
        lines.append(f"     {' '.join(row['reasons'])}")
    return "\n".join(lines)


def _rows_not_used(record: dict[str, Any]) -> list[str]:
    count = record["catalog_rows_not_used"]
    text = tr("Rows of the catalogue that cannot be used: {count}. See check-catalog.", count=count)
    return [text] if count else []


def _check_catalog(options: argparse.Namespace) -> int:
    from workbench.catalog.check import check_file

    lines, usable = check_file(options.file)
    print("\n".join(lines))
    return 0 if usable else 1
