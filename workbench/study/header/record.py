"""Several tanks and the old plain tank: the working of the figures, and all of it as plain data."""

from __future__ import annotations

from typing import Any

from workbench.study.evaluate import Results
from workbench.study.header.plain import plain_record
from workbench.study.header.view import TankSet
from workbench.study.record import finding_record, us
from workbench.study.working import Step
from workbench.units import PRESSURE, TIME, VOLUME, Display
from workbench.words import tr

_PSI = PRESSURE.units["psi"].factor


def header_steps(tanks: TankSet, display: Display) -> tuple[Step, ...]:
    """The working: each tank's drawdown, and their sum against matched precharges."""
    each = " + ".join(display.number(tank.drawdown, VOLUME, 2) for tank in tanks.tanks)
    matching = " + ".join(display.number(tank.matched, VOLUME, 2) for tank in tanks.tanks)
    source = tr(
        "usable water of tanks on a header adds: trade magazine for water-well drillers, “Using"
        " multiple pressure tanks for larger systems”, 2008; Boyle's law"
    )
    return (
        Step(tr("Each with its own air"), tr("Vd = Σ V × (water share at cut-out − at cut-in)"),
             f"{each} = {display.text(tanks.drawdown, VOLUME, 2)}", source),
        Step(tr("All by the rule"), tr("the same at the rule's precharge"),
             f"{matching} = {display.text(tanks.matched, VOLUME, 2)}", source),
    )  # fmt: skip


def header_record(results: Results) -> dict[str, Any]:
    """The page as plain data, US customary, with units in the keys."""
    view = results.header
    return {
        "set": _set_record(view.tanks) if view.tanks else None,
        "plain": plain_record(results, view.plain) if view.plain else None,
        "findings": [finding_record(one) for one in (*results.findings, *view.findings)],
    }


def _set_record(tanks: TankSet) -> dict[str, Any]:
    numbers = {
        tank.number: {
            "tank": tank.number,
            "total_volume_gal": us(tank.volume, VOLUME),
            "precharge_psi": us(tank.precharge, PRESSURE),
            "drawdown_gal": us(tank.drawdown, VOLUME),
            "share": tank.share,
            "water_at_cut_in_gal": us(tank.at_cut_in, VOLUME),
            "water_at_cut_out_gal": us(tank.at_cut_out, VOLUME),
            "matched_drawdown_gal": us(tank.matched, VOLUME),
            "lost_gal_per_psi": _per_psi(tank.cost),
            "takes_water": tank.takes_water,
            "empties_above_cut_in": tank.empties_early,
        }
        for tank in tanks.tanks
    }
    return {
        "drawdown_gal": us(tanks.drawdown, VOLUME),
        "matched_drawdown_gal": us(tanks.matched, VOLUME),
        "share_of_matched": tanks.of_matched,
        "matched_precharge_psi": us(tanks.setting.precharge, PRESSURE),
        "first_to_empty": tanks.first_to_empty,
        "no_water_gap_psi": us(tanks.gap, PRESSURE),
        "run_time_min": us(tanks.run, TIME),
        "required_run_time_min": us(tanks.required_run, TIME),
        "missing_air_costs_gal_per_psi": _per_psi(tanks.cost),
        "tanks": list(numbers.values()),
        "working": [str(step) for step in header_steps(tanks, Display())],
    }


def _per_psi(cost: float | None) -> float | None:
    return None if cost is None else us(cost * _PSI, VOLUME)
