"""How the figures of the page "Several tanks" come about; those of an old tank: ``plain``."""

from __future__ import annotations

from workbench.job.choices import run_time_rules
from workbench.study.explain import bench, pictures, plain
from workbench.study.explain.explanation import Asked, Explain, Working
from workbench.study.explain.steps import Air, ending, ending_as, entered, held_step
from workbench.study.explain.supply import mean_flow_steps
from workbench.study.header.record import header_steps
from workbench.study.header.view import TankOnHeader, TankSet
from workbench.study.working import Step, air_step
from workbench.units import FLOW, PERCENT, PRESSURE, TIME, VOLUME, Display, distinct
from workbench.words import tr

_PSI = PRESSURE.units["psi"].factor
_FINE = 3  # decimals of volumes whose difference is told


def _tanks(asked: Asked) -> TankSet | None:
    return asked.results.header.tanks


def _one(asked: Asked) -> TankOnHeader | None:
    """The tank in the row that is asked for."""
    tanks = _tanks(asked)
    if tanks is None or asked.first >= len(tanks.tanks):
        return None
    return tanks.tanks[asked.first]


def _drawdown(asked: Asked) -> Working | None:
    tanks, display = _tanks(asked), asked.display
    if tanks is None:
        return None
    own, rule = header_steps(tanks, display)
    shown, matched = display.text(tanks.drawdown, VOLUME), display.text(tanks.matched, VOLUME)
    if tanks.of_matched is not None and tanks.drawdown > 0.0:
        shown, matched = distinct(tanks.drawdown, tanks.matched, VOLUME, display)
    beside = [ending_as(rule, matched)]
    if tanks.of_matched is not None:
        share = display.text(tanks.of_matched, PERCENT)
        beside.append(
            Step(
                tr("Share of what matched tanks give"),
                tr("own / matched"),
                f"{shown} / {matched} = {share}",
                tr("definition"),
            )
        )
    setting = tanks.setting
    each = [_drawdown_step(one, tanks, display, _numbered(one)) for one in tanks.tanks]
    charge = bench.FIGURES["precharge"](asked)
    beside += () if charge is None else charge.steps[:1]
    steps = (air_step(setting, display), *each, ending_as(own, shown))
    return Working(steps, tuple(beside), pictures.air(setting, display))


def _numbered(one: TankOnHeader) -> str:
    return tr("Drawdown of tank {number}", number=one.number)


def _drawdown_step(one: TankOnHeader, tanks: TankSet, display: Display, title: str) -> Step:
    """What a tank gives: its water at cut-out less that at cut-in."""
    high, low, water = (
        display.text(size, VOLUME, 2) for size in (one.at_cut_out, one.at_cut_in, one.drawdown)
    )
    source = header_steps(tanks, display)[0].source
    return Step(
        title, tr("Vd = water at cut-out − water at cut-in"), f"{high} − {low} = {water}", source
    )


def _held(one: TankOnHeader, tanks: TankSet, display: Display, *, full: bool) -> Step:
    """The water in a tank at cut-out or cut-in."""
    setting = tanks.setting
    at, water = (setting.cut_out, one.at_cut_out) if full else (setting.cut_in, one.at_cut_in)
    title = tr("Water at cut-out") if full else tr("Water at cut-in")
    return held_step(title, Air.of(setting, one.precharge), one.volume, at, water, display)


def _own_drawdown(asked: Asked) -> Working | None:
    one, tanks, display = _one(asked), _tanks(asked), asked.display
    if one is None or tanks is None:
        return None
    last = _drawdown_step(one, tanks, display, tr("Drawdown"))
    steps = (
        air_step(tanks.setting, display),
        _held(one, tanks, display, full=True),
        _held(one, tanks, display, full=False),
        ending(last, one.drawdown, VOLUME, display),
    )
    return Working(steps)


def _volume(asked: Asked) -> Working | None:
    one = _one(asked)
    if one is None:
        return None
    return Working((entered(tr("Total volume"), asked.display.text(one.volume, VOLUME)),))


