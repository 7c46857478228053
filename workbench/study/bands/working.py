"""The working of one band against today's: factor, drawdown, run, head, and the usual slip."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from workbench.physics.tank import drawdown_factor
from workbench.study.bands.view import BandColumn, BandsView
from workbench.study.bands.words import band_name, water
from workbench.study.setting import Setting, pressures
from workbench.study.working import Step
from workbench.units import FLOW, HEAD, NUMBER, PRESSURE, STARTS_PER_HOUR, TIME, VOLUME, Display
from workbench.words import tr


def band_steps(view: BandsView, column: BandColumn, display: Display) -> tuple[Step, ...]:
    """How the figures of a band come about; today's drawdown first, to be compared with."""
    today = view.today
    columns = [column] if today is None or column.is_today else [today, column]
    steps: list[Step] = []
    for one in columns:
        steps += _drawdown(view, one, display)
    steps += [*_left(view, column, display), *_run(column, display), _head(column, display)]
    steps += _fixtures(view, column, display)
    return tuple(steps)


def _drawdown(view: BandsView, column: BandColumn, display: Display) -> Iterator[Step]:
    if column.gives is None or column.setting is None or view.tank is None:
        return
    name = band_name(column, display)
    if column.is_today:
        yield Step(
            tr("Air pressure at the site"),
            tr("absolute = gauge + air pressure"),
            display.text(column.setting.ambient, PRESSURE, 3),
            tr("US Standard Atmosphere 1976"),
        )
    volume, amount = view.tank.total_volume, column.gives.drawdown
    yield _factor_step(tr("{band}: drawdown factor", band=name), column.setting, display)
    yield _water_step(tr("{band}: drawdown", band=name), column.setting, volume, amount, display)


def _left(view: BandsView, column: BandColumn, display: Display) -> Iterator[Step]:
    left = column.left
    if left is None or column.setting is None or view.tank is None or left.drawdown <= 0.0:
        return
    setting = replace(column.setting, precharge=left.precharge)
    volume, amount = view.tank.total_volume, left.drawdown
    yield _factor_step(tr("Precharge left as it is today: drawdown factor"), setting, display)
    title = tr("Precharge left as it is today: drawdown")
    yield _water_step(title, setting, volume, amount, display)


def _factor_step(title: str, setting: Setting, display: Display) -> Step:
    """Absolute pressures; above cut-in the precharge lets the tank run empty."""
    charge, low, high = (
        display.number(at + setting.ambient, PRESSURE, 3)
        for at in (setting.precharge, setting.cut_in, setting.cut_out)
    )
    plain = setting.exponent == 1.0
    power = "" if plain else f"^(1/{setting.exponent:g})"
    if setting.precharge > setting.cut_in:
        formula = tr("f = 1 − Pp/Pout") if plain else tr("f = 1 − (Pp/Pout)^(1/n)")
        numbers = f"1 − ({charge}/{high}){power}"
    else:
        formula = tr("f = Pp/Pin − Pp/Pout") if plain else (
            tr("f = (Pp/Pin)^(1/n) − (Pp/Pout)^(1/n)")
        )  # fmt: skip
        numbers = f"({charge}/{low}){power} − ({charge}/{high}){power}"
    return Step(
        title,
        tr("{formula}, absolute pressures in {unit}",
           formula=formula, unit=display.symbol(PRESSURE)),
        f"{numbers} = {_factor(setting, display)}",
        tr("Boyle's law; trade magazine column for well drillers, February 2006"),
    )  # fmt: skip


def _water_step(
    title: str, setting: Setting, volume: float, amount: float, display: Display
) -> Step:
    whole = display.text(volume, VOLUME)
    return Step(
        title,
        tr("Vd = f × V, at most what the membrane lets in"),
        f"{_factor(setting, display)} × {whole} → {display.text(amount, VOLUME, 2)}",
        tr("definition of the factor"),
    )


def _factor(setting: Setting, display: Display) -> str:
    return display.number(float(drawdown_factor(*pressures(setting), setting.exponent)), NUMBER, 4)


def _run(column: BandColumn, display: Display) -> Iterator[Step]:
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


def _head(column: BandColumn, display: Display) -> Step:
    return Step(
        tr("Head at cut-out"),
        tr("h = p / (ρ g), water at 10 °C"),
        f"{display.text(column.band.cut_out, PRESSURE)} → {display.text(column.head, HEAD)}",
        tr("IAPWS-95; the trade's 2.31 ft for 1 psi is 0.1 % more"),
    )


def _fixtures(view: BandsView, column: BandColumn, display: Display) -> Iterator[Step]:
    source = tr("limit of 80 psi: International Residential Code P2903.3.1; least of 8 and 20 psi"
                " while it flows: table P2903.1")  # fmt: skip
    if view.site.below:
        yield Step(
            tr("Lowest fixture, at cut-out"),
            tr("p = p at the tank + ρ g × depth below it"),
            tr("{pressure} at the tank, {depth} below it → {there}",
               pressure=display.text(column.band.cut_out, PRESSURE),
               depth=display.text(view.site.below, HEAD),
               there=display.text(column.lowest, PRESSURE)),
            source,
        )  # fmt: skip
    if view.site.above:
        yield Step(
            tr("Highest fixture, at cut-in"),
            tr("p = p at the tank − ρ g × height above it"),
            tr("{pressure} at the tank, {height} above it → {there}",
               pressure=display.text(column.band.cut_in, PRESSURE),
               height=display.text(view.site.above, HEAD),
               there=display.text(column.highest, PRESSURE)),
            source,
        )  # fmt: skip
