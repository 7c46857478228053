"""Several tanks on one header, each with the air that it really has, and the old plain tank.

Tanks on a header share one pressure and their water adds (:mod:`workbench.physics.header`). Asked
is what they give together, against the same tanks all charged by the job's precharge rule. The
membranes' acceptance is not asked for: where one limits its tank, it gives less.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from workbench.physics.air import AbsolutePressure, FloatArray, absolute, gauge_pressure
from workbench.physics.cycle import fill_time
from workbench.physics.forgiving import SAME
from workbench.physics.header import Vessels, drawdown_each, first_to_empty, matched
from workbench.study.findings import Finding, Level
from workbench.study.header.plain import PlainTank, nothing_fits, read_plain
from workbench.study.reader import Reader
from workbench.study.setting import Setting, pressures
from workbench.study.supply import Supply, fill_of
from workbench.units import PRESSURE, TIME
from workbench.words import tr

if TYPE_CHECKING:
    from workbench.study.evaluate import Results

_PSI = PRESSURE.units["psi"].factor
_READABLE = 0.5 * _PSI  # nobody reads a tyre gauge finer (common practice, no source)
_POINTS = 241  # of the picture, from no pressure to cut-out


@dataclass(frozen=True, slots=True)
class TankOnHeader:
    """One tank of the set (SI, gauge pressures). ``number`` is its line, from 1.

    ``share`` [-]: of the set's drawdown. ``matched``: what it would give at the rule's precharge.
    ``off`` [Pa]: its precharge less the rule's. ``takes_water``: its precharge is below cut-out.
    ``empties_early``: it takes water, and is empty before the pressure is down to cut-in.
    """

    number: int
    volume: float
    precharge: float
    drawdown: float
    share: float
    at_cut_in: float
    at_cut_out: float
    matched: float
    off: float
    takes_water: bool
    empties_early: bool

    @property
    def lost(self) -> float:
        """What it gives less than matched [m³]; below zero where it gives more."""
        return self.matched - self.drawdown

    @property
    def cost(self) -> float | None:
        """What each pascal off costs on the way from the rule's precharge to its own [m³/Pa]."""
        return None if abs(self.off) <= SAME * _PSI else self.lost / abs(self.off)


@dataclass(frozen=True, eq=False)
class WaterPicture:
    """Water [m³] over gauge pressure (m,) [Pa] from 0 to cut-out, with every precharge a point.

    ``each`` (m, n) in each tank, ``total`` (m,), ``matched`` (m,) the same tanks by the rule.
    """

    pressure: FloatArray
    each: FloatArray
    total: FloatArray
    matched: FloatArray


@dataclass(frozen=True, eq=False)
class TankSet:
    """The tanks together (SI). ``first_to_empty``: the number of the tank that empties first above
    cut-in, None where none does. ``gap`` [Pa]: between the last tank's emptying and the pump's
    start, 0 if none. ``run`` [s] at no demand, ``required_run`` by the job's rule; None where an
    entry stands in the way, or no tank takes water. ``cost`` [m³/Pa]: what each pascal of missing
    air costs all tanks together; None where the rule's precharge is not below cut-in.
    """

    setting: Setting
    tanks: tuple[TankOnHeader, ...]
    drawdown: float
    matched: float
    first_to_empty: int | None
    gap: float
    run: float | None
    required_run: float | None
    cost: float | None
    picture: WaterPicture

    @property
    def of_matched(self) -> float | None:
        """Drawdown as a share of what matched precharges give [-]; None where those give none."""
        return self.drawdown / self.matched if self.matched > 0.0 else None

    @property
    def total_volume(self) -> float:
        """All total volumes together [m³]."""
        return sum(tank.volume for tank in self.tanks)


@dataclass(frozen=True, eq=False)
class HeaderView:
    """All that the page shows. A part is None where it is not entered or cannot be read."""

    tanks: TankSet | None
    plain: PlainTank | None
    findings: tuple[Finding, ...]


def header_view(results: Results) -> HeaderView:
    """The page's figures; what stands in the way is among its findings or those of ``results``."""
    reader = Reader(results.job)
    entered = _entered(reader)
    plain = read_plain(results, reader)
    tanks = None
    if entered and results.setting is not None:
        required = results.sizing.chosen.run_time if results.sizing else None
        tanks = tank_set(entered, results.setting, results.inputs.supply, required)
    found = [*reader.findings]
    found += _about_set(tanks) if tanks else ()
    missing = nothing_fits(plain) if plain else None
    found += [missing] if missing else []
    return HeaderView(tanks, plain, tuple(found))


