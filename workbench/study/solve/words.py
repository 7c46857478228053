"""What is said of an answer, or of there being none: for the page, the command line and papers."""

from __future__ import annotations

from workbench.job.paper_choices import SolveFor, solve_fors
from workbench.physics.forgiving import SAME
from workbench.study.solve.answers import Cause, Solution, Why
from workbench.study.solve.known import Known
from workbench.study.solve.relation import Limit, reach_of
from workbench.study.solve.view import SolveView
from workbench.units import FLOW, PERCENT, PRESSURE, TIME, VOLUME, Display, Kind, distinct
from workbench.words import tr

_BOTH_SIDES = 2
_KINDS = {SolveFor.PUMP_FLOW: FLOW, SolveFor.RUN_TIME: TIME, SolveFor.VOLUME: VOLUME}


def kind_of(what: SolveFor) -> Kind:
    """Which quantity it is."""
    return _KINDS.get(what, PRESSURE)


def name_of(what: SolveFor) -> str:
    """What it is called at the beginning of a line."""
    label = solve_fors()[what].label
    return label[:1].upper() + label[1:]


def value_text(what: SolveFor, value: float, display: Display) -> str:
    """A value of what is looked for."""
    return display.text(value, kind_of(what))


def band_text(one: Solution, display: Display) -> str:
    """The switch and the precharge of an answer."""
    low, high, charge = (
        display.text(value, PRESSURE)
        for value in (one.setting.cut_in, one.setting.cut_out, one.setting.precharge)
    )
    return tr("cut-in {low}, cut-out {high}, precharge {charge}", low=low, high=high, charge=charge)


def limit_text(limit: Limit, known: Known, display: Display) -> str:
    """What is wrong beyond the end of a range; "" where nothing ends it."""
    reach = reach_of(known.delivery)
    top, bottom = (display.text(one, PRESSURE) for one in (reach.top, reach.bottom))
    return {
        Limit.NONE: "",
        Limit.CUT_IN_ZERO: tr("cut-in would be below zero"),
        Limit.CHARGE_ZERO: tr("the precharge would be below zero"),
        Limit.CURVE_ENDS: tr(
            "the band would reach below the last point of the pump's curve, {bottom} at the tank",
            bottom=bottom,
        ),
        Limit.CURVE_BEGINS: tr(
            "cut-out would lie above the first point of the pump's curve, {top} at the tank",
            top=top,
        ),
        Limit.SHUT_OFF: tr(
            "cut-out would lie above the pump's shut-off, {top} at the tank", top=top
        ),
        Limit.NO_WATER: tr("no water would enter the tank"),
        Limit.GAP: tr("the tank would be empty before cut-in is reached"),
    }[limit]


# --- an answer ---


def reason_text(view: SolveView, one: Solution, display: Display) -> str:
    """Why the answer is what it is."""
    water, run = display.text(one.drawdown, VOLUME), display.text(one.run, TIME)
    flow = display.text(one.flow, FLOW)
    if view.answered is SolveFor.PUMP_FLOW:
        return tr(
            "The most that a pump may give: {water} of drawdown last {run} at it, longer at less.",
            water=water, run=run,
        )  # fmt: skip
    if view.answered is SolveFor.RUN_TIME:
        return _run_text(view, water, flow)
    if view.answered is SolveFor.VOLUME:
        return tr(
            "The least volume: {water} are pumped in {run}, and this band and precharge give"
            " {share} of the volume.",
            water=water, run=run, share=display.text(one.drawdown / one.volume, PERCENT, 1),
        )  # fmt: skip
    if view.answered is SolveFor.PRECHARGE:
        return " ".join((side_text(one, display), *_between_text(view, one, display)))
    return " ".join((tr("With it {band}.", band=band_text(one, display)), *_gap_text(one, display)))


def _gap_text(one: Solution, display: Display) -> tuple[str, ...]:
    """That the tank runs dry before the pump starts, where it does."""
    if not one.gap:
        return ()
    gap = display.text(one.gap, PRESSURE)
    return (tr("The tank is empty {gap} before the pump starts, a moment of no water.", gap=gap),)


def _between_text(view: SolveView, one: Solution, display: Display) -> tuple[str, ...]:
    """That a precharge between two is as good, since the best one lies between them."""
    if len(view.solutions) != _BOTH_SIDES:
        return ()
    upper = display.text(view.solutions[1].value, PRESSURE)
    run = display.text(one.run, TIME)
    return (tr("From there up to {upper} the pump runs {run} or longer.", upper=upper, run=run),)


def _run_text(view: SolveView, water: str, flow: str) -> str:
    if view.known is None or view.known.is_constant:
        return tr("{water} of drawdown, pumped at {flow} with every tap closed.",
                  water=water, flow=flow)  # fmt: skip
    return tr("{water} of drawdown, pumped at {flow} on the mean over the band.",
              water=water, flow=flow)  # fmt: skip


def side_text(one: Solution, display: Display) -> str:
    """On which side of cut-in a precharge lies, and what comes of it."""
    if one.gap:
        return " ".join((tr("Above cut-in."), *_gap_text(one, display)))
    if one.setting.cut_in - one.setting.precharge <= SAME * one.setting.cut_in:
        return tr("At cut-in, where a tank gives the most.")
    below = display.text(one.setting.cut_in - one.setting.precharge, PRESSURE)
    return tr("{below} below cut-in, the usual side.", below=below)


