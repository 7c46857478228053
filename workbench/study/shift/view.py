"""Drawdown of one tank at one band over every precharge, and what each psi beside the right costs.

With too little air water stays behind at cut-in and the membrane is pushed further at cut-out; with
too much the tank is empty before the pump starts. Boyle's law (:mod:`workbench.physics.tank`) says
how much; how long no water comes says the system in motion.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from enum import Enum, auto

import numpy as np

from workbench.job.choices import PrechargeRule
from workbench.physics.air import AbsolutePressure, FloatArray
from workbench.physics.forgiving import SAME
from workbench.physics.gap import NoWater, no_water
from workbench.physics.household import DAY
from workbench.physics.tank import drawdown as drawdown_between
from workbench.physics.tank import water_in_tank
from workbench.study.day.plan import read_day_household
from workbench.study.evaluate import Results
from workbench.study.findings import Finding, Level
from workbench.study.inputs import BELOW_CUT_IN
from workbench.study.live.rig import Rig
from workbench.study.live.view import Shell, the_shell
from workbench.study.reader import Reader
from workbench.study.setting import Setting
from workbench.units import PRESSURE
from workbench.words import tr

_PSI = PRESSURE.units["psi"].factor
LOWEST_RIGHT = 5 * _PSI
"""The lowest rule in print sets the precharge so far below cut-in [Pa] (Washington State Department
of Health 331-123, 2009, chapter 11, from memory); below that we call a tank undercharged."""
STEP = _PSI
"""What a cost is told for [Pa]."""
BEYOND = 10 * _PSI
"""So far past cut-out the picture goes [Pa]."""
FAR = 1.5
"""A precharge so many times cut-out lies beyond the picture."""
_POINTS = 241


class Region(Enum):
    """Where a precharge lies."""

    UNDER = auto()  # water stays behind at cut-in
    RIGHT = auto()
    OVER = auto()  # the tank is empty before the pump starts
    SHUT = auto()  # at or above cut-out: no water enters


@dataclass(frozen=True, slots=True)
class AtCharge:
    """The tank at one precharge; gauge pressure [Pa], volumes [m³].

    ``left``: water in the tank at cut-in. ``held``: at cut-out; ``reach``: that as a share of the
    total volume, so far the membrane travels; ``of_acceptance``: as a share of what it lets in,
    None where that is not known. ``change``: of the drawdown against the recommended precharge's
    [-]. ``starts`` [1/s] over the day, None where the day's use is not known. ``gap`` None: not
    known, or nothing is drawn.
    """

    precharge: float
    region: Region
    drawdown: float
    left: float
    held: float
    reach: float
    of_acceptance: float | None
    change: float | None
    starts: float | None
    gap: NoWater | None


@dataclass(frozen=True, slots=True)
class Cost:
    """What the first :data:`STEP` away costs: drawdown lost [m³], starts more [1/s]."""

    water: float
    starts: float | None


@dataclass(frozen=True, eq=False)
class Shift:
    """One tank at one band over the precharge.

    ``curve``: drawdown (n,) and ``left`` (n,) [m³] over ``over`` (n,) gauge [Pa], from zero past
    cut-out. ``today`` is at the job's precharge, ``recommended`` at the rule's, ``greatest`` at
    cut-in. ``below``: the cost of the first step under the recommended one, ``above``: of the
    first over cut-in. ``limited_below``: gauge [Pa] under which the membrane is at its limit before
    cut-out; None if it never is. ``daily`` use [m³/s]; ``tap`` [m³/s]. ``no_gap``: why the gap is
    not known, in words.
    """

    setting: Setting
    shell: Shell
    rig: Rig | None
    tap: float | None
    daily: float | None
    over: FloatArray
    curve: FloatArray
    left: FloatArray
    today: AtCharge
    recommended: AtCharge
    greatest: AtCharge
    below: Cost | None
    above: Cost
    limited_below: float | None
    no_gap: str

    @property
    def is_recommended(self) -> bool:
        """Whether today's precharge is the recommended one."""
        return math.isclose(
            self.today.precharge, self.recommended.precharge, rel_tol=SAME, abs_tol=1e-3
        )

    @property
    def lowest_right(self) -> float:
        """Gauge pressure [Pa] from which on a precharge is right."""
        return max(self.setting.cut_in - LOWEST_RIGHT, 0.0)

    def at(self, precharge: float) -> AtCharge:
        """The tank at a gauge precharge [Pa], zero or above."""
        ground = _Ground(self.setting, self.shell, self.rig, self.tap, self.daily)
        with np.errstate(all="ignore"):  # numbers beyond all tanks
            return ground.at(precharge, self.recommended.drawdown)


