"""How the figures of the page "Peak demand" come about; those of the methods: ``methods``."""

from __future__ import annotations

from workbench.physics.household import INDOOR_USE
from workbench.study.explain import methods, pictures
from workbench.study.explain.explanation import Asked, Explain, Working
from workbench.study.explain.steps import ending, ending_as, entered
from workbench.study.explain.supply import mean_flow_steps
from workbench.study.house.view import HouseView, Outcome, PeakTank, WellCheck
from workbench.study.house.words import (
    balance_words,
    household_words,
    storage_step,
    tank_steps,
)
from workbench.study.working import Step, air_step, factor_step
from workbench.units import DAILY, FLOW, NUMBER, PRESSURE, TIME, VOLUME, distinct
from workbench.words import tr

_DAY, _HOUR = 86_400.0, 3_600.0


# --- the answers ---


def _peak(asked: Asked) -> Working | None:
    return methods.working(asked.results.house.chosen, asked)


def _spread(asked: Asked) -> Working | None:
    view, display = asked.results.house, asked.display
    spread = view.spread
    if spread is None or spread.least.flow is None or spread.most.flow is None:
        return None
    low, high = methods.working(spread.least, asked), methods.working(spread.most, asked)
    if low is None or high is None:
        return None
    most, least = (display.text(one.flow or 0.0, FLOW) for one in (spread.most, spread.least))
    last = Step(
        tr("The methods differ by"),
        tr("most / least of the published methods"),
        f"{most} / {least} = {display.number(spread.factor, NUMBER, 1)}",
        tr("definition"),
    )
    return Working((*low.steps, *high.steps, last))


def _outcome(asked: Asked) -> Working | None:
    view, display = asked.results.house, asked.display
    if view.outcome is None or view.supply is None or view.peak is None:
        return None
    peak, given = _peak(asked), _given_steps(asked, view)
    if peak is None:
        return None
    if view.outcome is Outcome.NOT_SOLVABLE and view.well is not None:
        return _in_a_day(asked)
    wanted, supply = distinct(view.peak, view.supply, FLOW, display)
    title = tr("What is missing at the peak")
    source = tr("the pump is judged by its flow at cut-in, where the house would notice a lack")
    if view.outcome is Outcome.COVERED:
        numbers = tr("{supply} ≥ {wanted}: covered", supply=supply, wanted=wanted)
        return Working((*peak.steps, *given, Step(title, tr("supply ≥ peak"), numbers, source)))
    short = display.text(view.deficit, FLOW)
    last = Step(title, tr("peak − supply"), f"{wanted} − {supply} = {short}", source)
    return Working((*peak.steps, *given, ending_as(last, short)))


def _given_steps(asked: Asked, view: HouseView) -> tuple[Step, ...]:
    """The lesser of pump and well."""
    display, flows = asked.display, view.flows
    if flows is None or view.supply is None:
        return ()
    steps = _flow_steps(asked, whole=False)
    if view.well_yield is None:
        return steps
    well = entered(tr("Well yield"), display.text(view.well_yield, FLOW))
    least = Step(
        tr("Supply"),
        tr("the lesser of pump and well"),
        display.text(view.supply, FLOW),
        tr("definition"),
    )
    return (*steps, well, least)


def _flow_steps(asked: Asked, *, whole: bool) -> tuple[Step, ...]:
    """The pump's flow; of one that falls also its mean, or only what leads to that at cut-in."""
    supply = asked.results.inputs.supply
    if supply is None:
        return ()
    steps = mean_flow_steps(asked.results, supply, asked.display)
    if supply.unit is None:
        return steps
    *first, last = steps
    if whole:
        return (*first, ending(last, supply.mean_flow, FLOW, asked.display))
    return tuple(first[:-1])


# --- pump and fixtures ---


def _flows(asked: Asked) -> Working | None:
    if asked.results.house.flows is None:
        return None
    return Working(_flow_steps(asked, whole=True))


def _settles(asked: Asked) -> Working | None:
    view, display = asked.results.house, asked.display
    if view.settles_at is None or view.peak is None:
        return None
    peak = _peak(asked)
    last = Step(
        tr("Pressure at the peak"),
        tr("p where the pump's flow Q(p) is the peak"),
        tr(
            "Q(p) = {peak} → {pressure}",
            peak=display.text(view.peak, FLOW),
            pressure=display.text(view.settles_at, PRESSURE),
        ),
        tr("mass balance of the tank; the pump's flows: as on “Pump and well”"),
    )
    return Working((*(peak.steps if peak else ()), *_flow_steps(asked, whole=True), last))


def _largest(asked: Asked) -> Working | None:
    view, display = asked.results.house, asked.display
    if view.largest is None:
        return None
    flow = view.largest.flow
    share = display.text(flow / 4.0, FLOW, 3)
    step = Step(
        tr("Flow of the largest fixture"),
        tr("4 × its allowance in the peak"),
        f"4 × {share} = {display.text(flow, FLOW)}",
        tr("US EPA, Private Water Systems, Household Uses (web library, archived 2008)"),
    )
    if view.flows is None or view.flows.at_cut_in >= flow:
        return Working((step,))
    given = display.text(view.flows.at_cut_in, FLOW)
    short = display.text(flow - view.flows.at_cut_in, FLOW)
    last = Step(
        tr("The pump is short by"),
        tr("largest fixture − pump at cut-in"),
        f"{display.text(flow, FLOW)} − {given} = {short}",
        tr("definition"),
    )
    return Working((step, *_flow_steps(asked, whole=False), last))


# --- the tank ---


def _tank(asked: Asked) -> PeakTank | None:
    return asked.results.house.tank


