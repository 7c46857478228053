"""The old plain tank, air over water without a membrane: what it gives, and what replaces it.

Equal usable water decides, not equal gallons on the label: a plain tank whose air is that of the
room gives a third to a quarter of what a pre-charged one gives.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np

from workbench.physics.air import AbsolutePressure
from workbench.physics.forgiving import SAME
from workbench.physics.header import Vessels, drawdown_each
from workbench.physics.tank import drawdown_factor, volume_for_drawdown
from workbench.study.findings import Finding, Level
from workbench.study.ranking import Fails, Judged, Ranking
from workbench.study.reader import Reader
from workbench.study.record import us
from workbench.study.setting import Setting, pressures
from workbench.study.working import Step
from workbench.units import PERCENT, PRESSURE, VOLUME, Display
from workbench.words import tr

if TYPE_CHECKING:
    from workbench.study.evaluate import Results


@dataclass(frozen=True, eq=False)
class PlainTank:
    """An old plain tank at the job's band (SI).

    ``residual`` [-]: water left at cut-in; None where its air is that of the room.
    ``equal_volume``: total volume of the pre-charged tank with the same drawdown; inf where its
    precharge keeps all water out. ``same_label``: drawdown of a pre-charged tank of the old one's
    volume. ``replacement``: the smallest arrangement of the catalogue that gives as much; None
    where there is none, or no catalogue.
    """

    setting: Setting
    volume: float
    residual: float | None
    drawdown: float
    equal_volume: float
    same_label: float
    replacement: Judged | None
    has_catalog: bool

    @property
    def usable_share(self) -> float:
        """Drawdown as a share of its total volume [-]."""
        return self.drawdown / self.volume

    @property
    def gallons_for_gallon(self) -> float:
        """Old volume over the equal new one [-]; 0 where no new one is enough."""
        return self.volume / self.equal_volume


def read_plain(results: Results, reader: Reader) -> PlainTank | None:
    """The old tank as entered; None where none is, or with findings where it cannot be used."""
    setting, typed = results.setting, results.job.plain_volume is not None
    volume = reader.above_zero("plain_volume")
    residual = reader.share("plain_residual", needed=typed)
    if residual is not None and residual >= 1.0:
        reader.report(
            Level.STOP if typed else Level.CAUTION,
            "residual_all_water",
            "plain_residual",
            tr("A tank that is all water at cut-in has no air to push it out."),
            tr("Type the share of water that is left when the pump starts, often 10 %."),
        )
        return None
    unread = results.job.plain_residual is not None and residual is None
    if setting is None or volume is None or unread:
        return None
    return plain_tank(volume, residual, setting, results.ranking)


def plain_tank(
    volume: float, residual: float | None, setting: Setting, ranking: Ranking | None
) -> PlainTank:
    """What a plain tank [m³] gives, and the pre-charged tanks that give as much.

    Args:
        residual: share of water at cut-in [-], 0 to below 1; None: drained, it fills itself with
            the air of the room.
    """
    precharge, cut_in, cut_out = pressures(setting)
    air = AbsolutePressure(np.asarray(setting.ambient)) if residual is None else cut_in
    # By Boyle's law it works as a pre-charged tank of its share of air; see plain_drawdown.
    old = Vessels.one(volume * (1.0 - (residual or 0.0)), air, np.inf, setting.exponent)
    water = float(np.sum(drawdown_each(old, cut_in, cut_out)))
    factor = float(drawdown_factor(precharge, cut_in, cut_out, setting.exponent))
    equal = float(volume_for_drawdown(water, precharge, cut_in, cut_out, setting.exponent))
    return PlainTank(
        setting,
        volume,
        residual,
        water,
        equal,
        factor * volume,
        None if ranking is None else smallest_that_gives(water, ranking),
        ranking is not None,
    )


def smallest_that_gives(water: float, ranking: Ranking) -> Judged | None:
    """The smallest arrangement that gives so much [m³] and fits in all but the required run.

    Of equally large ones the one with fewest tanks, then the cheapest.
    """
    candidates = ranking.candidates
    unfit = (ranking.fails & ~int(Fails.DRAWDOWN | Fails.RUN)) != 0
    usable = np.flatnonzero(~unfit & (ranking.drawdown >= water * (1.0 - SAME)))
    if not len(usable):
        return None
    columns = (candidates.price, candidates.count, candidates.volume)
    order = np.lexsort(tuple(column[usable] for column in columns))
    return ranking.judged(int(usable[order[0]]))


def to_remove() -> tuple[str, ...]:
    """What served the air of a plain tank and must go: common practice, no source."""
    return (
        tr("The air volume control on the tank's side, with its tube."),
        tr("The bleeder in the drop pipe and the snifter valve: both let air in at every start."),
        tr("The old tank, drained. Full it weighs 8.34 lb a gallon more (1 kg a litre)."),
    )


def to_do(results: Results, display: Display) -> tuple[str, ...]:
    """The steps of the change in their order: common practice, no source.

    The precharge is told only while nothing stands against it as an instruction.
    """
    charge = results.precharge
    if charge is None:
        air = tr("Set the precharge once the stops are mended; until then none is told.")
    else:
        place = charge.in_service if charge.where_set is None else charge.where_set
        air = tr(
            "Set the precharge to {pressure}, tank empty of water, before water is let in.",
            pressure=display.text(place, PRESSURE),
        )
    return (
        tr("Power off and locked out, proven dead; tank drained and the gauge at zero."),
        tr("Plug every port that is left open, the bleeder's in the well too."),
        tr("Add a check valve if the old one was drilled to let the pipe drain back."),
        tr(
            "Check the relief valve again: it must be there, nothing may shut it off, and it opens"
            " at or below the new tank's marked working pressure."
        ),
        air,
        tr("Label the tank anew: precharge, switch band, date."),
    )


def comes_first() -> str:
    """What goes before every step."""
    return tr("Local codes, the equipment's own instructions and licensed practice come first.")


def plain_steps(plain: PlainTank, display: Display) -> tuple[Step, ...]:
    """The working: what the old tank gives, and the new volume that gives the same."""
    setting, exponent = plain.setting, plain.setting.exponent
    power = "" if exponent == 1.0 else f"^(1/{exponent:g})"

    def absolute(gauge: float) -> str:
        return display.number(gauge + setting.ambient, PRESSURE, 3)

    air, low, high = absolute(0.0), absolute(setting.cut_in), absolute(setting.cut_out)
    volume, water = display.text(plain.volume, VOLUME), display.text(plain.drawdown, VOLUME, 2)
    if plain.residual is None:
        formula = tr("Vd = V × (Pa/Pin − Pa/Pout)")
        numbers = f"{volume} × (({air}/{low}){power} − ({air}/{high}){power}) = {water}"
        source = tr(
            "Boyle's law with the air of the room; agrees with the tank chart of US EPA, Private"
            " Water Systems, Pumping Installation, Storage, Amount"
        )
    else:
        formula = tr("Vd = V × (1 − r) × (1 − Pin/Pout)")
        share = display.text(plain.residual, PERCENT)
        numbers = f"{volume} × (1 − {share}) × (1 − ({low}/{high}){power}) = {water}"
        source = tr("Boyle's law; reconstructed from UFC 3-420-01, whose 24 % at 40/60 it gives")
    title = tr("Old tank, absolute pressures in {unit}", unit=display.symbol(PRESSURE))
    steps = [Step(title, formula, numbers, source)]
    if np.isfinite(plain.equal_volume):
        factor = plain.same_label / plain.volume
        equal = display.text(plain.equal_volume, VOLUME)
        steps.append(Step(
            tr("Pre-charged total volume of the same drawdown"), tr("V = Vd / f"),
            f"{water} / {factor:.4f} = {equal}",
            tr("non-profit well council information sheet “Pressure Tanks”, January 2007, p. 2"),
        ))  # fmt: skip
    return tuple(steps)


def plain_record(results: Results, plain: PlainTank) -> dict[str, Any]:
    """The old tank and what replaces it as plain data, US customary, units in the keys."""
    one = plain.replacement
    return {
        "total_volume_gal": us(plain.volume, VOLUME),
        "residual_water_percent": us(plain.residual, PERCENT),
        "drawdown_gal": us(plain.drawdown, VOLUME),
        "usable_share": plain.usable_share,
        "equal_precharged_volume_gal": us(plain.equal_volume, VOLUME),
        "drawdown_of_same_label_gal": us(plain.same_label, VOLUME),
        "replacement": None
        if one is None
        else {
            "set": one.name,
            "ids": [part.id for part in one.parts],
            "total_volume_gal": us(one.total_volume, VOLUME),
            "drawdown_gal": us(one.drawdown, VOLUME),
            "meets_required_run": one.passes,
        },
        "remove": list(to_remove()),
        "do": list(to_do(results, Display())),
        "comes_first": comes_first(),
        "working": [str(step) for step in plain_steps(plain, Display())],
    }


def nothing_fits(plain: PlainTank) -> Finding | None:
    """A note where the catalogue has no tank that gives as much."""
    if not plain.has_catalog or plain.replacement is not None:
        return None
    return Finding(
        Level.NOTE,
        "no_replacement",
        "plain_volume",
        tr("No tank of the catalogue that fits gives {water} at this band."),
        tr("Allow several tanks on one header, or see why each fails on the page “Tank”."),
        (("water", plain.drawdown, VOLUME),),
    )