def _entered(reader: Reader) -> list[tuple[float, float]] | None:
    """Total volume [m³] and precharge [gauge Pa] of each tank; None where one cannot be."""
    pairs, sound = reader.pairs("header_set"), True
    for number, (volume, precharge) in enumerate(pairs or (), 1):
        if volume <= 0.0:
            sound = False
            reader.report(
                Level.STOP,
                "tank_volume_zero",
                "header_set",
                tr("Tank {number}: the total volume must be above zero.", number=number),
                tr("Type the total volume on its label."),
            )
        if precharge < 0.0:
            sound = False
            reader.report(
                Level.STOP,
                "tank_precharge_below_zero",
                "header_set",
                tr("Tank {number}: the precharge cannot be below zero.", number=number),
                tr("Type what the gauge reads with the tank drained, zero or above."),
            )
    return pairs if sound else None


def tank_set(
    entered: list[tuple[float, float]],
    setting: Setting,
    supply: Supply | None,
    required_run: float | None,
) -> TankSet:
    """The tanks, each a total volume [m³] and its own precharge [gauge Pa], at a setting.

    Args:
        supply: the pump at this setting; None: no run is told.
        required_run: [s], handed through.
    """
    ambient = AbsolutePressure(np.asarray(setting.ambient))
    own = np.array([precharge for _, precharge in entered])
    vessels = Vessels(
        np.array([volume for volume, _ in entered]),
        absolute(gauge_pressure(own), ambient),
        np.full(len(entered), np.inf),
        setting.exponent,
    )
    precharge, cut_in, cut_out = pressures(setting)
    by_rule = matched(vessels, precharge)
    tanks = _tanks(vessels, by_rule, own, setting)
    drawdown = sum(tank.drawdown for tank in tanks)
    run = None
    if supply is not None and drawdown > 0.0:
        run = float(fill_time(fill_of(supply, vessels)))
    cost = None
    if setting.precharge <= setting.cut_in:
        less = matched(vessels, AbsolutePressure(np.asarray(precharge - _PSI)))
        fewer = float(np.sum(drawdown_each(less, cut_in, cut_out)))
        cost = (sum(tank.matched for tank in tanks) - fewer) / _PSI
    takers = [tank for tank in tanks if tank.takes_water]
    gap = min((tank.precharge for tank in takers), default=setting.cut_in) - setting.cut_in
    return TankSet(
        setting,
        tanks,
        drawdown,
        sum(tank.matched for tank in tanks),
        _first_to_empty(vessels, tanks),
        max(gap, 0.0),
        run,
        required_run,
        cost,
        _picture(vessels, by_rule, own, setting),
    )


def _tanks(
    vessels: Vessels, by_rule: Vessels, own: FloatArray, setting: Setting
) -> tuple[TankOnHeader, ...]:
    _, cut_in, cut_out = pressures(setting)
    low, high = vessels.water_each(cut_in), vessels.water_each(cut_out)
    wanted = drawdown_each(by_rule, cut_in, cut_out)
    total = float(np.sum(high - low))
    return tuple(
        TankOnHeader(
            number=place + 1,
            volume=float(vessels.volume[place]),
            precharge=charge,
            drawdown=float(high[place] - low[place]),
            share=float(high[place] - low[place]) / total if total > 0.0 else 0.0,
            at_cut_in=float(low[place]),
            at_cut_out=float(high[place]),
            matched=float(wanted[place]),
            off=charge - setting.precharge,
            takes_water=charge < setting.cut_out * (1.0 - SAME),
            empties_early=setting.cut_in * (1.0 + SAME) < charge < setting.cut_out * (1.0 - SAME),
        )
        for place, charge in enumerate(map(float, own))
    )


def _first_to_empty(vessels: Vessels, tanks: tuple[TankOnHeader, ...]) -> int | None:
    """Among those that hold water at cut-out; the others have nothing to empty."""
    early = [tank.number - 1 for tank in tanks if tank.empties_early]
    if not early:
        return None
    some = Vessels(
        vessels.volume[early],
        AbsolutePressure(vessels.precharge[early]),
        vessels.acceptance[early],
        vessels.exponent,
    )
    return early[first_to_empty(some)] + 1