@dataclass(frozen=True, eq=False)
class ShiftView:
    """All that the page shows; ``shift`` None: there is no tank, or no setting."""

    shift: Shift | None
    findings: tuple[Finding, ...]


def shift_view(results: Results) -> ShiftView:
    """The page's figures. The gap and the starts are None where their entries cannot be used."""
    setting, live = results.setting, results.live
    shell_reader, day_reader = Reader(results.job), Reader(results.job)
    shell = the_shell(results, shell_reader)
    daily = _daily(results, day_reader)
    tank = {(one.field, one.code) for one in shell_reader.findings}
    rest = (one for one in live.findings if (one.field, one.code) not in tank)
    findings = [*shell_reader.findings]
    # Drawdown needs neither pump nor pipes nor house: what is wrong there stops only its own part.
    findings += [_no_more_than_caution(one) for one in rest if one.field != "relief_setting"]
    findings += [_no_more_than_caution(one) for one in day_reader.findings]
    if setting is None or shell is None:
        return ShiftView(None, tuple(findings))
    right = setting.cut_in - _below_cut_in(results)
    if right < 0.0:
        findings.append(
            Finding(
                Level.STOP,
                "recommended_below_zero",
                "cut_in",
                tr("So low a cut-in leaves no room for a precharge below it."),
                tr("Raise cut-in, or choose another precharge rule."),
            )
        )
        return ShiftView(None, tuple(findings))
    no_gap = live.why
    if live.rig is not None and live.tap is None:
        no_gap = tr("The steady draw cannot be read.")
    elif live.rig is not None and not live.tap:
        no_gap = tr("Nothing is drawn.")
    ground = _Ground(setting, shell, live.rig, live.tap, daily)
    with np.errstate(all="ignore"):
        return ShiftView(_shift(ground, right, no_gap), tuple(findings))


def _shift(ground: _Ground, right: float, no_gap: str) -> Shift:
    setting = ground.setting
    best = ground.drawdown(right)
    end = setting.cut_out + BEYOND
    if setting.precharge < FAR * setting.cut_out:
        end = max(end, setting.precharge + BEYOND)
    points = [setting.cut_in, setting.cut_out, setting.precharge, right]
    over = np.unique(np.concatenate((np.linspace(0.0, end, _POINTS), points)))
    over = over[over <= end]
    held, left = ground.water(over)
    return Shift(
        setting=setting,
        shell=ground.shell,
        rig=ground.rig,
        tap=ground.tap,
        daily=ground.daily,
        over=over,
        curve=held - left,
        left=left,
        today=ground.at(setting.precharge, best),
        recommended=ground.at(right, best),
        greatest=ground.at(setting.cut_in, best),
        below=_cost(ground, right, right - STEP) if right >= STEP else None,
        above=_cost(ground, setting.cut_in, setting.cut_in + STEP),
        limited_below=_limited_below(setting, ground.shell),
        no_gap=no_gap,
    )


def _below_cut_in(results: Results) -> float:
    """How far the recommended precharge lies below cut-in [Pa]: by the job's rule, if it is one."""
    rule = results.job.precharge_rule
    return BELOW_CUT_IN[PrechargeRule.BELOW_2 if rule is PrechargeRule.TYPED else rule]


