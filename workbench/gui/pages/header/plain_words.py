"""What the page "Several tanks" says of an old plain tank and of what replaces it."""

from __future__ import annotations

import math
from collections.abc import Iterable

from workbench.gui.pages.facts import Row
from workbench.gui.pages.header.words import Shown
from workbench.gui.pages.stops import mend_first
from workbench.study.evaluate import Results
from workbench.study.header.plain import PlainTank, comes_first, to_do, to_remove
from workbench.study.header.view import HeaderView
from workbench.units import PERCENT, PRESSURE, VOLUME, Display
from workbench.words import tr


def why_no_plain(results: Results, view: HeaderView) -> Shown:
    """Why there is no answer about an old tank."""
    if results.job.plain_volume is None:
        return "", tr("Enter the old tank's total volume to see what replaces it."), "muted"
    return "", mend_first((*view.findings, *results.findings)), "problem"


def gives_answer(plain: PlainTank, display: Display) -> Shown:
    """What the old tank gives at this band."""
    air = (
        tr("filled with the air of the room whenever it is drained")
        if plain.residual is None
        else tr(
            "kept charged, {share} water at cut-in", share=display.text(plain.residual, PERCENT)
        )
    )
    reason = tr(
        "{percent} of its {volume}, {air}. Boyle's law.",
        percent=display.text(plain.usable_share, PERCENT),
        volume=display.text(plain.volume, VOLUME),
        air=air,
    )
    return display.text(plain.drawdown, VOLUME), reason, "muted"


def equal_answer(plain: PlainTank, display: Display) -> Shown:
    """The pre-charged total volume with the same drawdown."""
    charge = display.text(plain.setting.precharge, PRESSURE)
    if not math.isfinite(plain.equal_volume):
        reason = tr("Charged to {charge} no tank takes water at this band.", charge=charge)
        return "", reason, "problem"
    reason = tr(
        "Total volume that gives the same usable water, charged to {charge}: {ratio} old gallons"
        " for one new.",
        charge=charge,
        ratio=f"{plain.gallons_for_gallon:.1f}".replace(".", display.mark),
    )
    return display.text(plain.equal_volume, VOLUME), reason, "muted"


def plain_facts(plain: PlainTank, display: Display) -> list[Row]:
    """The catalogue's tank that replaces it, and what equal gallons would give."""
    same = tr(
        "A pre-charged tank of {volume} would give {water}.",
        volume=display.text(plain.volume, VOLUME),
        water=display.text(plain.same_label, VOLUME),
    )
    label = (tr("Same gallons on the label"), same, "", "header.same_label")
    return [_replacement(plain, display), label]


def _replacement(plain: PlainTank, display: Display) -> Row:
    name, one = tr("Smallest that fits"), plain.replacement
    if one is None:
        text = (
            tr("No tank of the catalogue that fits gives as much.")
            if plain.has_catalog
            else tr("No tanks are ranked, so none is told.")
        )
        return name, text, "caution" if plain.has_catalog else "muted"
    text = tr(
        "{name}, {volume}: gives {water}.",
        name=one.name,
        volume=display.text(one.total_volume, VOLUME),
        water=display.text(one.drawdown, VOLUME),
    )
    key = "header.replacement"
    if one.passes:
        return name, text + " " + tr("It also gives the run that the job requires."), "good", key
    small = tr("For the run that the job requires it is too small.")
    return name, f"{text} {small}", "caution", key


def remove_rows() -> list[Row]:
    """The parts to take out."""
    *parts, tank = _numbered(to_remove())
    return [*parts, (*tank[:3], "header.weight")]


def step_list(results: Results, display: Display) -> list[Row]:
    """The steps of the change."""
    *before, air, label = _numbered(to_do(results, display))
    charge = (*air[:3], "header.charge") if results.precharge is not None else air
    return [*before, charge, label, ("", comes_first(), "muted")]


def _numbered(texts: Iterable[str]) -> list[Row]:
    return [(f"{number}.", text, "") for number, text in enumerate(texts, 1)]
