"""The house's peak demand in words: one sentence for each thing, in the reader's units."""

from __future__ import annotations

import math

from workbench.job.house_choices import demand_methods
from workbench.job.labels import label_of
from workbench.physics.demand import HouseholdSupply
from workbench.physics.forgiving import SAME
from workbench.study.house.methods import Estimate
from workbench.study.house.view import (
    PEAK_MINUTES,
    HouseView,
    Outcome,
    PeakTank,
    PumpFlows,
    WellCheck,
)
from workbench.study.working import Step
from workbench.units import DAILY, FLOW, NUMBER, PRESSURE, TIME, VOLUME, Display, distinct
from workbench.words import tr

_HOUR, _DAY = 3_600.0, 86_400.0
_STORAGE_MINUTES = 120


def estimates_note() -> str:
    """What every figure of this kind is worth."""
    return tr(
        "Every method is an estimate for planning; none knows this house. The local plumbing and"
        " well code decides."
    )


def capital(text: str) -> str:
    """A label as the beginning of a sentence."""
    return text[:1].upper() + text[1:]


def peak_reason(view: HouseView) -> str:
    """Under the peak: by which method, from which source, and what to know about it."""
    choice = demand_methods()[view.chosen.method]
    if view.peak is None:
        return view.chosen.remark
    return f"{capital(choice.label)}: {choice.source} {view.chosen.remark}".strip()


def spread_words(view: HouseView, display: Display) -> str:
    """How far the published methods lie apart."""
    spread = view.spread
    if spread is None or spread.least.flow is None or spread.most.flow is None:
        return tr("No published method can be used with these entries.")
    return tr(
        "The published methods differ by up to {factor} times for this house, from {least} ({low})"
        " to {most} ({high}). One is chosen on purpose.",
        factor=display.number(spread.factor, NUMBER, 1),
        least=display.text(spread.least.flow, FLOW),
        low=demand_methods()[spread.least.method].label,
        most=display.text(spread.most.flow, FLOW),
        high=demand_methods()[spread.most.method].label,
    )


def estimate_words(one: Estimate, display: Display) -> str:
    """One method's figure, or why it has none, with what to know about it."""
    units = ""
    if one.units is not None:
        units = tr("{count} fixture units.", count=display.number(one.units, NUMBER, 1))
    figure = "" if one.flow is None else tr("{flow}.", flow=display.text(one.flow, FLOW))
    return " ".join(filter(None, (figure, units, one.remark)))


def against_words(one: Estimate, view: HouseView, display: Display) -> str:
    """One method's figure held against what pump and well give."""
    label = demand_methods()[one.method].label
    if one.flow is None:
        return tr("{method}: cannot be used here. {why}", method=capital(label), why=one.remark)
    parts = [tr("{method}: {flow}.", method=capital(label), flow=display.text(one.flow, FLOW))]
    if view.flows is not None:
        over = one.flow - view.flows.at_cut_in
        more = tr("That is {flow} more than the pump gives.", flow=display.text(over, FLOW))
        parts.append(more if over > SAME * one.flow else tr("The pump gives it."))
    if view.well_yield is not None:
        over = one.flow - view.well_yield
        more = tr("That is {flow} more than the well gives.", flow=display.text(over, FLOW))
        parts.append(more if over > SAME * one.flow else tr("The well gives it."))
    return " ".join(parts)


# --- pump, well, tank ---


def outcome_words(view: HouseView, display: Display) -> tuple[str, str, str]:
    """The verdict on pump and well: a few words, the reason, and the reason's role.

    The words are empty where nothing can be said.
    """
    if view.outcome is None or view.supply is None or view.peak is None:
        return "", _why_no_outcome(view), "problem"
    short = display.text(view.deficit, FLOW)
    source = tr("well") if view.well_is_less else tr("pump")
    asked, given = distinct(view.peak, view.supply, FLOW, display)
    if view.outcome is Outcome.COVERED:
        return tr("Covered"), _covered(view, asked, given, source), "good"
    if view.outcome is Outcome.NOT_SOLVABLE:
        return tr("Too little"), _outcome_reasons()[view.outcome], "problem"
    reason = tr(
        "The {source} gives {given} of {asked}. {advice}",
        source=source,
        given=given,
        asked=asked,
        advice=_outcome_reasons()[view.outcome],
    )
    role = "problem" if view.tank_is_no_cure else "caution"
    return tr("{flow} short", flow=short), reason, role


