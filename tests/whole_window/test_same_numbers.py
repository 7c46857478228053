"""Evaluation, command line and window say the same of the same job."""

from __future__ import annotations

import json
import random
from pathlib import Path
from typing import Any

import pytest
from pytestqt.qtbot import QtBot

from tests.whole_window.user import User, at_window, few_tanks, own_catalog
from workbench import cli
from workbench.job import document
from workbench.job.choices import Order, PrechargeRule, RunTimeRule
from workbench.job.fields import fields
from workbench.job.job import Job
from workbench.study.desk import load_candidates
from workbench.study.evaluate import Results, evaluate
from workbench.study.findings import Level
from workbench.units import Unread, parse

JOBS = 200
IN_WINDOW = 20

GALLON, PSI = 231 * 0.0254**3, 6894.757293168361


def random_job(chance: random.Random) -> Job:
    """A job as people type them: in mixed units, mostly sound, at times unreadable or absurd."""
    cut_in = chance.choice([20, 25, 30, 35, 40, 45, 50, 62.5])
    texts = {
        "pump_flow": chance.choice(
            [f"{chance.uniform(3, 40):.1f} gpm", f"{chance.uniform(15, 90):.0f} L/min", "600 gph"]
        ),
        "run_time": chance.choice(["1 min", "1.5 min", "2 min", "75 s", "0.5 min"]),
        "starts_limit": chance.choice(["6 /h", "10 /h", "15 /h"]),
        "cut_in": f"{cut_in} psi",
        "cut_out": f"{cut_in + chance.choice([5, 15, 20, 20, 20, 30])} psi",
        "precharge": f"{cut_in + chance.choice([-12, -2, 0, 3])} psi",
        "altitude": chance.choice(["0 ft", "900 ft", "5280 ft", "1500 m", "-200 ft"]),
        "tank_temperature": chance.choice(["55 °F", "12 °C"]),
        "exponent": chance.choice(["1.0", "1.0", "1.2", "1.4"]),
        "pressure_margin": chance.choice(["15 psi", "0 psi", "1 bar"]),
    }
    optional = {
        "reading_temperature": ["70 °F", "25 °C"],
        "reading_altitude": ["0 ft", "600 m"],
        "door_width": ["28 in", "70 cm", "18 in"],
        "headroom": ["74 in", "1.5 m", "40 in"],
    }
    texts |= {name: chance.choice(some) for name, some in optional.items() if chance.random() < 0.4}
    entries: dict[str, Any] = {
        name: parse(text, fields()[name].kind, default="" if name == "exponent" else None)
        for name, text in texts.items()
    }
    if chance.random() < 0.05:
        entries[chance.choice(list(texts))] = Unread("x", "“x” has no number.", "Type it again.")
    return Job(
        **entries,
        run_time_rule=chance.choice(list(RunTimeRule)),
        precharge_rule=chance.choice(list(PrechargeRule)),
        header_tanks=chance.choice([1, 1, 2, 3]),
        potable_required=chance.random() < 0.7,
        order=chance.choice(list(Order)),
    )


def jobs() -> list[Job]:
    chance = random.Random(20260314)
    return [random_job(chance) for _ in range(JOBS)]


def evaluated(job: Job) -> Results:
    _catalog, candidates = load_candidates(own_catalog(), job)
    return evaluate(job, candidates)


