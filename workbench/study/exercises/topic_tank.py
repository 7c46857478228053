"""Exercises: choose a tank, by drawdown, run time, starts and head."""

from __future__ import annotations

from workbench.physics.cycle import drawdown_for_starts
from workbench.physics.pump import TwoFlows
from workbench.study.exercises import sums
from workbench.study.exercises.draft import Draft, Maker, within_share
from workbench.study.exercises.draws import Draws
from workbench.study.exercises.neat import Neat
from workbench.study.exercises.slip import Slip
from workbench.study.exercises.tank_choice import choose, head, plain_tank
from workbench.study.setting import Setting
from workbench.study.supply import Supply, Well, unit_fill
from workbench.study.working import Step, factor_step
from workbench.units import FLOW, NUMBER, PRESSURE, SHORT_TIME, STARTS_PER_HOUR, TIME, VOLUME
from workbench.words import tr


def _drawdown(draws: Draws, neat: Neat) -> Draft | None:
    """What one tank, or two, give at a band; perhaps high up, perhaps labelled in Imperial."""
    band = neat.a_band(draws)
    height = neat.a_height(draws) if draws.chance(0.35) else 0.0
    count = 2 if draws.chance(0.3) else 1
    is_imperial = not height and count == 1 and draws.chance(0.4)
    number = draws.one_of((18, 24, 30, 36, 50, 70))
    each = number * VOLUME.units["imp gal"].factor if is_imperial else neat.a_tank(draws)
    one = sums.setting(neat, band, None, height)
    right = sums.water(one, each * count)
    sea = sums.setting(neat, band)
    mistaken = each / sums.IMPERIAL if is_imperial else None
    slips = (
        (Slip.GAUGE_IN_BOYLE, sums.water(sums.by_gauge(one), each * count)),
        (Slip.TANK_AS_DRAWDOWN, each * count),
        (Slip.ALTITUDE_FORGOTTEN, sums.water(sea, each * count) if height else None),
        (Slip.IMPERIAL_GALLONS, sums.water(one, mistaken) if mistaken else None),
        (Slip.ONE_TANK, right / 2.0 if count == 2 else None),
    )
    label = f"{number} imp gal" if is_imperial else neat.say(each, VOLUME)
    story = (
        tr("At {place} two equal tanks stand on one header. The label of each says {label}.",
           place=neat.place, label=label)
        if count == 2
        else tr("At {place} stands one tank. Its label says {label}.",
                place=neat.place, label=label)
    )  # fmt: skip
    if is_imperial:
        story += " " + tr("It came over the border with the house's first owner.")
    show = neat.display
    return Draft(
        tr("What the tank gives"),
        story,
        (
            (tr("Total volume, each") if count == 2 else tr("Total volume"), label),
            (tr("Switch band"), neat.band(*band)),
            (tr("Charge, by the rule"), neat.say(one.precharge, PRESSURE)),
            *neat.height_row(height),
        ),
        tr("How much water does it give from cut-out down to cut-in, in {unit}?",
           unit=neat.volume_name()),
        within_share(neat, VOLUME, right, 1 if height else 3, slips),
        sums.water_steps(one, each * count, show),
    )  # fmt: skip


def _total_volume(draws: Draws, neat: Neat) -> Draft | None:
    """The total volume for a flow and a run."""
    band = neat.a_band(draws)
    flow = neat.a_flow(draws)
    run = draws.one_of((60.0, 75.0, 80.0, 90.0, 100.0, 105.0, 120.0, 150.0))
    one = sums.setting(neat, band)
    label = neat.round(flow * draws.one_of((1.25, 1.33, 1.4, 1.5)), 1, 5, FLOW)
    has_label = draws.chance(0.6)
    wanted = flow * run
    right = sums.volume_for(one, wanted)
    mixed = sums.clock_misread(run)
    slips = (
        (Slip.TANK_AS_DRAWDOWN, wanted),
        (Slip.GAUGE_IN_BOYLE, sums.volume_for(sums.by_gauge(one), wanted)),
        (Slip.LABEL_FLOW, sums.volume_for(one, label * run) if has_label else None),
        (Slip.HALF_FLOW, right / 2.0),
        (Slip.TIME_MIXED, sums.volume_for(one, flow * mixed) if mixed != run else None),
        (Slip.DRAWDOWN_AS_TANK, wanted * sums.factor(one)),
    )
    rows = [
        (tr("Pump, measured at the tank"), neat.say(flow, FLOW)),
        (tr("Shortest run wanted"), tr("{clock} min", clock=sums.clock(run))),
        (tr("Switch band"), neat.band(*band)),
        (tr("Charge, by the rule"), neat.say(one.precharge, PRESSURE)),
    ]
    if has_label:
        rows.insert(0, (tr("Pump, on its label"), neat.say(label, FLOW)))
    return Draft(
        tr("A tank for a pump"),
        tr(
            "The pump of {place} must run {clock} minutes or more at each start, so that its motor"
            " lasts.",
            place=neat.place,
            clock=sums.clock(run),
        ),
        tuple(rows),
        tr("Which total volume is needed?"),
        within_share(neat, VOLUME, right, 3, slips),
        _total_steps(one, flow, run, right, neat),
    )


