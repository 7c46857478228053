"""What the page "Tolerances" says: figures as texts, with their reasons and sources."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from workbench.gui.pages.facts import Row
from workbench.gui.pages.stops import mend_first
from workbench.study.certainty.plan import TolerancePlan
from workbench.study.certainty.tolerance import FAIL_SHARE, PASS_SHARE, Verdict
from workbench.study.certainty.view import Certainty, ToleranceView
from workbench.study.certainty.words import half_text, run_text, share_text, verdict_word
from workbench.study.evaluate import Results
from workbench.study.findings import Finding, Level
from workbench.study.ranking import Ranking
from workbench.units import PERCENT, TEMPERATURE, TIME, Display, distinct
from workbench.words import tr

Shown = tuple[str, str, str]
"""A figure, its reason, and the role of the reason."""

_ROLES = {Verdict.PASS: "muted", Verdict.BORDERLINE: "caution", Verdict.FAIL: "problem"}


def legend() -> str:
    """What stands above the plot."""
    return tr(
        "Change of the chosen tank's run by each tolerance alone, the greatest on top. Hatched: at"
        " its −; filled: at its +. Point at the plot or use Up and Down to read it."
    )


def what_stops(results: Results, findings: Iterable[Finding]) -> str:
    """Why nothing can be worked out."""
    stops = mend_first((*results.findings, *findings))
    return stops or tr("There is no tank to choose from: open a catalogue.")


def told_here(
    results: Results, findings: Sequence[Finding], view: ToleranceView | None
) -> Iterable[Finding]:
    """The findings that this page must tell, wherever their fields stand."""
    stops = results.of_level(Level.STOP) if view is None else ()
    return (*stops, *findings, *(view.findings if view else ()))


def verdict_answer(view: ToleranceView, ranking: Ranking, display: Display) -> Shown:
    """Verdict and share of the chosen tank, and what the verdict goes by."""
    tank = view.tank
    if tank is None:
        return "", tr("Choose another tank; the table tells of those that there are."), "problem"
    figure = tr(
        "{verdict}, {share}",
        verdict=verdict_word(tank.verdict),
        share=share_text(tank.share, display),
    )
    reason = tr(
        "{name} runs at least {run} in {met} of {cases} cases. Pass from {most}, fail below"
        " {least}, borderline between: our own choice, no source.",
        name=ranking.judged(tank.candidate).name,
        run=display.text(view.plan.required_run, TIME),
        met=_count(round(tank.share * view.plan.cases)),
        cases=_count(view.plan.cases),
        most=display.text(PASS_SHARE, PERCENT),
        least=display.text(FAIL_SHARE, PERCENT),
    )
    return figure, reason, _ROLES[tank.verdict]


def worst_answer(view: ToleranceView, display: Display) -> Shown:
    """The worst run, with the usual one and the required one beside it."""
    tank = view.tank
    if tank is None:
        return "", tr("There is no chosen tank."), "problem"
    nominal, required = distinct(tank.nominal_run, view.plan.required_run, TIME, display)
    reason = tr(
        "When every tolerance acts against the run. With nothing off it is {nominal}, {required}"
        " is required.",
        nominal=nominal,
        required=required,
    )
    if view.plan.tank is not None and not view.swings:
        reason = _without_swings(tank)
    return run_text(tank.worst_run, display), reason, "muted"


def _without_swings(tank: Certainty) -> str:
    if tank.nominal_run > 0.0:
        return tr("Every tolerance is zero, so nothing changes the run.")
    return tr("Even with nothing off this tank gives no water between cut-out and cut-in.")


def no_picture(view: ToleranceView) -> str:
    """Why no bars can be drawn."""
    if view.tank is None:
        return tr("Choose a tank to see which tolerance matters most to it.")
    return _without_swings(view.tank)


def summary(view: ToleranceView) -> str:
    """How many of the tanks pass."""
    if not view.plan.rows:
        return tr("Every tank fails by more than its run; the page “Tank” says why.")
    count = dict.fromkeys(Verdict, 0)
    for place in range(len(view.plan.rows)):
        count[Verdict(int(view.outcome.verdict[place]))] += 1
    return tr(
        "Tanks that suit: {passing} pass, {between} borderline, {failing} fail",
        passing=count[Verdict.PASS],
        between=count[Verdict.BORDERLINE],
        failing=count[Verdict.FAIL],
    )


def basis_rows(view: ToleranceView, display: Display) -> list[Row]:
    """What the cases are, and what is taken for granted."""
    plan = view.plan
    rows: list[Row] = [
        (
            tr("Cases"),
            tr(
                "{cases} of them, from the number {seed}: the same number gives the same cases."
                " Every tank is judged by the same ones, so that tanks can be compared.",
                cases=_count(plan.cases),
                seed=plan.seed,
            ),
            "",
            "tolerance.cases",
        ),
        (
            tr("Deviations"),
            tr(
                "Each is anywhere within its ± with equal chance (rectangular, JCGM 100:2008, GUM,"
                " 4.3.7), whatever the others are; the gauge moves cut-in and cut-out together."
            ),
            "",
        ),
        (
            tr("Air in service"),
            tr(
                "{temperature} {half}; the pressure of the air goes with its absolute temperature.",
                temperature=display.text(plan.service_temperature, TEMPERATURE),
                half=half_text(plan, "temperature", display),
            ),
            "",
            "tolerance.warmth",
        ),
        (
            tr("Tanks shown"),
            tr("Those that fail by nothing, or by nothing but too little water or run."),
            "",
        ),
    ]
    if plan.bucket is not None:
        rows.insert(2, (tr("Timed refill"), _refill(plan, display), "", "tolerance.refill"))
    if any(plan.candidates.other[list(plan.rows)] >= 0):
        told = tr("Each membrane ends the filling of its own tank; the two runs are added up.")
        rows.append((tr("Two different tanks"), told, ""))
    return rows


def _refill(plan: TolerancePlan, display: Display) -> str:
    return tr(
        "Bucket {bucket} and watch {watch} make the flow more or less than it was taken for.",
        bucket=half_text(plan, "bucket", display),
        watch=half_text(plan, "watch", display),
    )


def _count(number: int) -> str:
    return f"{number:,}"