def _daily(results: Results, reader: Reader) -> float | None:
    """What the house draws in a mean day, as on the page "Day" [m³/s]."""
    house = read_day_household(results.job, reader)
    return None if house is None else house.mean_volume / DAY


def _no_more_than_caution(finding: Finding) -> Finding:
    return replace(finding, level=min(finding.level, Level.CAUTION))


@dataclass(frozen=True, eq=False)
class _Ground:
    """All that the figures of one precharge rest on."""

    setting: Setting
    shell: Shell
    rig: Rig | None
    tap: float | None
    daily: float | None

    def water(self, precharge: FloatArray) -> tuple[FloatArray, FloatArray]:
        """Water [m³] at cut-out and at cut-in over gauge precharges [Pa]."""
        one, shell = self.setting, self.shell
        charge = AbsolutePressure(np.asarray(precharge) + one.ambient)
        at_cut_out, at_cut_in = (
            water_in_tank(
                AbsolutePressure(np.asarray(pressure + one.ambient)),
                charge,
                shell.volume,
                shell.acceptance,
                one.exponent,
            )
            for pressure in (one.cut_out, one.cut_in)
        )
        return at_cut_out, at_cut_in

    def at(self, precharge: float, best: float) -> AtCharge:
        """One precharge, compared with the ``best`` drawdown [m³]."""
        one, shell = self.setting, self.shell
        held, left = (float(water) for water in self.water(np.asarray(precharge)))
        gives = self.drawdown(precharge)
        return AtCharge(
            precharge=precharge,
            region=region_of(precharge, one),
            drawdown=gives,
            left=left,
            held=held,
            reach=held / shell.volume,
            of_acceptance=None if math.isinf(shell.acceptance) else held / shell.acceptance,
            change=gives / best - 1.0 if best else None,
            starts=self.starts(gives),
            gap=self._gap(precharge),
        )

    def starts(self, gives: float) -> float | None:
        """Starts [1/s] over the day with a drawdown [m³], if no run feeds an open tap."""
        return self.daily / gives if self.daily is not None and gives > 0.0 else None

    def drawdown(self, precharge: float) -> float:
        """Drawdown [m³] at a gauge precharge [Pa]."""
        one, shell = self.setting, self.shell
        charge, low, high = (
            AbsolutePressure(np.asarray(pressure + one.ambient))
            for pressure in (precharge, one.cut_in, one.cut_out)
        )
        return float(
            drawdown_between(charge, low, high, shell.volume, shell.acceptance, one.exponent)
        )

    def _gap(self, precharge: float) -> NoWater | None:
        if self.rig is None or not self.tap:
            return None
        try:
            return no_water(replace(self.rig.system, precharge=precharge), self.tap)
        except ValueError:  # hardly any water between cut-in and cut-out: nothing to be followed
            return None


def region_of(precharge: float, setting: Setting) -> Region:
    """Where a gauge precharge [Pa] lies at a band."""
    slack = SAME * setting.cut_out
    if precharge >= setting.cut_out - slack:
        return Region.SHUT
    if precharge > setting.cut_in + slack:
        return Region.OVER
    return Region.UNDER if precharge < setting.cut_in - LOWEST_RIGHT - slack else Region.RIGHT


def _cost(ground: _Ground, right: float, beside: float) -> Cost:
    here, there = ground.drawdown(right), ground.drawdown(beside)
    usual, more = ground.starts(here), ground.starts(there)
    return Cost(here - there, None if usual is None or more is None else more - usual)


def _limited_below(setting: Setting, shell: Shell) -> float | None:
    """Gauge precharge [Pa] under which the membrane ends the filling: Pout (1 − A/V)ⁿ."""
    air = 1.0 - shell.acceptance / shell.volume
    if air <= 0.0:
        return None
    limit = (setting.cut_out + setting.ambient) * air**setting.exponent - setting.ambient
    return limit if limit > 0.0 else None
