"""How the figures of a live tank come about, each at the moment that is shown.

``asked.own`` is a :class:`~workbench.study.explain.watching.Watching`.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from workbench.physics.forgiving import SAME
from workbench.study.cycle.working import handbook
from workbench.study.evaluate import Results
from workbench.study.explain import pictures
from workbench.study.explain.explanation import Asked, Explain, Picture, Working
from workbench.study.explain.steps import ending, entered
from workbench.study.explain.system_steps import (
    balance,
    gauge_steps,
    held_at,
    pump_steps,
    rest_seconds,
    rest_steps,
    run_seconds,
    run_steps,
    span_text,
    stored_step,
)
from workbench.study.explain.watching import Watching
from workbench.study.job_working import precharge_steps
from workbench.study.live.rig import Rig
from workbench.study.live.view import RELIEF_ABOVE
from workbench.study.setting import Setting
from workbench.study.working import Step, air_step
from workbench.units import FLOW, PRESSURE, STARTS_PER_HOUR, TEMPERATURE, VOLUME, Display, Quantity
from workbench.words import tr

_FINE = 4


def _own(asked: Asked) -> Watching | None:
    return asked.own if isinstance(asked.own, Watching) else None


# --- gauge, water, air ---


def _gauge(asked: Asked) -> Working | None:
    own, display = _own(asked), asked.display
    if own is None:
        return None
    system, moment = own.rig.system, own.moment
    stored = system.stored(moment.pressure)
    steps = gauge_steps(system, stored, moment.pressure, display)
    held = held_at(system, tr("Water in the tank"), moment.pressure, display)
    picture = pictures.gauge(moment.pressure, system.ambient, display)
    return Working(tuple(steps), (held, *charge_steps(own.results, own.rig, display)), picture)


def _water(asked: Asked) -> Working | None:
    own, display = _own(asked), asked.display
    if own is None:
        return None
    system, moment = own.rig.system, own.moment
    held = held_at(system, tr("Water in the tank"), moment.pressure, display)
    first = (*_room_steps(own, display), air_step(own.rig.setting, display))
    return Working(
        (*first, ending(held, moment.water, VOLUME, display)),
        charge_steps(own.results, own.rig, display),
    )


def _room_steps(own: Watching, display: Display) -> tuple[Step, ...]:
    """The room that air and water share, where water lies above the membrane."""
    above = own.rig.water_above
    if above == 0.0:
        return ()
    whole, under = own.rig.system.volume + above, own.rig.system.volume
    volume, lies, left = (display.text(one, VOLUME, 2) for one in (whole, above, under))
    return (
        Step(
            tr("Room beneath the water on the membrane"),
            tr("total volume − water above"),
            f"{volume} − {lies} = {left}",
            tr("the fault's size is our own choice"),
        ),
    )


def _air(asked: Asked) -> Working | None:
    own, display = _own(asked), asked.display
    if own is None:
        return None
    system, moment = own.rig.system, own.moment
    volume, held = display.text(system.volume, VOLUME, 2), display.text(moment.water, VOLUME, 2)
    room = Step(
        tr("Room of the air"),
        tr("V − w"),
        f"{volume} − {held} = {display.text(moment.air, VOLUME)}",
        tr("what is not water is air"),
    )
    water = held_at(system, tr("Water in the tank"), moment.pressure, display)
    return Working(
        (*_room_steps(own, display), water, room), charge_steps(own.results, own.rig, display)
    )


def _stored(asked: Asked) -> Working | None:
    own, display = _own(asked), asked.display
    if own is None:
        return None
    system, pressure = own.rig.system, own.moment.pressure
    held = held_at(system, tr("Water in the tank"), pressure, display)
    last = stored_step(system, tr("Water under pressure"), pressure, display)
    return Working((held, ending(last, system.stored(pressure), VOLUME, display)))


def _drawdown(asked: Asked) -> Working | None:
    """By the band as it was set, on the tank as it is."""
    own, display = _own(asked), asked.display
    if own is None:
        return None
    system, setting = own.rig.system, own.rig.setting
    high, low = system.water(setting.cut_out), system.water(setting.cut_in)
    first = (
        *_room_steps(own, display),
        held_at(system, tr("Water at cut-out, as set"), setting.cut_out, display),
        held_at(system, tr("Water at cut-in, as set"), setting.cut_in, display),
    )
    shown = (display.text(one, VOLUME, 2) for one in (high, low))
    last = Step(
        tr("Drawdown"),
        tr("Vd = water at cut-out − water at cut-in"),
        f"{' − '.join(shown)} = {display.text(high - low, VOLUME)}",
        boyle_source(),
    )
    picture = pictures.air(setting, display) if _is_sound(own) else None
    return Working((*first, last), charge_steps(own.results, own.rig, display), picture)


def boyle_source() -> str:
    """The source of a drawdown."""
    return tr("non-profit well council information sheet “Pressure Tanks”, January 2007, p. 2")


def _is_sound(own: Watching) -> bool:
    """Whether the rig is as its setting has it, so that a picture of the setting is true of it."""
    system, setting = own.rig.system, own.rig.setting
    same = math.isclose(system.precharge, setting.precharge, rel_tol=SAME, abs_tol=1e-3)
    return same and setting.cut_out < system.full_at


# --- flows ---


def _pump(asked: Asked) -> Working | None:
    own = _own(asked)
    if own is None or not own.moment.gives:
        return None
    return Working(_pump_now(own, asked.display))


def _pump_now(own: Watching, display: Display) -> tuple[Step, ...]:
    pressure = own.moment.pressure
    title = tr("The pump at {pressure}", pressure=display.text(pressure, PRESSURE))
    return pump_steps(own.results, own.rig.system, pressure, own.moment.pump_flow, display, title)


def _tank(asked: Asked) -> Working | None:
    own, display = _own(asked), asked.display
    if own is None:
        return None
    one = own.moment
    comes, draws = (display.text(flow, FLOW, 2) for flow in (one.pump_flow, one.tap_flow))
    into = one.stored_flow
    back = "" if one.back_flow == 0.0 else f" − {display.text(one.back_flow, FLOW, 2)}"
    formula = tr("pump − tap") if not back else tr("pump − tap − back into the well")
    sign = "−" if into < 0.0 else ""
    last = Step(
        tr("Into the tank; below zero: out of it"),
        formula,
        f"{comes} − {draws}{back} = {sign}{display.text(abs(into), FLOW)}",
        balance(),
    )
    beside = _pump_now(own, display) if one.gives else ()
    return Working((last,), beside)


def _tap(asked: Asked) -> Working | None:
    own, display = _own(asked), asked.display
    if own is None:
        return None
    one = own.moment
    wanted, got = display.text(own.tap, FLOW), display.text(one.tap_flow, FLOW)
    if not one.is_dry:
        return Working((entered(tr("Tap"), got, tr("q as the tap is opened")),))
    last = Step(
        tr("Tap without pressure"),
        tr("it gets what the pump gives, and no more than it is opened for"),
        tr("{wanted} wanted, {got} come → {got}", wanted=wanted, got=got),
        balance(),
    )
    return Working((last,), _pump_now(own, display) if one.gives else ())


# --- run, rest, starts ---


def _rest(asked: Asked) -> Working | None:
    own = _own(asked)
    seconds = None if own is None else rest_seconds(own.rig.system, own.tap)
    if own is None or seconds is None:
        return None
    steps = rest_steps(own.rig.system, own.tap, seconds, asked.display)
    return Working(steps, picture=_turn_picture(own, asked.display))


def _run(asked: Asked) -> Working | None:
    own = _own(asked)
    seconds = None if own is None else run_seconds(own.rig.system, own.tap)
    if own is None or seconds is None:
        return None
    steps = run_steps(own.results, own.rig.system, own.tap, seconds, asked.display)
    return Working(steps, picture=_turn_picture(own, asked.display))


def _turn_picture(own: Watching, display: Display) -> Picture | None:
    run, rest = (f(own.rig.system, own.tap) for f in (run_seconds, rest_seconds))
    return None if run is None or rest is None else pictures.turn(run, rest, display)


def _starts(asked: Asked) -> Working | None:
    own, display = _own(asked), asked.display
    if own is None:
        return None
    run, rest = (f(own.rig.system, own.tap) for f in (run_seconds, rest_seconds))
    if run is None or rest is None:
        return None
    shown, pause = span_text(run, display), span_text(rest, display)
    often = display.text(1.0 / (run + rest), STARTS_PER_HOUR)
    last = Step(
        tr("Starts"), tr("N = 1 / (run + rest)"), f"1 / ({shown} + {pause}) = {often}", handbook()
    )
    first = rest_steps(own.rig.system, own.tap, rest, display)
    more = run_steps(own.results, own.rig.system, own.tap, run, display)
    once = tuple(dict.fromkeys((*first, *more, last)))
    return Working(once, picture=pictures.turn(run, rest, display))


# --- what was set ---


def _charge(asked: Asked) -> Working | None:
    own, display = _own(asked), asked.display
    if own is None:
        return None
    *first, last = charge_steps(own.results, own.rig, display)
    return Working((*first, ending(last, own.rig.system.precharge, PRESSURE, display)))


def charge_steps(results: Results, rig: Rig, display: Display) -> tuple[Step, ...]:
    """How the precharge came to be what it is: as set, at today's temperature, with the fault."""
    return tuple(_charged(results, rig, display))