def _total_steps(
    one: Setting, flow: float, run: float, right: float, neat: Neat
) -> tuple[Step, ...]:
    show, share = neat.display, sums.factor(one)
    wanted = show.text(flow * run, VOLUME, 2)
    return (
        sums.times_step(
            tr("Drawdown wanted"),
            tr("Vd = Q × t"),
            f"{neat.say(flow, FLOW)} × {show.text(run, TIME, 2)} = {wanted}",
        ),
        factor_step(one, share, show),
        Step(
            tr("Total volume"),
            tr("V = Vd / f"),
            f"{wanted} / {show.number(share, NUMBER, 4)} = {show.text(right, VOLUME)}",
            tr("non-profit well council information sheet “Pressure Tanks”, January 2007, p. 2"),
        ),
    )


def _starts(draws: Draws, neat: Neat) -> Draft | None:
    """The most starts per hour of a tank."""
    band = neat.a_band(draws)
    volume, flow = neat.a_tank(draws), neat.a_flow(draws)
    one = sums.setting(neat, band)
    drawn = sums.water(one, volume)
    if not 35.0 <= drawn / flow <= 200.0:
        return None
    right = sums.most_starts(drawn, flow)
    slips = (
        (Slip.SIXTY_FOR_FIFTEEN, 4.0 * right),
        (Slip.TANK_AS_DRAWDOWN, sums.most_starts(volume, flow)),
        (Slip.GAUGE_IN_BOYLE, sums.most_starts(sums.water(sums.by_gauge(one), volume), flow)),
        (Slip.HALF_FLOW, right / 2.0),
    )
    return Draft(
        tr("Starts per hour"),
        tr(
            "The motor of the pump of {place} is to be spared. At some steady draw it starts more"
            " often than at any other.",
            place=neat.place,
        ),
        (
            (tr("Total volume"), neat.say(volume, VOLUME)),
            (tr("Pump"), neat.say(flow, FLOW)),
            (tr("Switch band"), neat.band(*band)),
            (tr("Charge, by the rule"), neat.say(one.precharge, PRESSURE)),
        ),
        tr("How often does the pump start per hour at that worst draw?"),
        within_share(neat, STARTS_PER_HOUR, right, 4, slips),
        (
            *sums.water_steps(one, volume, neat.display),
            sums.run_step(drawn, flow, drawn / flow, neat),
            sums.starts_step(drawn, flow, right, neat),
        ),
    )


def _often(draws: Draws, neat: Neat) -> Draft | None:
    """Starts per hour, one way or the other."""
    return draws.one_of((_starts, _drawdown_for_starts))(draws, neat)