def _why_no_outcome(view: HouseView) -> str:
    if view.peak is None:
        return tr("Without a peak demand nothing can be compared.")
    if view.flows is None:
        return tr("The pump's flow cannot be told from its entries; put them right first.")
    return tr("The entries about the well or the day's use must be put right first.")


def _covered(view: HouseView, asked: str, given: str, source: str) -> str:
    text = tr(
        "The {source} gives {given}, the peak asks for {asked}.",
        source=source,
        given=given,
        asked=asked,
    )
    if view.well_yield is None:
        text += " " + tr("The well's yield is not entered, so only the pump is judged.")
    return text


def _outcome_reasons() -> dict[Outcome, str]:
    return {
        Outcome.TANK_FOR_PUMP: tr(
            "So little is missing that a larger pressure tank can bridge a short peak."
        ),
        Outcome.TANK_FOR_WELL: tr(
            "So little is missing that a larger pressure tank can bridge a short peak, if the well"
            " recovers before the next."
        ),
        Outcome.LARGER_PUMP: tr("The pump is too small for this peak."),
        Outcome.STORAGE: tr(
            "This asks for storage without pressure, filled slowly by the well, and a second pump"
            " behind it."
        ),
        Outcome.NOT_SOLVABLE: tr(
            "The well gives less in a day than the house uses. No tank and no storage cures that;"
            " use less, or find more water."
        ),
    }


def no_cure_words(view: HouseView) -> str:
    """Why a larger pressure tank is the wrong cure; "" where it is not."""
    if not view.tank_is_no_cure:
        return ""
    lends = tr(
        "A pressure tank only lends water that the pump has already lifted, and the same pump has"
        " to fill it again."
    )
    if view.outcome is Outcome.LARGER_PUMP:
        return lends + " " + tr("What is missing here is flow: a pump that gives more.")
    return lends + " " + tr("What is missing here is water from the well.")


def flows_words(flows: PumpFlows, display: Display) -> str:
    """What the pump gives over its band."""
    if flows.is_constant:
        return display.text(flows.at_cut_in, FLOW)
    return tr(
        "{most} at cut-in, {least} at cut-out; {mean} over the band",
        most=display.text(flows.at_cut_in, FLOW),
        least=display.text(flows.at_cut_out, FLOW),
        mean=display.text(flows.mean, FLOW),
    )


def settles_words(view: HouseView, display: Display) -> str:
    """Where the pressure stays during the peak; "" where the pump would cycle or fall short."""
    if view.settles_at is None:
        return ""
    return tr(
        "{pressure}, where the pump just gives the peak",
        pressure=display.text(view.settles_at, PRESSURE),
    )


def largest_words(view: HouseView, display: Display) -> tuple[str, str]:
    """The largest single fixture against pump and well, and its role; "" where it is not known."""
    if view.largest is None:
        return "", ""
    flow = view.largest.flow
    names = ", ".join(label_of(name) for name in view.largest.fixtures)
    text = tr("{flow} ({names})", flow=display.text(flow, FLOW), names=names)
    source = tr("US EPA, Household Uses: the pump should give at least this.")
    given = view.flows.at_cut_in if view.flows is not None else None
    if given is None:
        return f"{text}. {source}", ""
    if given >= flow * (1.0 - SAME):
        return tr("{text}; the pump gives it. {source}", text=text, source=source), "good"
    short = display.text(flow - given, FLOW)
    return (
        tr("{text}; the pump is {short} short. {source}", text=text, short=short, source=source),
        "caution",
    )


def tank_words(tank: PeakTank, display: Display) -> str:
    """The drawdown that would bridge the peak, against the required one."""
    text = tr(
        "{together} of drawdown instead of the {required} required for the pump's run.",
        together=display.text(tank.together, VOLUME),
        required=display.text(tank.required, VOLUME),
    )
    if tank.total_volume is not None:
        text += " " + tr(
            "At this band that is about {volume} of total volume.",
            volume=display.text(tank.total_volume, VOLUME, 0),
        )
    return text