def _charged(results: Results, rig: Rig, display: Display) -> Iterator[Step]:
    setting, job = rig.setting, results.job
    yield next(iter(precharge_steps(results, setting, display)))
    healthy = results.live.rig
    sound = setting.precharge if healthy is None else healthy.system.precharge
    if isinstance(job.live_air, Quantity) and isinstance(job.tank_temperature, Quantity):
        yield _warmed(setting, job.live_air.si, job.tank_temperature.si, sound, display)
    now = rig.system.precharge
    if math.isclose(now, sound, rel_tol=SAME, abs_tol=1e-3):
        return
    before, after = (display.text(one, PRESSURE, 2) for one in (sound, now))
    away, sign = display.text(abs(now - sound), PRESSURE, 2), "−" if now < sound else "+"
    yield Step(
        tr("Precharge as it is now"),
        tr("the right one, less what is lost or with what is too much"),
        f"{before} {sign} {away} = {after}",
        tr("the fault's size is our own choice; what leaks away goes at each start"),
    )


def _warmed(
    setting: Setting, now: float, service: float, precharge: float, display: Display
) -> Step:
    """Gay-Lussac's law on the sealed charge, from the temperature it was set for [K]."""

    def pressure(value: float) -> str:
        return display.number(value, PRESSURE, 3)

    def kelvin(value: float) -> str:
        return f"{value:.2f}".replace(".", display.mark)

    air = pressure(setting.ambient)
    return Step(
        tr(
            "Sealed charge at {temperature}; pressures in {unit}, temperatures in K",
            temperature=display.text(now, TEMPERATURE),
            unit=display.symbol(PRESSURE),
        ),
        tr("Pp now = (Pp + air pressure) × T now / T in service − air pressure"),
        f"({pressure(setting.precharge)} + {air}) × {kelvin(now)} / {kelvin(service)} − {air}"
        f" = {pressure(precharge)}",
        tr("Gay-Lussac's law, OpenStax College Physics, 2012, section 13.3"),
    )


