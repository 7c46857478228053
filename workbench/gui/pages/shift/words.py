"""What the page "Precharge" says: figures as texts, with their reasons."""

from __future__ import annotations

from collections.abc import Iterable

from workbench.gui.pages.facts import Row
from workbench.gui.pages.grid_table import Cell
from workbench.gui.pages.stops import mend_first
from workbench.job.choices import PrechargeRule, precharge_rules
from workbench.study.bands.words import water
from workbench.study.evaluate import Results
from workbench.study.findings import Finding, Level
from workbench.study.shift.view import AtCharge, Region, Shift, ShiftView
from workbench.study.shift.words import (
    change_text,
    cost_sentence,
    falters,
    gap_basis,
    gap_text,
    region_sentence,
    rows,
    starts_text,
)
from workbench.units import DAILY, PERCENT, PRESSURE, VOLUME, Display
from workbench.words import tr

Shown = tuple[str, str, str]
"""A figure, its reason, and the role of the reason."""


def legend() -> str:
    """What stands above the plot."""
    return tr(
        "Water from cut-out to cut-in over the air in the drained tank; dashed: what is left in the"
        " tank at cut-in. Disc: recommended; square and heavy line: yours. Point at the plot or use"
        " the arrow keys to read it."
    )


def what_stops(results: Results, view: ShiftView) -> str:
    """Why nothing can be shown."""
    stops = mend_first((*results.findings, *view.findings))
    return stops or tr("There is no tank: open a catalogue, or type a total volume.")


def told_here(results: Results, view: ShiftView) -> Iterable[Finding]:
    """The findings that this page must tell, wherever their field stands."""
    return view.findings if view.shift else (*results.of_level(Level.STOP), *view.findings)


def gives_answer(shift: Shift, display: Display) -> Shown:
    """What today's precharge gives against the recommended one."""
    own, right = shift.today, shift.recommended
    reason = region_sentence(own, shift, display)
    role = "muted" if own.region is Region.RIGHT and not falters(own) else "caution"
    if shift.is_recommended:
        return water(own.drawdown, display), reason, role
    figure = tr(
        "{own} of {right}: {change}",
        own=display.number(own.drawdown, VOLUME),
        right=display.text(right.drawdown, VOLUME),
        change=change_text(own, display),
    )
    return figure, reason, role


def charge_answer(results: Results, shift: Shift, display: Display) -> Shown:
    """The recommended precharge, by which rule, and how it is set without harm."""
    rule = results.job.precharge_rule
    told = precharge_rules()[PrechargeRule.BELOW_2 if rule is PrechargeRule.TYPED else rule]
    reason = " ".join(
        (
            f"{told.label[:1].upper()}{told.label[1:]}.",
            tr("At the tank, in service."),
            tr("Before the air is read or set: power off, locked out and proven dead; tank drained"
               " and gauge at zero. Never above the marked working pressure. Local codes and the"
               " tank's own instructions come first."),
        )
    )  # fmt: skip
    return display.text(shift.recommended.precharge, PRESSURE), reason, "muted"


def facts(shift: Shift, display: Display) -> list[Row]:
    """Costs, the greatest drawdown, the membrane, starts, and what the seconds rest on."""
    below = tr("Each step below the recommended")
    parts: list[Row] = []
    if shift.below is not None:
        parts.append((below, cost_sentence(shift.below, display), "", "shift.below"))
    above = cost_sentence(shift.above, display)
    falters_too = tr("{cost}, and taps that falter", cost=above)
    parts.append((tr("Each step above cut-in"), falters_too, "", "shift.above"))
    greatest = tr(
        "{water} at {cut_in}, equal to cut-in: a switch or gauge that drifts a little then leaves"
        " the tank empty before the pump starts",
        water=water(shift.greatest.drawdown, display),
        cut_in=display.text(shift.greatest.precharge, PRESSURE),
    )
    parts.append((tr("Greatest drawdown"), greatest, "", "shift.greatest"))
    parts.append((tr("Membrane"), _membrane(shift, display), "", "shift.membrane"))
    known = shift.today.starts is not None
    key = "shift.starts_today" if known else ""
    parts.append((tr("Starts a day"), _starts(shift, display), "", key))
    basis = gap_basis(shift, display)
    told = basis or shift.no_gap
    parts.append((tr("Taps falter"), told, "", "shift.basis" if basis else ""))
    return parts


def _membrane(shift: Shift, display: Display) -> str:
    own, right = shift.today, shift.recommended
    told = tr(
        "at cut-out water fills {own} of the tank",
        own=display.text(own.reach, PERCENT),
    )
    if not shift.is_recommended:
        told = tr(
            "at cut-out water fills {own} of the tank, {right} as recommended",
            own=display.text(own.reach, PERCENT),
            right=display.text(right.reach, PERCENT),
        )
    if own.of_acceptance is None:
        return tr("{told}; its acceptance is not known", told=told)
    told = tr("{told}, which is {share} of its acceptance", told=told,
              share=display.text(own.of_acceptance, PERCENT))  # fmt: skip
    if shift.limited_below is None:
        return told
    return tr(
        "{told}. Below {limit} it is at its limit before cut-out",
        told=told,
        limit=display.text(shift.limited_below, PRESSURE),
    )


def _starts(shift: Shift, display: Display) -> str:
    if shift.daily is None:
        return tr("not known: the house's use is missing")
    use = display.text(shift.daily, DAILY)
    return tr(
        "{starts} at most, from a use of {use} as on the page “Day”; fewer where the pump feeds an"
        " open tap",
        starts=starts_text(shift.today.starts, display),
        use=use,
    )


def columns(display: Display) -> list[str]:
    """The heads of the table."""
    return [
        "",
        tr("Precharge,\n{unit}", unit=display.symbol(PRESSURE)),
        tr("Drawdown,\n{unit}", unit=display.symbol(VOLUME)),
        tr("Change"),
        tr("Left at\ncut-in, {unit}", unit=display.symbol(VOLUME)),
        tr("Starts\na day"),
        tr("Taps\nfalter"),
    ]


def table(shift: Shift, display: Display) -> list[list[Cell]]:
    """One row for each precharge, one's own heavier."""
    found = enumerate(rows(shift, display))
    return [_row(place, name, at, own, display) for place, (name, at, own) in found]


def _row(place: int, name: str, at: AtCharge, own: bool, display: Display) -> list[Cell]:
    texts = (
        name,
        display.number(at.precharge, PRESSURE),
        display.number(at.drawdown, VOLUME),
        change_text(at, display),
        display.number(at.left, VOLUME),
        starts_text(at.starts, display),
        gap_text(at.gap, display),
    )
    known = {"change": at.change, "starts": at.starts, "falter": at.gap}
    words = ("precharge", "drawdown", "change", "left", "starts", "falter")
    keys = ("" if known.get(word, at) is None else f"shift.{word}:{place}" for word in words)
    return [Cell(text, own=own, key=key) for text, key in zip(texts, ("", *keys), strict=True)]