def _empty(asked: Asked) -> Working | None:
    one, tanks, display = _one(asked), _tanks(asked), asked.display
    if one is None or tanks is None:
        return None
    low, high = (display.text(at, PRESSURE) for at in (tanks.setting.cut_in, tanks.setting.cut_out))
    band = Step(
        tr("Switch band"),
        tr("it takes water below cut-out, and gives it down to its own precharge"),
        tr("{low} to {high}", low=low, high=high),
        tr("as entered"),
    )
    charge = entered(tr("Its own precharge"), display.text(one.precharge, PRESSURE))
    picture = pictures.gauge(one.precharge, tanks.setting.ambient, display)
    return Working((band, charge), picture=picture)


def _share(asked: Asked) -> Working | None:
    one, tanks, display = _one(asked), _tanks(asked), asked.display
    if one is None or tanks is None:
        return None
    water, whole = (display.text(size, VOLUME, _FINE) for size in (one.drawdown, tanks.drawdown))
    shown = display.text(one.share, PERCENT)
    joint = "=" if tanks.drawdown > 0.0 else "→"
    last = Step(
        tr("Share of the set's drawdown"),
        tr("Vd of the tank / Vd of all"),
        f"{water} / {whole} {joint} {shown}",
        tr("definition"),
    )
    own = _own_drawdown(asked)
    return Working((*(() if own is None else own.steps), last))


def _at_cut_in(asked: Asked) -> Working | None:
    return _water(asked, full=False)


def _at_cut_out(asked: Asked) -> Working | None:
    return _water(asked, full=True)


def _water(asked: Asked, *, full: bool) -> Working | None:
    one, tanks, display = _one(asked), _tanks(asked), asked.display
    if one is None or tanks is None:
        return None
    water = one.at_cut_out if full else one.at_cut_in
    last = ending(_held(one, tanks, display, full=full), water, VOLUME, display)
    return Working((air_step(tanks.setting, display), last))


def _matched_step(one: TankOnHeader, tanks: TankSet, display: Display) -> Step:
    """What a tank would give at the rule's precharge."""
    setting = tanks.setting

    def absolute(gauge: float) -> str:
        return display.number(gauge + setting.ambient, PRESSURE, 3)

    power = "" if setting.exponent == 1.0 else f"^(1/{setting.exponent:g})"
    power = power.replace(".", display.mark)
    charge, low, high = map(absolute, (setting.precharge, setting.cut_in, setting.cut_out))
    first = "1" if setting.precharge > setting.cut_in else f"({charge}/{low}){power}"
    if setting.precharge >= setting.cut_out:
        first = f"({charge}/{high}){power}"
    volume, water = display.text(one.volume, VOLUME), display.text(one.matched, VOLUME, _FINE)
    return Step(
        tr("At the rule's precharge, absolute pressures in {unit}", unit=display.symbol(PRESSURE)),
        tr("Vd = V × f at {charge}", charge=display.text(setting.precharge, PRESSURE)),
        f"{volume} × ({first} − ({charge}/{high}){power}) = {water}",
        header_steps(tanks, display)[1].source,
    )


def _lost_step(one: TankOnHeader, display: Display) -> Step:
    wanted, water, lost = (
        display.text(size, VOLUME, _FINE).replace("-", "−")
        for size in (one.matched, one.drawdown, one.lost)
    )
    return Step(
        tr("Lost"),
        tr("at the rule's precharge − at its own"),
        f"{wanted} − {water} = {lost}",
        tr("definition"),
    )


def _lost(asked: Asked) -> Working | None:
    one, tanks, display = _one(asked), _tanks(asked), asked.display
    own = _own_drawdown(asked)
    if one is None or tanks is None or own is None:
        return None
    shown = display.text(one.lost, VOLUME).replace("-", "−")
    last = ending_as(_lost_step(one, display), shown)
    return Working((*own.steps, _matched_step(one, tanks, display), last))