def other_text(view: SolveView, one: Solution, display: Display) -> str:
    """Another value that gives the same run."""
    value = value_text(view.answered, one.value, display)
    if view.answered is SolveFor.PRECHARGE:
        return f"{value}. {side_text(one, display)}"
    text = tr("{value}: {band}.", value=value, band=band_text(one, display))
    return " ".join((text, *_gap_text(one, display)))


def limit_name(limit: Limit) -> str:
    """The same in two or three words, for a picture."""
    return {
        Limit.NONE: "",
        Limit.CUT_IN_ZERO: tr("cut-in below zero"),
        Limit.CHARGE_ZERO: tr("precharge below zero"),
        Limit.CURVE_ENDS: tr("the pump's curve ends"),
        Limit.CURVE_BEGINS: tr("above the pump's curve"),
        Limit.SHUT_OFF: tr("above the shut-off"),
        Limit.NO_WATER: tr("no water enters"),
        Limit.GAP: tr("empty before cut-in"),
    }[limit]


# --- none ---


def why_text(view: SolveView, display: Display) -> str:
    """Why there is no answer, or another one than was looked for; "" where all is well."""
    why, known = view.why, view.known
    if why is None or known is None:
        return ""
    if why.cause is Cause.FLOW_IS_KNOWN:
        return _flow_text(view, known, display)
    if why.cause is Cause.FILL_UNKNOWN:
        return tr(
            "With these numbers the fill of a tank cannot be worked out; check units and volumes."
        )
    if why.cause is Cause.NO_RANGE:
        return _no_range_text(view, known, display)
    run, asked = distinct(why.run or 0.0, known.run or 0.0, TIME, display)
    if why.cause is Cause.TOO_MUCH:
        middle = display.text(why.at or 0.0, PRESSURE)
        return tr(
            "Every band of this width that the pump reaches runs longer than {asked}: the shortest"
            " run, {run}, is with its middle at {middle}.",
            asked=asked, run=run, middle=middle,
        )  # fmt: skip
    where = _where_text(view.looked_for, known, why, display)
    if why.needed is None or why.water is None:
        text = tr("{where} the pump runs {run} of the {asked} asked.",
                  where=where, run=run, asked=asked)  # fmt: skip
    else:
        water, needed = distinct(why.water, why.needed, VOLUME, display)
        text = tr("{where} this tank gives {water} of the {needed} needed.",
                  where=where, water=water, needed=needed)  # fmt: skip
    return f"{text} {_remedy(view.looked_for)}"


def _flow_text(view: SolveView, known: Known, display: Display) -> str:
    (one,) = view.solutions
    most = one.drawdown / (known.run or one.run)
    given, allowed = distinct(one.flow, most, FLOW, display)
    return tr(
        "The flow of this pump is known, so its run is told: it gives {given} on the mean over the"
        " band; {asked} would allow {allowed}.",
        given=given, allowed=allowed, asked=display.text(known.run or one.run, TIME),
    )  # fmt: skip


def _no_range_text(view: SolveView, known: Known, display: Display) -> str:
    ends = () if view.range is None else (view.range.low_limit, view.range.high_limit)
    told = dict.fromkeys(limit_text(end, known, display) for end in ends)
    clauses = [text for text in told if text]
    what = solve_fors()[view.looked_for].label
    if len(clauses) > 1:
        return tr("At any {what} {one}, or {other}.", what=what, one=clauses[0], other=clauses[1])
    return tr("At any {what} {why}.", what=what, why="".join(clauses))


def _where_text(what: SolveFor, known: Known, why: Why, display: Display) -> str:
    """Where the most is had, as the beginning of a sentence."""
    at = why.at or 0.0
    place = display.text(at, PRESSURE)
    if what is SolveFor.PRECHARGE:
        if abs(at - known.cut_in) <= SAME * known.cut_in:
            return tr("Even with the precharge at cut-in")
        return tr("Even with the precharge at {place}, the best there is,", place=place)
    end = {
        Limit.CUT_IN_ZERO: tr("where cut-in is zero"),
        Limit.CHARGE_ZERO: tr("where the precharge is zero"),
        Limit.CURVE_ENDS: tr("where the pump's curve ends"),
        Limit.CURVE_BEGINS: tr("where the pump's curve begins"),
        Limit.SHUT_OFF: tr("where cut-out is at the pump's shut-off"),
    }.get(why.limit)
    if what is SolveFor.WIDTH:
        if end is None:
            return tr("No width gives as much: the best is {place}, and with it", place=place)
        return tr("No width gives as much: at the widest, {place}, {end},", place=place, end=end)
    if end is None:
        return tr(
            "No band of this width gives as much: the best has its middle at {place}, and there",
            place=place,
        )
    return tr(
        "No band of this width gives as much: at the best, its middle at {place}, {end},",
        place=place,
        end=end,
    )


def _remedy(what: SolveFor) -> str:
    if what is SolveFor.PRECHARGE:
        return tr("A larger tank, a wider band, a smaller pump or a shorter run would do.")
    if what is SolveFor.CENTRE:
        return tr("A wider band, a larger tank, a smaller pump or a shorter run would do.")
    return tr("A larger tank, a smaller pump or a shorter run would do.")
