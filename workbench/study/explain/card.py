"""How the figures on the setting card come about, by the decimal mark of the firm's papers."""

from __future__ import annotations

from workbench.study.card import ALARM, FULL_WATER, CardView, card_view
from workbench.study.explain import pictures
from workbench.study.explain.explanation import Asked, Explain, Working
from workbench.study.explain.on_paper import on_paper
from workbench.study.explain.steps import ending
from workbench.study.explain.system_steps import fine
from workbench.study.job_working import precharge_steps, run_steps, tank_steps
from workbench.study.setting import Setting
from workbench.study.working import Step
from workbench.units import MASS, PRESSURE, SHORT_TIME, VOLUME, Display
from workbench.words import tr


def _card(asked: Asked) -> tuple[CardView, Setting, Display] | None:
    view = card_view(asked.results)
    if view.setting is None or view.spread is None or view.tank is None:
        return None
    return view, view.setting, on_paper(asked.results.job, asked.display)


def _charge(asked: Asked) -> Working | None:
    found = _card(asked)
    if found is None:
        return None
    _, setting, display = found
    first = next(iter(precharge_steps(asked.results, setting, display)))
    return Working((first,), picture=pictures.air(setting, display))


def _where_set(asked: Asked) -> Working | None:
    found = _card(asked)
    if found is None or found[0].where_set is None:
        return None
    view, setting, display = found
    *first, last = precharge_steps(asked.results, setting, display)
    return Working((*first, ending(last, view.where_set or 0.0, PRESSURE, display)))


def _range(title: str, value: float, spread: float, display: Display) -> Working:
    middle, off, low, high = (
        display.text(p, PRESSURE) for p in (value, spread, value - spread, value + spread)
    )
    source = tr("tolerances as entered")
    steps = (
        Step(tr("{name}, lowest", name=title), tr("setting − tolerance"),
             f"{middle} − {off} = {low}", source),
        Step(tr("{name}, highest", name=title), tr("setting + tolerance"),
             f"{middle} + {off} = {high}", source),
    )  # fmt: skip
    return Working(steps, picture=pictures.spread(off, title))


def _start(asked: Asked) -> Working | None:
    found = _card(asked)
    if found is None:
        return None
    view, setting, display = found
    assert view.spread is not None  # noqa: S101 - asked above
    return _range(tr("Pump starts"), setting.cut_in, view.spread.cut_in, display)


def _stop(asked: Asked) -> Working | None:
    found = _card(asked)
    if found is None:
        return None
    view, setting, display = found
    assert view.spread is not None  # noqa: S101 - asked above
    return _range(tr("Pump stops"), setting.cut_out, view.spread.cut_out, display)


def _charge_range(asked: Asked) -> Working | None:
    found = _card(asked)
    if found is None:
        return None
    view, setting, display = found
    assert view.spread is not None  # noqa: S101 - asked above
    return _range(tr("Precharge"), setting.precharge, view.spread.precharge, display)


def _weight(asked: Asked) -> Working | None:
    found = _card(asked)
    if found is None:
        return None
    view, _, display = found
    assert view.tank is not None  # noqa: S101 - asked above
    each = FULL_WATER * display.unit(VOLUME).factor / display.unit(MASS).factor
    weight = display.text(view.full_water or 0.0, MASS, 0)
    step = Step(
        tr("Water that fills the tank"),
        tr("V × weight of 1 {unit}", unit=display.symbol(VOLUME)),
        f"{display.text(view.tank.total_volume, VOLUME)} × {fine(each, display)} = {weight}",
        tr("common practice: 8.34 lb a gallon"),
    )
    return Working((step,))


def _drawdown(asked: Asked) -> Working | None:
    found = _card(asked)
    if found is None:
        return None
    view, setting, display = found
    assert view.tank is not None  # noqa: S101 - asked above
    *first, last = tank_steps(setting, view.tank, display)
    last = ending(last, view.tank.drawdown, VOLUME, display)
    return Working((*first, last), picture=pictures.air(setting, display))


def _run(asked: Asked) -> Working | None:
    found, duty = _card(asked), asked.results.inputs.duty
    if found is None or duty is None:
        return None
    view, setting, display = found
    assert view.tank is not None  # noqa: S101 - asked above
    runs = list(run_steps(duty, view.tank, display))
    if not runs:
        return None
    last = ending(runs[0], view.tank.run_time, SHORT_TIME, display)
    return Working((*tank_steps(setting, view.tank, display), last))


def _alarm(asked: Asked, sign: str) -> Working | None:
    found = _card(asked)
    if found is None:
        return None
    view, setting, display = found
    assert view.spread is not None  # noqa: S101 - asked above
    at = view.alarm_low if sign == "−" else view.alarm_high
    if at is None:
        return None
    least, off, away, charge, shown = (
        display.text(p, PRESSURE)
        for p in (ALARM, view.spread.precharge, abs(at - setting.precharge), setting.precharge, at)
    )
    distance = Step(
        tr("Distance"),
        tr("{least}, or the tolerance of the precharge where that is more", least=least),
        tr("{least}, {tolerance} → {away}", least=least, tolerance=off, away=away),
        tr("Washington State Department of Health 331-342, November 2010; from the setting here"),
    )
    title = tr("Add air below") if sign == "−" else tr("Let air out above")
    last = Step(title, tr("precharge and the distance"), f"{charge} {sign} {away} = {shown}",
                tr("our own choice"))  # fmt: skip
    return Working((distance, last))


def _alarm_low(asked: Asked) -> Working | None:
    return _alarm(asked, "−")


def _alarm_high(asked: Asked) -> Working | None:
    return _alarm(asked, "+")


FIGURES: dict[str, Explain] = {
    "charge": _charge,
    "charge_range": _charge_range,
    "where_set": _where_set,
    "start": _start,
    "stop": _stop,
    "weight": _weight,
    "drawdown": _drawdown,
    "run": _run,
    "alarm_low": _alarm_low,
    "alarm_high": _alarm_high,
}
"""The explaining function of each figure of the paper."""
