"""Every candidate judged: what it gives, whether it passes, and what speaks against it.

Whole columns at once, so that a large catalogue is judged within a frame. There is no score: hard
failures keep a candidate off the passing list, and the chosen order sorts the rest.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import IntFlag

import numpy as np

from workbench.catalog.tank import Tank
from workbench.job.choices import Order, RunTimeRule
from workbench.physics.air import FloatArray
from workbench.physics.forgiving import SAME
from workbench.physics.tank import drawdown, water_in_tank
from workbench.study.candidates import Candidates
from workbench.study.inputs import Duty, Limits
from workbench.study.setting import Setting, pressures
from workbench.units.kinds import LENGTH, VOLUME

DOOR_CLEARANCE = 2 * LENGTH.units["in"].factor
"""A tank needs this much more than its diameter at a door [m]: common practice, no source."""
CODE_VOLUME = 120 * VOLUME.units["gal"].factor
"""Above this [m³] a vessel needs an ASME stamp in several states (Idaho Administrative Code
58.01.08.547; the performance standard for well tanks ends there too)."""


class Fails(IntFlag):
    """Hard failures: each keeps a candidate off the passing list."""

    DRAWDOWN = 1
    WORKING_PRESSURE = 2
    PRECHARGE_TOO_HIGH = 4
    DOOR = 8
    HEADROOM = 16
    POTABLE = 32
    RUN = 64
    """Gives enough, but runs too short: a fill that a membrane ends early is a quick one."""


class Notes(IntFlag):
    """What a person should know of a candidate; none of these decides."""

    EMPTIES_EARLY = 1
    ACCEPTANCE_LIMITS = 2
    ACCEPTANCE_NOT_STATED = 4
    HIGHEST_NOT_STATED = 8
    NOT_IN_STOCK = 16
    NO_PRICE = 32
    ABOVE_CODE_VOLUME = 64


@dataclass(frozen=True, slots=True)
class Judged:
    """One candidate, judged (SI). ``fails`` empty means that it passes."""

    parts: tuple[Tank, ...]
    total_volume: float
    drawdown: float
    run_time: float
    starts: float
    margin: float
    price: float | None
    floor: float
    fails: Fails
    notes: Notes

    @property
    def tank(self) -> Tank:
        """The tank, or the first of several."""
        return self.parts[0]

    @property
    def count(self) -> int:
        """How many tanks stand on the header."""
        return len(self.parts)

    @property
    def kinds(self) -> tuple[Tank, ...]:
        """The different tanks among them."""
        return tuple({part.id: part for part in self.parts}.values())

    @property
    def name(self) -> str:
        """The tank's name, with the number of tanks where it is more than one."""
        if len(self.kinds) > 1:
            return " + ".join(part.name for part in self.kinds)
        return self.tank.name if self.count == 1 else f"{self.count} × {self.tank.name}"

    @property
    def passes(self) -> bool:
        """Whether nothing keeps it off the list."""
        return not self.fails


@dataclass(frozen=True, eq=False)
class Ranking:
    """All candidates in order, those that pass first. ``row(k)`` is the k-th of them.

    The arrays are over candidates, in no order of their own; ``order`` holds their indices.
    """

    candidates: Candidates
    setting: Setting
    duty: Duty
    limits: Limits
    required: float
    rule: RunTimeRule
    drawdown: FloatArray
    run_time: FloatArray
    starts: FloatArray
    fails: np.ndarray
    notes: np.ndarray
    order: np.ndarray
    passing: int

    def __len__(self) -> int:
        return len(self.order)

    @property
    def least_run(self) -> float:
        """The run [s] at no demand that the required drawdown stands for."""
        return self.required / self.duty.pump_flow

    @property
    def most_starts(self) -> float:
        """The worst starts [1/s] that the required drawdown stands for."""
        return self.duty.supply.starts_factor / self.required

    def row(self, position: int) -> Judged:
        """The candidate at a position of the ranking."""
        return self.judged(int(self.order[position]))

    def judged(self, index: int) -> Judged:
        """The candidate with this index."""
        c = self.candidates
        price = float(c.price[index])
        return Judged(
            parts=c.parts(index),
            total_volume=float(c.volume[index]),
            drawdown=float(self.drawdown[index]),
            run_time=float(self.run_time[index]),
            starts=float(self.starts[index]),
            margin=float(self.drawdown[index]) - self.required,
            price=None if np.isnan(price) else price,
            floor=float(c.floor[index]),
            fails=Fails(int(self.fails[index])),
            notes=Notes(int(self.notes[index])),
        )