def _extra(asked: Asked) -> Working | None:
    tank, view = _tank(asked), asked.results.house
    if tank is None:
        return None
    extra, _ = tank_steps(tank, view, asked.display)
    return Working((*_given_steps(asked, view), extra))


def _together(asked: Asked) -> Working | None:
    tank, view, display = _tank(asked), asked.results.house, asked.display
    setting, sizing = asked.results.setting, asked.results.sizing
    if tank is None:
        return None
    steps = tank_steps(tank, view, display)
    if tank.total_volume is None or setting is None or sizing is None:
        return Working(steps)
    volume = display.text(tank.total_volume, VOLUME, 0)
    factor = display.number(sizing.factor, NUMBER, 4)
    beside = (
        air_step(setting, display),
        factor_step(setting, sizing.factor, display),
        Step(
            tr("Total volume that gives it at this band"),
            tr("V = Vd / f"),
            f"{display.text(tank.together, VOLUME)} / {factor} = {volume}",
            tr("non-profit well council information sheet “Pressure Tanks”, January 2007, p. 2"),
        ),
    )
    return Working(steps, beside, pictures.air(setting, display))


def _lasts(asked: Asked) -> Working | None:
    tank, display = _tank(asked), asked.display
    if tank is None:
        return None
    time = display.text(tank.lasts, TIME, 1)
    last = Step(
        tr("Required drawdown lasts"),
        tr("t = Vd / what is missing"),
        f"{display.text(tank.required, VOLUME, 2)} / {display.text(tank.deficit, FLOW, 3)}"
        f" = {time}",
        tr("definition"),
    )
    return Working((*_given_steps(asked, asked.results.house), last))


# --- the well ---


def _well(asked: Asked) -> WellCheck | None:
    return asked.results.house.well


def _storage(asked: Asked) -> Working | None:
    well, view = _well(asked), asked.results.house
    if well is None:
        return None
    step = storage_step(well, view, asked.display)
    return Working((*_given_steps(asked, view), step))


def _cover(asked: Asked) -> Working | None:
    well, view, display = _well(asked), asked.results.house, asked.display
    daily = view.household.daily_use
    if well is None or well.cover is None or daily is None:
        return None
    storage = storage_step(well, view, display)
    peak = Step(
        tr("Minutes of this peak"),
        tr("the storage is sized for 120 min of it"),
        "120 min = 2 h",
        storage.source,
    )
    hours = display.number(well.cover / _HOUR, NUMBER, 1)
    used = display.text(daily / _DAY, DAILY, 1)
    last = Step(
        tr("Hours of the day's mean use"),
        tr("storage / use a day"),
        f"{display.text(well.low.storage, VOLUME, 1)} / {used} = {hours} h",
        tr("definition"),
    )
    return Working((storage, peak, *_use_steps(asked), last))


def _use_steps(asked: Asked) -> tuple[Step, ...]:
    """What the house uses in a day."""
    household, display = asked.results.house.household, asked.display
    if household.daily_use is None:
        return ()
    used = display.text(household.daily_use / _DAY, DAILY)
    title = tr("Use a day")
    if household.daily_is_typed:
        return (entered(title, used),)
    each = display.text(INDOOR_USE / _DAY, DAILY, 1)
    people = f"{household.fixtures.people:g}".replace(".", display.mark)
    source = tr("Residential End Uses of Water, version 2, 2016 (from memory)")
    return (Step(title, tr("people × use of each"), f"{people} × {each} = {used}", source),)


def _in_a_day(asked: Asked) -> Working | None:
    well, view, display = _well(asked), asked.results.house, asked.display
    if well is None or view.well_yield is None:
        return None
    given = display.text(well.low.daily_yield / _DAY, DAILY)
    flow = display.text(view.well_yield, FLOW, 2)
    last = Step(
        tr("What the well gives in a day"),
        tr("yield × 1,440 min"),
        f"{flow} → {given}",
        tr("definition; the yield as entered"),
    )
    return Working((*_use_steps(asked), last))


def _hours(asked: Asked) -> Working | None:
    well, view, display = _well(asked), asked.results.house, asked.display
    if well is None or view.well_yield is None:
        return None
    flow = display.text(view.well_yield * _HOUR, VOLUME)
    last = Step(
        tr("Storage by the hours of a mean day"),
        tr("the most that use exceeds the yield over any run of hours"),
        tr(
            "{flow} an hour come in → {told}",
            flow=flow,
            told=balance_words(well, display),
        ),
        tr(
            "mass balance of the store; hours of use: Building America schedules, National"
            " Renewable Energy Laboratory"
        ),
    )
    return Working((*_use_steps(asked), last))


def _household(asked: Asked) -> Working | None:
    well, view, display = _well(asked), asked.results.house, asked.display
    if well is None or view.well_yield is None:
        return None
    given = entered(tr("Well yield"), display.text(view.well_yield, FLOW))
    last = Step(
        tr("In general"),
        tr("by the well's yield: below 5 gpm, 5 to 10 gpm, 10 gpm and more"),
        household_words(well),
        tr("Alberta Agriculture, Water Wells that Last, module 2, p. 11"),
    )
    return Working((given, last))


FIGURES: dict[str, Explain] = {
    "peak": _peak,
    "spread": _spread,
    "outcome": _outcome,
    "flows": _flows,
    "settles": _settles,
    "largest": _largest,
    "extra": _extra,
    "together": _together,
    "lasts": _lasts,
    "storage": _storage,
    "cover": _cover,
    "in_a_day": _in_a_day,
    "hours": _hours,
    "household": _household,
    "method": methods.method,
}
"""The explaining function of each figure of the page."""