def lasts_words(tank: PeakTank, display: Display) -> str:
    """How long the job's own required drawdown bridges the peak."""
    return tr(
        "The required drawdown alone lasts {time}, and only if the tank is full when the peak"
        " begins.",
        time=display.text(tank.lasts, TIME, 1),
    )


def day_words(well: WellCheck, daily_use: float, display: Display) -> str:
    """What the well gives in a day against what the house uses."""
    return tr(
        "The well gives {given}, the house uses {used}.",
        given=display.text(well.low.daily_yield / _DAY, DAILY),
        used=display.text(daily_use / _DAY, DAILY),
    )


def balance_words(well: WellCheck, display: Display) -> str:
    """Storage by the hours of the day, which is a floor."""
    if math.isinf(well.balance):
        return tr("No storage evens out this day: more is used than comes in.")
    if well.balance <= 0.0:
        return tr("The well keeps up with every hour of a mean day.")
    return tr(
        "At least {volume} even out the hours of a mean day (mass balance; it does not see the"
        " peaks within an hour). Water standing in the casing is not counted.",
        volume=display.text(well.balance, VOLUME, 0),
    )


def cover_words(well: WellCheck, display: Display) -> str:
    """How long the two-hour storage lasts; "" where there is none."""
    if well.cover is None:
        return ""
    return tr(
        "2 h of this peak, or {hours} h of the day's mean use with nothing coming in",
        hours=display.number(well.cover / _HOUR, NUMBER, 1),
    )


def household_words(well: WellCheck) -> str:
    """The general word on a well of this yield."""
    said = {
        HouseholdSupply.STORAGE_USUALLY_NEEDED: tr("storage is usually needed (below 5 gpm)"),
        HouseholdSupply.USUALLY_ENOUGH: tr("usually enough for a house (5 to 10 gpm)"),
        HouseholdSupply.ENOUGH_FOR_HEAVY_USE: tr("enough for heavy use (10 gpm and more)"),
    }
    return tr(
        "{verdict}: Alberta Agriculture, Water Wells that Last, module 2, p. 11.",
        verdict=capital(said[well.household]),
    )


# --- working ---


def tank_steps(tank: PeakTank, view: HouseView, display: Display) -> tuple[Step, ...]:
    """How the drawdown that bridges the peak comes about."""
    extra = Step(
        tr("Extra drawdown for a peak of 7 min"),
        tr("(peak − supply) × 7 min"),
        _difference(view, PEAK_MINUTES, display, display.text(tank.extra, VOLUME)),
        tr("trade magazine for water-well drillers, “When the well runs dry”"),
    )
    together = Step(
        tr("Drawdown with the pump's run"),
        tr("required drawdown + extra"),
        f"{display.text(tank.required, VOLUME)} + {display.text(tank.extra, VOLUME)}"
        f" = {display.text(tank.together, VOLUME)}",
        tr("the same"),
    )
    return extra, together


def storage_step(well: WellCheck, view: HouseView, display: Display) -> Step:
    """How the storage without pressure comes about."""
    return Step(
        tr("Storage without pressure"),
        tr("(peak − supply) × 120 min"),
        _difference(view, _STORAGE_MINUTES, display, display.text(well.low.storage, VOLUME, 0)),
        tr("US EPA, Private Water Systems, Storage, “Reservoirs”"),
    )


def house_steps(view: HouseView, display: Display) -> tuple[Step, ...]:
    """All working of the view; empty where nothing is missing at the peak."""
    steps = tank_steps(view.tank, view, display) if view.tank is not None else ()
    if view.well is not None and view.well.low.storage > 0.0:
        steps = (*steps, storage_step(view.well, view, display))
    return steps


def _difference(view: HouseView, minutes: float, display: Display, volume: str) -> str:
    asked, given = distinct(view.peak or 0.0, view.supply or 0.0, FLOW, display)
    return f"({asked} − {given}) × {minutes:g} min = {volume}"
