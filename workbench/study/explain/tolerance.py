"""How the figures of the page "Tolerances" come about.

``asked.own`` is the study of the present plan; None while it is being worked out.
"""

from __future__ import annotations

from math import isclose, isinf

from workbench.study.certainty.plan import TolerancePlan
from workbench.study.certainty.tolerance import Swing
from workbench.study.certainty.view import Certainty, ToleranceView
from workbench.study.certainty.words import (
    half_text,
    run_text,
    share_text,
    tolerance_name,
    tolerance_steps,
)
from workbench.study.explain import pictures
from workbench.study.explain.explanation import Asked, Explain, Picture, Working
from workbench.study.explain.steps import boyle, ending_as, entered
from workbench.study.explain.supply import mean_flow_steps
from workbench.study.job_working import run_steps, tank_steps
from workbench.study.working import Step
from workbench.units import FLOW, NUMBER, PRESSURE, TEMPERATURE, TIME, VOLUME, distinct
from workbench.words import tr


def _view(asked: Asked) -> ToleranceView | None:
    return asked.own if isinstance(asked.own, ToleranceView) else None


def _row(asked: Asked) -> tuple[ToleranceView, Certainty] | None:
    """The tank of a row of the table."""
    view = _view(asked)
    if view is None or asked.first >= len(view.plan.rows):
        return None
    return view, view.row(asked.first)


def _picture(view: ToleranceView, asked: Asked) -> Picture | None:
    """The tolerance that matters most."""
    if not view.swings:
        return None
    name = view.swings[0].name
    half = half_text(view.plan, name, asked.display, "")
    return pictures.spread(half, tolerance_name(name))


def _deviations(plan: TolerancePlan, asked: Asked) -> Step:
    halves = [
        f"{tolerance_name(name)} {half_text(plan, name, asked.display)}" for name in _used(plan)
    ]
    return Step(
        tr("Deviations"),
        tr("each anywhere within its ± with equal chance"),
        "; ".join(halves) or tr("none"),
        tr("rectangular: JCGM 100:2008 (GUM), 4.3.7; half-widths as entered"),
    )


def _used(plan: TolerancePlan) -> list[str]:
    names = ("gauge", "switch_in", "switch_out", "precharge", "temperature", "flow")
    measured = ("bucket", "watch") if plan.bucket is not None else ()
    return [name for name in (*names, *measured) if plan.half_width(name)]


# --- the answers ---


def _verdict(asked: Asked) -> Working | None:
    view = _view(asked)
    if view is None or view.tank is None:
        return None
    _, last = tolerance_steps(view, asked.display)
    steps = (_deviations(view.plan, asked), _nominal_step(view, view.tank, asked), last)
    return Working(steps, picture=_picture(view, asked))


def _nominal_step(view: ToleranceView, one: Certainty, asked: Asked) -> Step:
    shown, required = distinct(one.nominal_run, view.plan.required_run, TIME, asked.display)
    return Step(
        tr("Run with nothing off, and the required one"),
        tr("t = ∫ dw / Q(w) from cut-in to cut-out"),
        tr("{shown}, required {required}", shown=shown, required=required),
        tr("mass balance of the tank; the job's rule"),
    )


def _worst(asked: Asked) -> Working | None:
    view = _view(asked)
    if view is None or view.tank is None:
        return None
    beside = (_nominal_step(view, view.tank, asked),)
    return Working(_worst_steps(view, view.tank, asked), beside, _picture(view, asked))


def _worst_steps(view: ToleranceView, one: Certainty, asked: Asked) -> tuple[Step, ...]:
    """Every tolerance on its worse side; recomputed where no integral is needed."""
    deviations, shown = _deviations(view.plan, asked), run_text(one.worst_run, asked.display)
    signs = _signs(view.swings)
    found = _corner(view, one, signs, asked)
    if found:
        return (deviations, *found)
    sides = "; ".join(
        f"{tolerance_name(name)} {half_text(view.plan, name, asked.display, sign)}"
        for name, sign in ((name, "−" if sign < 0 else "+") for name, sign in signs.items())
    )
    last = Step(
        tr("Worst run"),
        tr("the least run of all corners and cases"),
        tr("{sides} → {shown}", sides=sides or tr("nothing off"), shown=shown),
        tr("each deviation at one of its ends; the run of a case as on the page “Cycle”"),
    )
    return deviations, last