def by_command_line(
    job: Job, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> tuple[int, dict[str, Any], str]:
    """Exit status, record and refusal of ``size`` for a job's file."""
    path = tmp_path / "job.tankjob.json"
    document.write(job, path)
    status = cli.main(["size", str(path), "--catalog", str(own_catalog()), "--json"])
    out, err = capsys.readouterr()
    return status, json.loads(out) if out else {}, err


def same(one: float | None, other: float | None) -> bool:
    if one is None or other is None:
        return one is other
    return one == pytest.approx(other, rel=1e-9, abs=1e-12)


def test_the_command_line_prints_what_was_evaluated(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    few_tanks(16)
    refused = 0
    for job in jobs():
        results = evaluated(job)
        status, record, told = by_command_line(job, tmp_path, capsys)
        stops = results.of_level(Level.STOP)
        assert status == (2 if stops else 0)
        if stops:
            refused += 1
            assert all(f"--{stop.field.replace('_', '-')}: " in told for stop in stops)
            continue
        assert results.sizing is not None
        assert results.precharge is not None
        assert results.ranking is not None
        assert same(record["required_drawdown_gal"], results.sizing.required / GALLON)
        assert same(record["precharge_psi"], results.precharge.in_service / PSI)
        where = results.precharge.where_set
        assert same(record["precharge_where_set_psi"], None if where is None else where / PSI)
        assert len(record["ranking"]) == len(results.ranking)
        for position, row in enumerate(record["ranking"]):
            one = results.ranking.row(position)
            assert (row["id"], row["tanks"], row["passes"]) == (one.tank.id, one.count, one.passes)
            assert same(row["drawdown_gal"], one.drawdown / GALLON)
            assert same(row["run_time_min"], one.run_time / 60)
        assert [f["code"] for f in record["findings"]] == [f.code for f in results.findings]
    assert 5 < refused < JOBS / 2


def test_the_window_shows_what_the_command_line_prints(
    qtbot: QtBot, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    user = at_window(qtbot, catalog=few_tanks(16))
    stopped = 0
    for job in jobs()[:: JOBS // IN_WINDOW]:
        user.store.open_job(job, None)
        status, record, _told = by_command_line(job, tmp_path, capsys)
        stopped += status != 0
        if status:
            assert "—" in user.figures() or user.rows() == []
        else:
            assert_shown(user, record)
    assert stopped < IN_WINDOW / 2


def assert_shown(user: User, record: dict[str, Any]) -> None:
    """All that the window shows is in the record, rounded as it is shown."""
    set_to = record["precharge_where_set_psi"]
    if set_to is None:
        set_to = record["precharge_psi"]
    assert user.figures() == (f"{record['required_drawdown_gal']:.1f} gal", f"{set_to:.1f} psi")
    required = user.required()
    assert required is not None
    assert same(required[0], record["required_drawdown_gal"])
    rules = {rule["rule"]: rule for rule in record["rules"]}
    assert user.rules()[2::3] == [
        f"{rules[rule]['drawdown_gal']:.1f} gal" for rule in ("typed", "steps", "starts")
    ]
    ranking = record["ranking"]
    assert len(user.rows()) == len(ranking)
    for shown, row in zip(user.rows(), ranking, strict=True):
        count = f"{row['tanks']} × " if row["tanks"] > 1 else ""
        assert shown[:2] == ["Passes" if row["passes"] else "Fails", f"{count}{row['name']}"]
        assert shown[2] == f"{row['total_volume_gal']:.1f}"
        assert shown[3] == f"{row['drawdown_gal']:.1f}"
        assert number(shown[4]) == pytest.approx(row["margin_gal"], abs=0.0501)
        assert shown[5] == f"{row['run_time_min']:.2f}"
        starts = row["worst_starts_per_hour"]
        assert shown[6] == ("∞" if starts is None else f"{starts:.1f}")
        assert shown[7] == ("—" if row["price"] is None else f"{row['price']:.2f} USD")
        assert shown[-1] in " ".join(row["reasons"])
    marks = sorted((r["total_volume_gal"], r["drawdown_gal"], r["passes"]) for r in ranking)
    for mark, (volume, water, passes) in zip(user.marks(), marks, strict=True):
        assert (mark.volume, mark.drawdown) == pytest.approx((volume, water), rel=1e-9, abs=1e-9)
        assert mark.passes == passes
    last = len(ranking) - 1
    user.table.selectRow(last)
    assert user.detail() == f"{user.rows()[last][1]}: {' '.join(ranking[last]['reasons'])}"
    assert_told(user, record["findings"])


LEVELS = ("note", "caution", "stop")


def assert_told(user: User, findings: list[dict[str, str]]) -> None:
    """The gravest finding about each field, the first of equals, stands beneath it."""
    gravest: dict[str, dict[str, str]] = {}
    for finding in findings:
        field = finding["field"]
        if field == "precharge" and user.texts()["precharge_rule"] != "as typed":
            field = "precharge_rule"  # what was not typed is mended by its rule
        known = gravest.get(field)
        if known is None or LEVELS.index(finding["level"]) > LEVELS.index(known["level"]):
            gravest[field] = finding
    for field, finding in gravest.items():
        told = f"{finding['level'].capitalize()}: {finding['text']} {finding['remedy']}"
        assert user.messages()[field] == told.strip()


def number(text: str) -> float:
    return float(text.replace("−", "-"))
