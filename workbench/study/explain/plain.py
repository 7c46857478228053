"""How the figures of an old plain tank, and of what replaces it, come about."""

from __future__ import annotations

from math import isfinite

from workbench.study.explain import bench, pictures
from workbench.study.explain.explanation import Asked, Explain, Working
from workbench.study.explain.steps import ending, ending_as
from workbench.study.header.plain import PlainTank, plain_steps
from workbench.study.job_working import tank_steps
from workbench.study.working import Step, air_step, factor_step, water_step
from workbench.units import MASS, PERCENT, VOLUME, Display
from workbench.words import tr


def _plain(asked: Asked) -> PlainTank | None:
    return asked.results.header.plain


def _gives(asked: Asked) -> Working | None:
    plain, display = _plain(asked), asked.display
    if plain is None:
        return None
    old = ending(plain_steps(plain, display)[0], plain.drawdown, VOLUME, display)
    volume, water = display.text(plain.volume, VOLUME), display.text(plain.drawdown, VOLUME, 2)
    share = Step(
        tr("Share of its volume that can be used"),
        tr("Vd / V"),
        f"{water} / {volume} = {display.text(plain.usable_share, PERCENT)}",
        tr("definition"),
    )
    return Working((air_step(plain.setting, display), old), (share,))


def _factor(plain: PlainTank) -> float:
    return plain.same_label / plain.volume


def _equal(asked: Asked) -> Working | None:
    plain, display = _plain(asked), asked.display
    if plain is None or not isfinite(plain.equal_volume):
        return None
    old, new = plain_steps(plain, display)
    equal, volume = (display.text(v, VOLUME) for v in (plain.equal_volume, plain.volume))
    ratio = f"{plain.gallons_for_gallon:.1f}".replace(".", display.mark)
    beside = Step(
        tr("Old gallons for one new"),
        tr("old volume / new volume"),
        f"{volume} / {equal} = {ratio}",
        tr("definition"),
    )
    factor = factor_step(plain.setting, _factor(plain), display)
    charge = bench.FIGURES["precharge"](asked)
    before = () if charge is None else charge.steps[:1]
    steps = (air_step(plain.setting, display), *before, old, factor, new)
    return Working(steps, (beside,), pictures.air(plain.setting, display))


def _replacement(asked: Asked) -> Working | None:
    plain, display = _plain(asked), asked.display
    if plain is None or plain.replacement is None:
        return None
    one = plain.replacement
    *first, last = tank_steps(plain.setting, one, display)
    volume = Step(
        tr("Total volume"),
        tr("the smallest that gives as much and fits"),
        display.text(one.total_volume, VOLUME),
        tr("the catalogue's row"),
    )
    last = ending(last, one.drawdown, VOLUME, display)
    return Working((volume, *first, last), picture=pictures.air(plain.setting, display))


def _same_label(asked: Asked) -> Working | None:
    plain, display = _plain(asked), asked.display
    if plain is None:
        return None
    factor = _factor(plain)
    water = water_step(factor, plain.volume, plain.same_label, display)
    steps = (
        air_step(plain.setting, display),
        factor_step(plain.setting, factor, display),
        ending(water, plain.same_label, VOLUME, display),
    )
    return Working(steps, picture=pictures.air(plain.setting, display))


def _weight(asked: Asked) -> Working | None:
    """What a gallon weighs."""
    display = Display(mark=asked.display.mark)
    gallon, litre = VOLUME.units["gal"].factor, VOLUME.units["L"].factor
    density, pound = 999.7, MASS.units["lb"].factor
    weight = display.text(density * gallon, MASS, 2)
    one = f"{density:.1f} × {gallon:.7f} / {pound:.6f}".replace(".", display.mark)
    metric = f"{density:.1f} × {litre:.3f} = 1.0 kg".replace(".", display.mark)
    source = tr("water at 10 °C: IAPWS-95; pound and gallon: NIST Special Publication 811, 2008")
    of_litre = Step(tr("Weight of a litre"), tr("density in kg/m³ × volume in m³"), metric, source)
    of_gallon = Step(
        tr("Weight of a US gallon"), tr("density × volume / pound"), f"{one} = {weight}", source
    )
    # so the sentence has them, whatever the decimal mark
    return Working((ending_as(of_litre, "1 kg"), ending_as(of_gallon, "8.34 lb")))


FIGURES: dict[str, Explain] = {
    "gives": _gives,
    "equal": _equal,
    "replacement": _replacement,
    "same_label": _same_label,
    "weight": _weight,
    "charge": bench.FIGURES["precharge"],
}
"""They belong to the page "Several tanks"."""