def _signs(swings: tuple[Swing, ...]) -> dict[str, float]:
    """On which side each tolerance shortens the run."""
    return {one.name: -1.0 if one.low < one.high else 1.0 for one in swings}


def _corner(
    view: ToleranceView, one: Certainty, signs: dict[str, float], asked: Asked
) -> tuple[Step, ...]:
    """The worst run from its pressures; () where the flow falls or a membrane ends the fill."""
    plan, display = view.plan, asked.display
    setting, flow = plan.setting, plan.delivery
    if not flow.is_constant or one.worst_run <= 0.0 or isinf(one.worst_run):
        return ()
    off = {name: sign * plan.half_width(name) for name, sign in signs.items()}
    low = setting.cut_in + off.get("gauge", 0.0) + off.get("switch_in", 0.0)
    high = setting.cut_out + off.get("gauge", 0.0) + off.get("switch_out", 0.0)
    warm = plan.service_temperature
    ratio = (warm + off.get("temperature", 0.0)) / warm
    air = setting.ambient
    charge = (setting.precharge + off.get("precharge", 0.0) + air) * ratio
    rate = flow.highest_flow * (1.0 + off.get("flow", 0.0))
    if plan.bucket is not None:
        volume, seconds = plan.bucket
        rate *= (volume + off.get("bucket", 0.0)) / volume
        rate *= seconds / (seconds + off.get("watch", 0.0))
    power = 1.0 / setting.exponent
    start = max(low + air, charge)
    factor = (charge / start) ** power - (charge / (high + air)) ** power
    size = float(plan.candidates.volume[one.candidate])
    if not isclose(factor * size / rate, one.worst_run, rel_tol=1e-6):
        return ()
    whole = [display.number(p, PRESSURE, 3) for p in (charge, start, high + air)]
    root = "" if setting.exponent == 1.0 else f"^(1/{setting.exponent:g})"
    root = root.replace(".", display.mark)
    share = display.number(factor, NUMBER, 5)
    sides = "; ".join(
        f"{tolerance_name(name)} {half_text(plan, name, display, '−' if sign < 0 else '+')}"
        for name, sign in signs.items()
    )
    return (
        Step(
            tr("Pressures of the worst corner, absolute, in {unit}", unit=display.symbol(PRESSURE)),
            tr(
                "precharge with its temperature, cut-in (or precharge if higher), cut-out: each off"
                " on its worse side"
            ),
            tr(
                "{sides} → {charge}; {low}; {high}",
                sides=sides,
                charge=whole[0],
                low=whole[1],
                high=whole[2],
            ),
            tr(
                "the air's pressure goes with its absolute temperature: Gay-Lussac's law, OpenStax"
                " College Physics, 2012, section 13.3"
            ),
        ),
        Step(
            tr("Drawdown factor there"),
            tr("f = Pp/Pin − Pp/Pout"),
            f"({whole[0]}/{whole[1]}){root} − ({whole[0]}/{whole[2]}){root} = {share}",
            boyle(),
        ),
        Step(
            tr("Worst run"),
            tr("t = f × V / Q"),
            f"{share} × {display.text(size, VOLUME)} / {display.text(rate, FLOW, 3)}"
            f" = {display.text(one.worst_run, TIME)}",
            tr("definition"),
        ),
    )


# --- the table ---


