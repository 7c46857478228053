"""How each published method comes to its peak demand, in gpm as the methods are written."""

from __future__ import annotations

from collections.abc import Callable

from workbench.job.house_choices import DemandMethod, demand_methods
from workbench.physics.demand import (
    BATHROOM_GROUP_UNITS,
    FIXTURE_UNIT_CURVES,
    FIXTURE_UNITS,
    OUTLET_FLOW,
    OUTLETS,
    PEAK_ALLOWANCE,
    USE_PER_BEDROOM,
    Fixtures,
    seven_minute_peak,
)
from workbench.study.explain.explanation import Asked, Working
from workbench.study.explain.steps import ending_as, entered
from workbench.study.house.methods import Estimate
from workbench.study.working import Step
from workbench.units import DAILY, FLOW, NUMBER, VOLUME, Display
from workbench.words import tr

_GPM = FLOW.units["gpm"].factor
_DAY = 86_400.0

Lead = Callable[[Estimate, Asked], tuple[Step, ...]]


def method(asked: Asked) -> Working | None:
    """The method in the row that is asked for."""
    every = asked.results.house.estimates
    return working(every[asked.first], asked) if asked.first < len(every) else None


def working(one: Estimate, asked: Asked) -> Working | None:
    """How one method comes to its figure, or why it does not."""
    if one.flow is None:
        source = demand_methods()[one.method].source
        why = Step(tr("Peak demand"), tr("by this method"), one.remark, source)
        return Working((why,))
    *first, last = _LEADS[one.method](one, asked)
    shown = asked.display.text(one.flow, FLOW)
    return Working((*first, ending_as(last, shown)))


def _us(asked: Asked) -> Display:
    """The methods' own units with the reader's decimal mark."""
    return Display(mark=asked.display.mark)


def _gpm(flow: float, asked: Asked, decimals: int = 2) -> str:
    return _us(asked).text(flow, FLOW, decimals)


def _plain(number: float, asked: Asked) -> str:
    return f"{number:g}".replace(".", asked.display.mark)


def _counts(asked: Asked) -> Fixtures:
    return asked.results.house.household.fixtures


def _step(one: Estimate, title: str, formula: str, numbers: str) -> Step:
    return Step(title, formula, numbers, demand_methods()[one.method].source)


def _outlets(one: Estimate, asked: Asked) -> tuple[Step, ...]:
    fixtures = _counts(asked)
    count = sum(float(getattr(fixtures, name)) for name in OUTLETS)
    each = f"{_plain(count, asked)} × {_gpm(_GPM, asked)} = {_gpm(count * _GPM, asked)}"
    largest = Step(
        tr("Largest single outlet"),
        tr("the largest need of one that is there"),
        _gpm(fixtures.largest(OUTLET_FLOW), asked),
        tr("International Residential Code, table P2903.1"),
    )
    by_count = _step(one, tr("Outlets"), tr("outlets × 1 gpm"), each)
    last = _step(
        one,
        tr("Peak demand"),
        tr("the larger of both"),
        _gpm(one.flow or 0.0, asked),
    )
    return largest, by_count, last


def _sum(weights: dict[str, float], factor: float, asked: Asked) -> str:
    """Counts times weights, such as "2 × 0.75 + 1 × 1"."""
    fixtures = _counts(asked)
    parts = [
        f"{_plain(getattr(fixtures, name), asked)} × {_plain(round(weight / factor, 6), asked)}"
        for name, weight in weights.items()
        if getattr(fixtures, name)
    ]
    return " + ".join(parts)


def _allowances(one: Estimate, asked: Asked) -> tuple[Step, ...]:
    numbers = f"{_sum(PEAK_ALLOWANCE, _GPM, asked)} = {_gpm(one.flow or 0.0, asked)}"
    return (_step(one, tr("Sum of the allowances"), tr("Σ count × allowance in gpm"), numbers),)


def _fixture_units(one: Estimate, asked: Asked) -> tuple[Step, ...]:
    """The units of the house, then the table's rows on either side."""
    display, fixtures = asked.display, _counts(asked)
    groups = min(fixtures.toilets, fixtures.basins, fixtures.tubs + fixtures.showers)
    apart = FIXTURE_UNITS["toilets"] + FIXTURE_UNITS["basins"] + FIXTURE_UNITS["tubs"]
    saved = _plain(round(apart - BATHROOM_GROUP_UNITS, 6), asked)
    units = one.units or 0.0
    count = _step(
        one,
        tr("Fixture units"),
        tr("Σ count × units − bathroom groups × what a group saves"),
        f"{_sum(FIXTURE_UNITS, 1.0, asked)} − {_plain(groups, asked)} × {saved}"
        f" = {display.number(units, NUMBER, 1)}",
    )
    return count, *_by_table(one, units, asked)