def rank(
    candidates: Candidates,
    setting: Setting,
    duty: Duty,
    limits: Limits,
    required: float,
    order: Order,
    rule: RunTimeRule = RunTimeRule.TYPED,
) -> Ranking:
    """Judge every candidate at one setting against the drawdown [m³] that a rule requires."""
    precharge, cut_in, cut_out = pressures(setting)
    columns = candidates.columns
    # Each membrane limits its own tank, and on one header waters and runs add up.
    one = drawdown(precharge, cut_in, cut_out, columns.volume, columns.acceptance, setting.exponent)
    run, factor = duty.supply.runs(one, columns.volume, columns.acceptance)
    water, runs = candidates.total(one), candidates.total(run)
    starts = _starts(candidates, one, factor, water)
    short = _under(water, required)
    fails = _fails(candidates, setting, limits, short)
    if duty.supply.unit is not None:  # else water and run go together
        if rule is RunTimeRule.STARTS:
            quick = _under(duty.supply.starts_factor / required, starts)
        else:
            quick = _under(runs, required / duty.pump_flow)
        fails |= Fails.RUN * (quick & ~short)
    sequence = candidates.sequence(order, water)
    passes = fails[sequence] == 0
    return Ranking(
        candidates=candidates,
        setting=setting,
        duty=duty,
        limits=limits,
        required=required,
        rule=rule,
        drawdown=water,
        run_time=runs,
        starts=starts,
        fails=fails,
        notes=_notes(candidates, setting),
        order=np.concatenate((sequence[passes], sequence[~passes])),
        passing=int(np.count_nonzero(passes)),
    )


def _fails(
    candidates: Candidates, setting: Setting, limits: Limits, short: np.ndarray
) -> np.ndarray:
    """Failure flags of every candidate, int64."""
    columns = candidates.columns
    one = np.zeros(len(columns.volume), dtype=np.int64)  # of a single tank, whatever the count
    needed = setting.cut_out + limits.pressure_margin
    one += Fails.WORKING_PRESSURE * _under(columns.max_working, needed)
    # nan (not stated) compares false: no failure, but a note
    one += Fails.PRECHARGE_TOO_HIGH * _under(columns.highest_precharge, setting.precharge)
    indoors = ~columns.in_ground
    if limits.door_width is not None:
        wide = _under(limits.door_width, columns.diameter + DOOR_CLEARANCE)
        one += Fails.DOOR * (wide & indoors)
    if limits.headroom is not None:
        upright = np.where(columns.horizontal, columns.diameter, columns.height)
        one += Fails.HEADROOM * (_under(limits.headroom, upright) & indoors)
    if limits.potable_required:
        one += Fails.POTABLE * (columns.potable != 1)
    return np.asarray(_of_any(one, candidates) | (Fails.DRAWDOWN * short))


def _of_any(one: np.ndarray, candidates: Candidates) -> np.ndarray:
    """The flags of every arrangement: those of any of its tanks."""
    beside = np.where(candidates.other < 0, 0, one[candidates.other])
    return np.asarray(one[candidates.tank] | beside)


def _starts(
    candidates: Candidates, one: FloatArray, factor: FloatArray, water: FloatArray
) -> FloatArray:
    """Worst starts [1/s], from each tank's drawdown and factor (n,), and all drawdowns.

    On one header the cycles of tanks add up at every draw, so the sum of the shortest ones, which
    may lie at different draws, is never longer than the shortest of all: never too few starts.
    """
    with np.errstate(divide="ignore", invalid="ignore"):
        if np.all(factor == factor[:1]):  # as at a constant flow
            return np.asarray(np.max(factor, initial=0.0) / water)
        return np.asarray(1.0 / candidates.total(one / factor))


def _under(value: FloatArray | float, limit: FloatArray | float) -> np.ndarray:
    """Whether a value lies under a limit by more than rounding; false where one is nan."""
    return np.asarray(value < np.multiply(limit, 1.0 - SAME))


def _notes(candidates: Candidates, setting: Setting) -> np.ndarray:
    """Note flags of every candidate, int64."""
    columns = candidates.columns
    precharge, _, cut_out = pressures(setting)
    free = water_in_tank(cut_out, precharge, columns.volume, np.inf, setting.exponent)
    one = Notes.ACCEPTANCE_LIMITS * (columns.acceptance < free)
    one += Notes.ACCEPTANCE_NOT_STATED * np.isinf(columns.acceptance)
    one += Notes.HIGHEST_NOT_STATED * np.isnan(columns.highest_precharge)
    one += Notes.NOT_IN_STOCK * (columns.in_stock == 0)
    one += Notes.NO_PRICE * np.isnan(columns.price)
    one += Notes.ABOVE_CODE_VOLUME * _under(CODE_VOLUME, columns.volume)
    if setting.precharge > setting.cut_in:
        one += int(Notes.EMPTIES_EARLY)
    return _of_any(one, candidates)