def _drawdown_for_starts(draws: Draws, neat: Neat) -> Draft | None:
    """The drawdown for a limit of starts per hour."""
    flow = neat.a_flow(draws)
    label = neat.round(flow * draws.one_of((1.25, 1.33, 1.4)), 1, 5, FLOW)
    limit = draws.one_of((6, 8, 10, 12, 15))
    right = float(drawdown_for_starts(flow, limit / 3600.0))
    band = neat.a_band(draws)
    one = sums.setting(neat, band)
    slips = (
        (Slip.SIXTY_FOR_FIFTEEN, 4.0 * right),
        (Slip.LABEL_FLOW, float(drawdown_for_starts(label, limit / 3600.0))),
        (Slip.HALF_FLOW, right / 2.0),
        (Slip.DRAWDOWN_AS_TANK, sums.volume_for(one, right)),
    )
    show = neat.display
    return Draft(
        tr("Water enough for the motor"),
        tr(
            "The motor's papers for the pump of {place} allow {limit} starts per hour.",
            place=neat.place,
            limit=limit,
        ),
        (
            (tr("Pump, on its label"), neat.say(label, FLOW)),
            (tr("Pump, measured at the tank"), neat.say(flow, FLOW)),
            (tr("Most starts per hour"), f"{limit}"),
            (tr("Switch band"), neat.band(*band)),
        ),
        tr("How much drawdown keeps within that at every draw?"),
        within_share(neat, VOLUME, right, 3, slips),
        (
            Step(
                tr("Drawdown for a limit of starts"),
                tr("Vd = 15 × Q / N, Q per minute, N per hour"),
                f"15 × {neat.say(flow, FLOW)} / {limit} = {show.text(right, VOLUME, 2)}",
                tr(
                    "MIL-HDBK-1005/9A, paragraph 2.5.3.6; Water System Design Manual, Washington"
                    " State Department of Health 331-123, 2009, equation 11-1"
                ),
            ),
        ),
    )


def _run_time(draws: Draws, neat: Neat) -> Draft | None:
    """How long a pump runs that gives one flow, or a falling one."""
    band = neat.a_band(draws)
    volume, last = neat.a_tank(draws), neat.a_flow(draws)
    is_falling = draws.chance(0.5)
    first = neat.round(last * draws.one_of((1.4, 1.5, 1.6, 1.8)), 1, 5, FLOW)
    one = sums.setting(neat, band)
    drawn = sums.water(one, volume)
    mean = last
    if is_falling:
        delivery = TwoFlows.of(band[0], first, band[1], last)
        supply = Supply(
            delivery, None, Well(None, None, None, None, None), one, unit_fill(delivery, one)
        )
        mean = supply.mean_flow
    right = drawn / mean
    if not 25.0 <= right <= 280.0:
        return None
    slips = (
        (Slip.TANK_AS_DRAWDOWN, volume / mean),
        (Slip.GAUGE_IN_BOYLE, sums.water(sums.by_gauge(one), volume) / mean),
        (Slip.HALF_FLOW, 2.0 * right),
        (Slip.FLOW_AT_CUT_IN, drawn / first if is_falling else None),
        (Slip.FLOW_AT_CUT_OUT, drawn / last if is_falling else None),
        (Slip.LABEL_FLOW, None if is_falling else drawn / first),
    )
    steps = [*sums.water_steps(one, volume, neat.display)]
    if is_falling:
        steps.append(
            Step(
                tr("Mean flow over the band"),
                tr("Qm = Vd / t, with t = ∫ dw / Q(w) and p = p0 − k Q²"),
                f"{neat.say(first, FLOW)} … {neat.say(last, FLOW)}"
                f" → {neat.display.text(mean, FLOW, 2)}",
                tr("mass balance of the tank; the mean of the two flows is nearly the same"),
            )
        )
    return Draft(
        tr("How long does it run?"),
        tr("At {place} nobody draws water, and the pump has just started.", place=neat.place),
        (
            (tr("Total volume"), neat.say(volume, VOLUME)),
            *_flow_rows(first, last, is_falling, neat),
            (tr("Switch band"), neat.band(*band)),
            (tr("Charge, by the rule"), neat.say(one.precharge, PRESSURE)),
        ),
        tr("After how many seconds does it stop?"),
        within_share(neat, SHORT_TIME, right, 4, slips),
        (*steps, sums.run_step(drawn, mean, right, neat)),
    )


def _flow_rows(
    first: float, last: float, is_falling: bool, neat: Neat
) -> tuple[tuple[str, str], ...]:
    return (
        (
            (tr("Pump at cut-in"), neat.say(first, FLOW)),
            (tr("Pump at cut-out"), neat.say(last, FLOW)),
        )
        if is_falling
        else (
            (tr("Pump, on its label"), neat.say(first, FLOW)),
            (tr("Pump, measured at the tank"), neat.say(last, FLOW)),
        )
    )


SORTS: dict[str, Maker] = {
    "drawdown": _drawdown,
    "total_volume": _total_volume,
    "starts": _often,
    "run_time": _run_time,
    "head": head,
    "choose": choose,
    "plain_tank": plain_tank,
}
