"""The working of a job's figures: precharge, the drawdown of its tanks, their run and starts."""

from __future__ import annotations

from collections.abc import Iterator

from workbench.job.choices import PrechargeRule, precharge_rules
from workbench.physics.tank import drawdown, drawdown_factor
from workbench.study.evaluate import Results
from workbench.study.inputs import Duty, Reading
from workbench.study.ranking import Judged
from workbench.study.setting import Setting, pressures
from workbench.study.working import Step, air_step, factor_step, water_step
from workbench.units import (
    FLOW,
    PRESSURE,
    STARTS_PER_HOUR,
    TEMPERATURE,
    TIME,
    VOLUME,
    Display,
)
from workbench.words import tr

# --- precharge ---


def precharge_steps(results: Results, setting: Setting, display: Display) -> Iterator[Step]:
    """The precharge by its rule, and the reading where it is set, if that is elsewhere."""
    rule = results.job.precharge_rule
    source = precharge_rules()[rule].source
    precharge = display.text(setting.precharge, PRESSURE)
    if rule is PrechargeRule.TYPED:
        yield Step(tr("Precharge, tank drained"), tr("Pp as entered"), precharge, source)
    else:
        cut_in, below = (
            display.text(value, PRESSURE) for value in (setting.cut_in, setting.below_cut_in)
        )
        yield Step(
            tr("Precharge, tank drained"),
            tr("Pp = Pin − distance of the rule"),
            f"{cut_in} − {below} = {precharge}",
            source,
        )
    reading, charge = results.inputs.reading, results.precharge
    if reading is not None and charge is not None and charge.where_set is not None:
        yield _where_set_step(setting, reading, charge.where_set, display)


def _where_set_step(setting: Setting, reading: Reading, where_set: float, display: Display) -> Step:
    def pressure(value: float) -> str:
        return display.number(value, PRESSURE, 3)

    def kelvin(value: float) -> str:
        return f"{value:.2f}".replace(".", display.mark)

    return Step(
        tr(
            "Reading where it is set, at {temperature}; pressures in {unit}, temperatures in K",
            temperature=display.text(reading.temperature, TEMPERATURE),
            unit=display.symbol(PRESSURE),
        ),
        tr("p = (Pp + air at the tank) × Tset / Ttank − air where it is set"),
        f"({pressure(setting.precharge)} + {pressure(setting.ambient)})"
        f" × {kelvin(reading.temperature)} / {kelvin(reading.service_temperature)}"
        f" − {pressure(reading.ambient)} = {pressure(where_set)}",
        tr(
            "Gay-Lussac's law, OpenStax College Physics, 2012, section 13.3; US Standard"
            " Atmosphere 1976"
        ),
    )


# --- the tank ---


def tank_steps(setting: Setting, one: Judged, display: Display) -> Iterator[Step]:
    """Air, factor, and the drawdown of each kind of tank; that of all where they are several."""
    precharge, cut_in, cut_out = pressures(setting)
    factor = float(drawdown_factor(precharge, cut_in, cut_out, setting.exponent))
    yield air_step(setting, display)
    yield factor_step(setting, factor, display)
    waters = []
    for tank in one.kinds:
        limit = float("inf") if tank.acceptance is None else tank.acceptance
        water = float(
            drawdown(precharge, cut_in, cut_out, tank.total_volume, limit, setting.exponent)
        )
        waters += [water] * sum(part.id == tank.id for part in one.parts)
        title = tr("Drawdown, {tank}", tank=tank.name)
        yield water_step(factor, tank.total_volume, water, display, title)
    if one.count > 1:
        each = " + ".join(display.text(water, VOLUME, 2) for water in waters)
        yield Step(
            tr("Drawdown of all tanks on the header"),
            tr("Vd = sum of each"),
            f"{each} = {display.text(one.drawdown, VOLUME, 2)}",
            tr("all have the same precharge, so their waters add up"),
        )


def run_steps(duty: Duty, one: Judged, display: Display) -> Iterator[Step]:
    """The run of an arrangement at no demand, then its most starts; none if it takes no water."""
    if one.drawdown <= 0.0 or one.run_time <= 0.0:
        return
    water, run = display.text(one.drawdown, VOLUME, 2), display.text(one.run_time, TIME)
    starts = display.text(one.starts, STARTS_PER_HOUR)
    handbook = tr("MIL-HDBK-1005/9A, paragraph 2.5.3.6")
    unit = duty.supply.unit
    if unit is None:
        flow = display.text(duty.pump_flow, FLOW, 2)
        yield Step(
            tr("Run at no demand"), tr("t = Vd / Q"), f"{water} / {flow} = {run}",
            tr("definition"),
        )  # fmt: skip
        yield Step(
            tr("Most starts, half the pump's flow drawn"),
            tr("N = Q / (4 Vd)"),
            f"{flow} / (4 × {water}) = {starts}",
            handbook,
        )
        return
    first, last = (display.text(float(unit.flow[place]), FLOW) for place in (unit.cut_in_node, -1))
    yield Step(
        tr("Run at no demand"),
        tr("t = ∫ dw / Q(w) from cut-in to cut-out"),
        f"{water}, {first} … {last} → {run}",
        tr("mass balance of the tank"),
    )
    yield Step(
        tr("Most starts over every draw"),
        tr("where Vd / q² = ∫ dw / (Q(w) − q)²"),
        tr("{water}, {first} … {last} → {starts}",
           water=water, first=first, last=last, starts=starts),
        handbook,
    )  # fmt: skip