def _picture(vessels: Vessels, by_rule: Vessels, own: FloatArray, setting: Setting) -> WaterPicture:
    corners = np.append(own, (setting.precharge, setting.cut_in))
    even = np.linspace(0.0, setting.cut_out, _POINTS)
    gauge = np.unique(np.append(even, corners[(corners >= 0.0) & (corners <= setting.cut_out)]))
    at = absolute(gauge_pressure(gauge), AbsolutePressure(np.asarray(setting.ambient)))
    each = vessels.water_each(at)
    return WaterPicture(gauge, each, np.asarray(each.sum(axis=-1)), by_rule.water(at))


# --- what is wrong with a set ---


def _about_set(tanks: TankSet) -> Iterator[Finding]:
    yield from _about_dry(tanks)
    early = [tank for tank in tanks.tanks if tank.empties_early]
    if early and tanks.gap > 0.0:
        yield Finding(
            Level.CAUTION,
            "header_no_water",
            "header_set",
            tr("All are empty {gap} before the pump starts: a moment of no water."),
            tr("Let air out, tanks drained, down to the rule's precharge."),
            (("gap", tanks.gap, PRESSURE),),
        )
    elif early:
        yield _first_empty(tanks, early)
    yield from _about_matching(tanks)
    yield from _about_run(tanks)
    if len(tanks.tanks) > 1:
        yield Finding(
            Level.CAUTION,
            "service_valves",
            "",
            tr("Each tank may have a valve of its own for service, but no position of the valves"
               " may leave all tanks shut off from the pressure switch and the relief valve: the"
               " pump would run against a closed line."),
            tr("Switch, gauge and relief valve belong on the common header (common practice)."),
        )  # fmt: skip


def _about_dry(tanks: TankSet) -> Iterator[Finding]:
    dry = [tank for tank in tanks.tanks if not tank.takes_water]
    if not dry:
        return
    numbers = _numbers(dry)
    if len(dry) == 1:
        text = tr(
            "Tank {numbers}: its precharge is at or above cut-out, so it takes no water.",
            numbers=numbers,
        )
    else:
        text = tr(
            "Tanks {numbers}: their precharge is at or above cut-out, so they take no water.",
            numbers=numbers,
        )
    level = Level.STOP if len(dry) == len(tanks.tanks) else Level.CAUTION
    remedy = tr("Let air out, tank drained, down to the rule's precharge.")
    yield Finding(level, "tank_takes_no_water", "header_set", text, remedy)


def _first_empty(tanks: TankSet, early: list[TankOnHeader]) -> Finding:
    first = next(tank for tank in early if tank.number == tanks.first_to_empty)
    if len(early) == 1:
        text = tr(
            "Tank {number} is empty {above} above cut-in and gives no more from there.",
            number=first.number,
            above="{above}",
        )
    else:
        text = tr(
            "Tanks {numbers} are empty above cut-in; tank {number} is the first, {above} above it.",
            numbers=_numbers(early),
            number=first.number,
            above="{above}",
        )
    return Finding(
        Level.CAUTION,
        "tank_empties_early",
        "header_set",
        text,
        tr("Let air out, tank drained, down to the rule's precharge."),
        (("above", first.precharge - tanks.setting.cut_in, PRESSURE),),
    )


def _numbers(some: list[TankOnHeader]) -> str:
    return ", ".join(str(tank.number) for tank in some)


def _about_matching(tanks: TankSet) -> Iterator[Finding]:
    charges = [tank.precharge for tank in tanks.tanks]
    if max(charges) - min(charges) <= _READABLE:
        return
    yield Finding(
        Level.CAUTION,
        "precharges_differ",
        "header_set",
        tr("All tanks on one header must have the same precharge; these differ by {spread}."),
        tr("Set all by the rule."),
        (("spread", max(charges) - min(charges), PRESSURE),),
    )


def _about_run(tanks: TankSet) -> Iterator[Finding]:
    run, required = tanks.run, tanks.required_run
    if run is None or required is None or run >= required * (1.0 - SAME):
        return
    yield Finding(
        Level.CAUTION,
        "header_run_short",
        "header_set",
        tr("With no tap open the pump runs {run}; {required} are required."),
        tr("Set the precharges by the rule, or add a tank."),
        (("run", run, TIME), ("required", required, TIME)),
    )
