"""The working of one band against today's: factor, drawdown, run, head, and the usual slip."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from workbench.physics.tank import drawdown_factor
from workbench.study.bands.view import BandColumn, BandsView
from workbench.study.bands.words import band_name, water
from workbench.study.setting import Setting, pressures
from workbench.study.working import Step, air_step, factor_step, head_step, water_step
from workbench.units import FLOW, HEAD, PRESSURE, STARTS_PER_HOUR, TIME, Display
from workbench.words import tr


def band_steps(view: BandsView, column: BandColumn, display: Display) -> tuple[Step, ...]:
    """How the figures of a band come about; today's drawdown first, to be compared with."""
    today = view.today
    columns = [column] if today is None or column.is_today else [today, column]
    steps: list[Step] = []
    for one in columns:
        steps += drawdown_steps(view, one, display)
    steps += [*left_steps(view, column, display), *run_steps(column, display)]
    steps.append(head_step(tr("Head at cut-out"), column.band.cut_out, column.head, display))
    steps += _fixtures(view, column, display)
    return tuple(steps)


def drawdown_steps(view: BandsView, column: BandColumn, display: Display) -> Iterator[Step]:
    """Factor and drawdown of today's tank at a band."""
    if column.gives is None or column.setting is None or view.tank is None:
        return
    name = band_name(column, display)
    if column.is_today:
        yield air_step(column.setting, display)
    volume, amount, factor = view.tank.total_volume, column.gives.drawdown, _factor(column.setting)
    title = tr("{band}: drawdown factor", band=name)
    yield factor_step(column.setting, factor, display, title)
    yield water_step(factor, volume, amount, display, tr("{band}: drawdown", band=name))


def left_steps(view: BandsView, column: BandColumn, display: Display) -> Iterator[Step]:
    """The same with the precharge left as it is today."""
    left = column.left
    if left is None or column.setting is None or view.tank is None or left.drawdown <= 0.0:
        return
    setting = replace(column.setting, precharge=left.precharge)
    factor, title = _factor(setting), tr("Precharge left as it is today: drawdown factor")
    yield factor_step(setting, factor, display, title)
    title = tr("Precharge left as it is today: drawdown")
    yield water_step(factor, view.tank.total_volume, left.drawdown, display, title)


def _factor(setting: Setting) -> float:
    return float(drawdown_factor(*pressures(setting), setting.exponent))


def run_steps(column: BandColumn, display: Display) -> Iterator[Step]:
    """The run at a band."""
    gives, supply = column.gives, column.results.inputs.supply
    if gives is None or gives.run is None or gives.starts is None or supply is None:
        return
    amount, run = water(gives.drawdown, display), display.text(gives.run, TIME)
    if supply.unit is None:
        flow = display.text(supply.mean_flow, FLOW)
        formula, numbers = tr("t = Vd / Q"), f"{amount} / {flow} = {run}"
    else:
        formula = tr("t = ∫ dV / Q, from cut-in to cut-out")
        numbers = tr("{amount} → {run}", amount=amount, run=run)
    yield Step(
        tr("Run with no tap open"),
        formula,
        numbers,
        tr("MIL-HDBK-1005/9A, paragraph 2.5.3.6; starts at worst {starts} an hour",
           starts=display.number(gives.starts, STARTS_PER_HOUR)),
    )  # fmt: skip


def _fixtures(view: BandsView, column: BandColumn, display: Display) -> Iterator[Step]:
    if view.site.below:
        yield lowest_step(view, column, display)
    if view.site.above:
        yield highest_step(view, column, display)


def lowest_step(view: BandsView, column: BandColumn, display: Display) -> Step:
    """The static pressure at the lowest fixture at cut-out."""
    return Step(
        tr("Lowest fixture, at cut-out"),
        tr("p = p at the tank + ρ g × depth below it"),
        tr("{pressure} at the tank, {depth} below it → {there}",
           pressure=display.text(column.band.cut_out, PRESSURE),
           depth=display.text(view.site.below, HEAD),
           there=display.text(column.lowest, PRESSURE)),
        _of_fixtures(),
    )  # fmt: skip


def highest_step(view: BandsView, column: BandColumn, display: Display) -> Step:
    """The pressure at the highest fixture at cut-in."""
    return Step(
        tr("Highest fixture, at cut-in"),
        tr("p = p at the tank − ρ g × height above it"),
        tr("{pressure} at the tank, {height} above it → {there}",
           pressure=display.text(column.band.cut_in, PRESSURE),
           height=display.text(view.site.above, HEAD),
           there=display.text(column.highest, PRESSURE)),
        _of_fixtures(),
    )  # fmt: skip


def _of_fixtures() -> str:
    return tr(
        "limit of 80 psi: International Residential Code P2903.3.1; least of 8 and 20 psi while it"
        " flows: table P2903.1"
    )
