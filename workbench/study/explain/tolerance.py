"""How the figures of the page "Tolerances" come about.

``asked.own`` is the study of the present plan; None while it is being worked out.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import isclose, isinf

from workbench.study.certainty.plan import TolerancePlan
from workbench.study.certainty.tolerance import NAMES, Swing
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
    last = Step(
        tr("Worst run"),
        tr("the least run of all corners and cases"),
        tr("{sides} → {shown}", sides=_sides(view.plan, signs, asked), shown=shown),
        tr("each deviation at one of its ends; the run of a case as on the page “Cycle”"),
    )
    return deviations, last


def _signs(swings: tuple[Swing, ...]) -> dict[str, float]:
    """On which side each tolerance shortens the run."""
    return {one.name: -1.0 if one.low < one.high else 1.0 for one in swings}


@dataclass(frozen=True, slots=True)
class _Corner:
    """A tank with every tolerance on one side.

    Absolute pressures [Pa], ``power`` 1/n, flow [m³/s]; volume and acceptance [m³], inf: not known.
    """

    charge: float
    start: float
    stop: float
    power: float
    flow: float
    volume: float
    acceptance: float

    @property
    def is_limited(self) -> bool:
        """Whether the membrane ends the fill before cut-out."""
        held: float = 1.0 - (self.charge / self.stop) ** self.power
        return self.acceptance < held * self.volume

    @property
    def factor(self) -> float:
        """Drawdown as a share of the volume [-]."""
        left: float = (self.charge / self.start) ** self.power
        if self.is_limited:
            return self.acceptance / self.volume - (1.0 - left)
        gone: float = (self.charge / self.stop) ** self.power
        return left - gone

    @property
    def run(self) -> float:
        """At no demand [s]."""
        return self.factor * self.volume / self.flow


def _corner_of(plan: TolerancePlan, candidate: int, signs: dict[str, float]) -> _Corner:
    setting, warm, air = plan.setting, plan.service_temperature, plan.setting.ambient
    off = dict.fromkeys(NAMES, 0.0)
    off |= {name: sign * plan.half_width(name) for name, sign in signs.items()}
    low = setting.cut_in + off["gauge"] + off["switch_in"]
    high = setting.cut_out + off["gauge"] + off["switch_out"]
    charge = (setting.precharge + off["precharge"] + air) * (warm + off["temperature"]) / warm
    flow = plan.delivery.highest_flow * (1.0 + off["flow"])
    if plan.bucket is not None:
        volume, seconds = plan.bucket
        flow *= (volume + off["bucket"]) / volume * seconds / (seconds + off["watch"])
    size, most = (
        float(one[candidate]) for one in (plan.candidates.volume, plan.candidates.acceptance)
    )
    start, stop, power = max(low + air, charge), high + air, 1.0 / setting.exponent
    return _Corner(charge, start, stop, power, flow, size, most)


def _corner(
    view: ToleranceView, one: Certainty, signs: dict[str, float], asked: Asked
) -> tuple[Step, ...]:
    """The worst run from its pressures; () where the flow falls or two membranes differ."""
    plan, display = view.plan, asked.display
    if not plan.delivery.is_constant or one.worst_run <= 0.0 or isinf(one.worst_run):
        return ()
    corner = _corner_of(plan, one.candidate, signs)
    if not isclose(corner.run, one.worst_run, rel_tol=1e-6):
        return ()
    charge, start, stop = (
        display.number(p, PRESSURE, 3) for p in (corner.charge, corner.start, corner.stop)
    )
    share, flow = display.number(corner.factor, NUMBER, 5), display.text(corner.flow, FLOW, 3)
    return (
        Step(
            tr("Pressures of the worst corner, absolute, in {unit}", unit=display.symbol(PRESSURE)),
            tr(
                "precharge with its temperature, cut-in (or precharge if higher), cut-out: each off"
                " on its worse side"
            ),
            tr(
                "{sides} → {charge}; {start}; {stop}",
                sides=_sides(plan, signs, asked),
                charge=charge,
                start=start,
                stop=stop,
            ),
            tr(
                "the air's pressure goes with its absolute temperature: Gay-Lussac's law, OpenStax"
                " College Physics, 2012, section 13.3"
            ),
        ),
        _factor_step(corner, (charge, start, stop), share, asked),
        Step(
            tr("Worst run"),
            tr("t = f × V / Q"),
            f"{share} × {display.text(corner.volume, VOLUME)} / {flow}"
            f" = {display.text(one.worst_run, TIME)}",
            tr("definition"),
        ),
    )


def _factor_step(
    corner: _Corner, pressures: tuple[str, str, str], share: str, asked: Asked
) -> Step:
    """The share of the volume that the worst corner gives."""
    charge, start, stop = pressures
    display, exponent = asked.display, 1.0 / corner.power
    root = "" if exponent == 1.0 else f"^(1/{exponent:g})".replace(".", display.mark)
    title = tr("Drawdown factor there")
    if not corner.is_limited:
        numbers = f"({charge}/{start}){root} − ({charge}/{stop}){root} = {share}"
        return Step(title, tr("f = Pp/Pin − Pp/Pout"), numbers, boyle())
    most, whole = (display.text(size, VOLUME, 2) for size in (corner.acceptance, corner.volume))
    return Step(
        title,
        tr("f = acceptance / V − (1 − Pp/Pin): the membrane ends the fill"),
        f"{most} / {whole} − (1 − ({charge}/{start}){root}) = {share}",
        tr("Boyle's law; the acceptance: the catalogue's row"),
    )


def _sides(plan: TolerancePlan, signs: dict[str, float], asked: Asked) -> str:
    """Which way each tolerance is off."""
    told = (
        f"{tolerance_name(name)} {half_text(plan, name, asked.display, '−' if sign < 0 else '+')}"
        for name, sign in signs.items()
    )
    return "; ".join(told) or tr("nothing off")


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