def _relief(asked: Asked) -> Working | None:
    own, display = _own(asked), asked.display
    if own is None:
        return None
    opens, cut_out = own.rig.system.relief, own.rig.setting.cut_out
    shown, title = display.text(opens, PRESSURE), tr("The relief valve opens at")
    if isinstance(own.results.job.relief_setting, Quantity):
        return Working((entered(title, shown),))
    if not math.isclose(opens, cut_out + RELIEF_ABOVE, rel_tol=SAME):
        rated = tr("no valve is named: the tank's marked working pressure")
        source = tr("the tank's row of the catalogue; International Plumbing Code, section"
                    " 606.5.10 (from memory)")  # fmt: skip
        return Working((Step(title, rated, shown, source),))
    low, above = display.text(cut_out, PRESSURE), display.text(RELIEF_ABOVE, PRESSURE)
    return Working(
        (
            Step(
                title,
                tr("no valve and no marked pressure is known: cut-out and a distance"),
                f"{low} + {above} = {shown}",
                tr("our assumption"),
            ),
        )
    )


FIGURES: dict[str, Explain] = {
    "gauge": _gauge,
    "water": _water,
    "air": _air,
    "stored": _stored,
    "drawdown": _drawdown,
    "pump": _pump,
    "tank": _tank,
    "tap": _tap,
    "rest": _rest,
    "run": _run,
    "starts": _starts,
    "charge": _charge,
    "relief": _relief,
}
"""The explaining function of each figure of the picture."""