def _share(asked: Asked) -> Working | None:
    found, display = _row(asked), asked.display
    if found is None:
        return None
    view, one = found
    cases = view.plan.cases
    run = display.text(view.plan.required_run, TIME)
    last = Step(
        tr("Share of cases that meet the required run"),
        tr("cases with t ≥ {run} / all cases", run=run),
        f"{round(one.share * cases):,} / {cases:,} = {share_text(one.share, display)}",
        tolerance_steps(view, display)[1].source
        if view.tank is not None
        else tr("counted case by case"),
    )
    steps = (_deviations(view.plan, asked), _nominal_step(view, one, asked), last)
    return Working(steps, picture=_picture(view, asked))


def _nominal(asked: Asked) -> Working | None:
    found, display, results = _row(asked), asked.display, asked.results
    if found is None or results.ranking is None or results.duty is None:
        return None
    view, one = found
    tank, shown = results.ranking.judged(one.candidate), display.text(one.nominal_run, TIME)
    steps = [*tank_steps(view.plan.setting, tank, display)]
    steps += mean_flow_steps(results, results.duty.supply, display)
    run = tuple(run_steps(results.duty, tank, display))[:1]
    if not run:
        return Working((*steps, entered(tr("Run"), shown, tr("no water, no run"))))
    return Working((*steps, ending_as(run[0], shown)))


def _row_worst(asked: Asked) -> Working | None:
    found = _row(asked)
    if found is None:
        return None
    view, one = found
    steps = _worst_steps(view, one, asked)
    shown = asked.display.number(one.worst_run, TIME)
    if shown not in steps[-1].numbers:
        steps = (*steps[:-1], ending_as(steps[-1], shown))
    return Working(steps, picture=_picture(view, asked))


# --- what the cases rest on ---


def _cases(asked: Asked) -> Working | None:
    view = _view(asked)
    if view is None:
        return None
    step = Step(
        tr("Cases"),
        tr("points spread evenly over all deviations at once, from the job's number"),
        tr("{cases}, from the number {seed}", cases=f"{view.plan.cases:,}", seed=view.plan.seed),
        tr("quasi-random points; how many is our own choice, no source"),
    )
    return Working((_deviations(view.plan, asked), step), picture=_picture(view, asked))


def _warmth(asked: Asked) -> Working | None:
    view, display = _view(asked), asked.display
    if view is None:
        return None
    plan = view.plan
    kelvin = f"{plan.service_temperature:.2f} K".replace(".", display.mark)
    shown = display.text(plan.service_temperature, TEMPERATURE)
    half = half_text(plan, "temperature", display)
    half_kelvin = f"{plan.half_width('temperature'):.2f} K".replace(".", display.mark)
    step = Step(
        tr("Air in service"),
        tr("p goes with the absolute temperature: p × T / T0"),
        tr(
            "{kelvin} ± {half_kelvin}, that is {shown} {half}",
            kelvin=kelvin,
            half_kelvin=half_kelvin,
            shown=shown,
            half=half,
        ),
        tr("as entered; Gay-Lussac's law, OpenStax College Physics, 2012, section 13.3"),
    )
    picture = pictures.spread(half_text(plan, "temperature", display, ""), tr("Air temperature"))
    return Working((step,), picture=picture)


def _refill(asked: Asked) -> Working | None:
    view, display = _view(asked), asked.display
    if view is None or view.plan.bucket is None:
        return None
    plan, (volume, seconds) = view.plan, view.plan.bucket
    drained, time = display.text(volume, VOLUME, 2), display.text(seconds, TIME, 3)
    halves = [half_text(plan, name, display) for name in ("bucket", "watch")]
    step = Step(
        tr("Timed refill"),
        tr("Q = drained / time, both off by theirs"),
        tr(
            "({drained} {first}) / ({time} {second})",
            drained=drained,
            first=halves[0],
            time=time,
            second=halves[1],
        ),
        tr("half-widths as entered; common practice, no source"),
    )
    return Working((step,))


FIGURES: dict[str, Explain] = {
    "verdict": _verdict,
    "worst": _worst,
    "share": _share,
    "nominal": _nominal,
    "row_worst": _row_worst,
    "cases": _cases,
    "warmth": _warmth,
    "refill": _refill,
}
"""The explaining function of each figure of the page; those of a tank by its row."""