def _by_table(one: Estimate, units: float, asked: Asked) -> tuple[Step, ...]:
    curve = "ipc" if one.method is DemandMethod.FIXTURE_UNITS_HIGH else "nspc"
    rows, flows = FIXTURE_UNIT_CURVES[curve]
    after = next((place for place, row in enumerate(rows) if row >= units and place), 1)
    low, high = rows[after - 1], rows[after]
    least, most = flows[after - 1], flows[after]
    flow = (least + (units - low) * (most - least) / (high - low)) * _GPM
    numbers = (
        f"{_plain(least, asked)} + ({_plain(round(units, 6), asked)} − {low})"
        f" × ({_plain(most, asked)} − {_plain(least, asked)}) / ({high} − {low})"
        f" = {_gpm(flow, asked)}"
    )
    table = _step(
        one, tr("Flow by the table"), tr("straight between its rows on either side"), numbers
    )
    hose = (one.flow or 0.0) - flow
    if hose <= 1e-9 * flow:
        return (table,)
    total = _step(
        one,
        tr("With a garden hose, which runs on and on"),
        tr("flow by the table + hose"),
        f"{_gpm(flow, asked)} + {_gpm(hose, asked)} = {_gpm(one.flow or 0.0, asked)}",
    )
    return table, total


def _seven_minutes(one: Estimate, asked: Asked) -> tuple[Step, ...]:
    bathrooms = _counts(asked).bathrooms
    peak = seven_minute_peak(bathrooms)
    numbers = tr(
        "{count} bathrooms: {water} in 7 min → {flow}",
        count=_plain(bathrooms, asked),
        water=_us(asked).text(peak.volume, VOLUME, 0),
        flow=_gpm(peak.flow, asked),
    )
    formula = tr("the table's row, or the one above; its flow is rounded")
    return (_step(one, tr("Busiest seven minutes"), formula, numbers),)


def _in_two_hours(one: Estimate, used: float, asked: Asked) -> Step:
    """A day's use [m³] in 120 minutes."""
    water = _us(asked).text(used, VOLUME, 1)
    numbers = f"{water} / 120 min = {_gpm(one.flow or 0.0, asked)}"
    return _step(one, tr("The day's use in two hours"), tr("use a day / 120 min"), numbers)


def _two_hours(one: Estimate, asked: Asked) -> tuple[Step, ...]:
    household = asked.results.house.household
    used, us = household.daily_use or 0.0, _us(asked)
    whole, title = us.text(used, VOLUME, 1), tr("Use a day")
    if household.daily_is_typed:
        return entered(title, us.text(used / _DAY, DAILY)), _in_two_hours(one, used, asked)
    people = household.fixtures.people
    each = us.text(used / people if people else 0.0, VOLUME, 1)
    by_people = Step(
        title,
        tr("people × use of each"),
        f"{_plain(people, asked)} × {each} = {whole}",
        tr("Residential End Uses of Water, version 2, 2016 (from memory)"),
    )
    return by_people, _in_two_hours(one, used, asked)


def _two_fixtures(one: Estimate, asked: Asked) -> tuple[Step, ...]:
    each = _gpm(2.5 * _GPM, asked)
    numbers = f"2 × {each} = {_gpm(one.flow or 0.0, asked)}"
    return (_step(one, tr("Two fixtures at once"), tr("2 × 2.5 gpm"), numbers),)


def _bedrooms(one: Estimate, asked: Asked) -> tuple[Step, ...]:
    rooms, each = _counts(asked).bedrooms, USE_PER_BEDROOM["new_york"]
    us = _us(asked)
    used = _step(
        one,
        tr("Use a day"),
        tr("bedrooms × 110 gal"),
        f"{_plain(rooms, asked)} × {us.text(each, VOLUME)} = {us.text(rooms * each, VOLUME)}",
    )
    return used, _in_two_hours(one, rooms * each, asked)


def _typed(one: Estimate, asked: Asked) -> tuple[Step, ...]:
    return (entered(tr("Peak demand"), asked.display.text(one.flow or 0.0, FLOW)),)


_LEADS: dict[DemandMethod, Lead] = {
    DemandMethod.OUTLETS: _outlets,
    DemandMethod.ALLOWANCES: _allowances,
    DemandMethod.FIXTURE_UNITS_HIGH: _fixture_units,
    DemandMethod.FIXTURE_UNITS_LOW: _fixture_units,
    DemandMethod.SEVEN_MINUTES: _seven_minutes,
    DemandMethod.TWO_HOURS: _two_hours,
    DemandMethod.TWO_FIXTURES: _two_fixtures,
    DemandMethod.BEDROOMS: _bedrooms,
    DemandMethod.TYPED: _typed,
}