def _cost(asked: Asked) -> Working | None:
    """What each step off costs a tank."""
    one, tanks, display = _one(asked), _tanks(asked), asked.display
    if one is None or tanks is None or one.cost is None:
        return None
    lost = display.text(one.lost, VOLUME, _FINE).replace("-", "−")
    off = display.text(abs(one.off), PRESSURE, 2)
    last = Step(
        tr("Lost for each {unit} off", unit=display.symbol(PRESSURE)),
        tr("lost / distance from the rule's precharge"),
        f"{lost} / {off} = {_for_each(one.cost, display)}",
        tr("definition"),
    )
    return Working((_matched_step(one, tanks, display), _lost_step(one, display), last))


def _for_each(cost: float, display: Display) -> str:
    """Volume for each shown unit of pressure, from m³/Pa."""
    text = display.number(cost * display.unit(PRESSURE).factor, VOLUME, 2)
    return text.replace("-", "−")


def _missing_air(asked: Asked) -> Working | None:
    """What each step of missing air costs the whole set."""
    tanks, display = _tanks(asked), asked.display
    if tanks is None or tanks.cost is None:
        return None
    shown = _for_each(tanks.cost, display)
    full, less = (
        display.text(size, VOLUME, _FINE)
        for size in (tanks.matched, tanks.matched - tanks.cost * _PSI)
    )
    charge, lower = (
        display.text(at, PRESSURE, 1)
        for at in (tanks.setting.precharge, tanks.setting.precharge - _PSI)
    )
    step = display.text(_PSI, PRESSURE, 3)
    last = Step(
        tr("Cost of each {unit} of missing air", unit=display.symbol(PRESSURE)),
        tr("(Vd at {charge} − Vd at {lower}) / 1 psi", charge=charge, lower=lower),
        f"({full} − {less}) / {step} = {shown}",
        header_steps(tanks, display)[1].source,
    )
    last = ending_as(last, f"{shown} {display.symbol(VOLUME)}")
    return Working((header_steps(tanks, display)[1], last))


def _gap(asked: Asked) -> Working | None:
    tanks, display = _tanks(asked), asked.display
    if tanks is None or tanks.gap <= 0.0:
        return None
    least, low, gap = (
        display.text(at, PRESSURE)
        for at in (tanks.setting.cut_in + tanks.gap, tanks.setting.cut_in, tanks.gap)
    )
    return Working(
        (
            Step(
                tr("No-water gap"),
                tr("lowest precharge − cut-in"),
                f"{least} − {low} = {gap}",
                tr("below its precharge a tank holds no water; Boyle's law"),
            ),
        )
    )


def _run(asked: Asked) -> Working | None:
    tanks, display, results = _tanks(asked), asked.display, asked.results
    supply = results.inputs.supply
    if tanks is None or tanks.run is None or supply is None:
        return None
    shown = display.text(tanks.run, TIME)
    beside: tuple[Step, ...] = ()
    if tanks.required_run is not None:
        shown, required = distinct(tanks.run, tanks.required_run, TIME, display)
        rule = run_time_rules()[results.job.run_time_rule].source
        step = Step(tr("Required run"), tr("by the job's rule"), required, rule)
        beside = (step,)
    flow = mean_flow_steps(results, supply, display)
    water = display.text(tanks.drawdown, VOLUME, 2)
    if supply.unit is None:
        mean = display.text(supply.mean_flow, FLOW, 2)
        numbers = f"{water} / {mean} = {display.text(tanks.run, TIME)}"
        last = Step(tr("Run with no tap open"), tr("t = Vd / Q"), numbers, tr("definition"))
    else:
        last = Step(
            tr("Run with no tap open"),
            tr("t = ∫ dw / Q(w) from cut-in to cut-out"),
            f"{water} → {shown}",
            tr("mass balance of the tank"),
        )
    own, _ = header_steps(tanks, display)
    return Working((own, *flow, ending_as(last, shown)), beside)


FIGURES: dict[str, Explain] = {
    "drawdown": _drawdown,
    "run": _run,
    "volume": _volume,
    "empty": _empty,
    "own": _own_drawdown,
    "share": _share,
    "at_cut_in": _at_cut_in,
    "at_cut_out": _at_cut_out,
    "lost": _lost,
    "cost": _cost,
    "missing_air": _missing_air,
    "gap": _gap,
    **plain.FIGURES,
}
"""The explaining function of each figure of the page; those of one tank by its row."""
