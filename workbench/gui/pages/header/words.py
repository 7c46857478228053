"""What the page "Several tanks" says of the set: figures as texts, with their reasons."""

from __future__ import annotations

from workbench.gui.pages.facts import Row
from workbench.gui.pages.grid_table import Cell
from workbench.gui.pages.stops import mend_first
from workbench.gui.plots.header_plot import Place, WaterLine
from workbench.job.choices import precharge_rules, run_time_rules
from workbench.physics.forgiving import SAME
from workbench.study.evaluate import Results
from workbench.study.header.view import HeaderView, TankOnHeader, TankSet
from workbench.units import PERCENT, PRESSURE, TIME, VOLUME, Display, distinct
from workbench.words import tr

MOST_LINES = 6  # of single tanks in the picture; more could not be told apart

Shown = tuple[str, str, str]
"""A figure, its reason, and the role of the reason."""


def legend() -> str:
    """What stands above the plot."""
    return tr(
        "Water in all tanks together, in each (of up to {most} unlike ones), and in all charged by"
        " the rule. Point at the plot or use the arrow keys to read it.",
        most=MOST_LINES,
    )


def why_no_set(results: Results, view: HeaderView) -> Shown:
    """Why there is no answer about a set."""
    if results.job.header_set is None:
        return "", tr(
            "Enter the tanks, one to a line: total volume, then the precharge it really has, for"
            " example “44 gal 28 psi”."
        ), "muted"  # fmt: skip
    return "", mend_first((*view.findings, *results.findings)), "problem"


def drawdown_answer(results: Results, tanks: TankSet, display: Display) -> Shown:
    """What the set gives, against matched precharges."""
    if tanks.drawdown == 0.0:
        return display.text(0.0, VOLUME), tr("None of them takes water."), "problem"
    share = tanks.of_matched
    if share is None:
        figure = display.text(tanks.drawdown, VOLUME)
        return figure, tr("Charged by the rule they would give none."), "caution"
    figure, matched = distinct(tanks.drawdown, tanks.matched, VOLUME, display)
    reason = tr(
        "{percent} of the {water} that they give all charged to {charge} ({rule}).",
        percent=display.text(share, PERCENT),
        water=matched,
        charge=display.text(tanks.setting.precharge, PRESSURE),
        rule=precharge_rules()[results.job.precharge_rule].label,
    )
    return figure, reason, "muted"


def run_answer(results: Results, tanks: TankSet, display: Display) -> Shown:
    """The run at no demand against the required one."""
    if tanks.run is None:
        if tanks.drawdown == 0.0:
            return "", tr("No tank takes water, so the pump starts and stops at once."), "problem"
        return "", mend_first(results.findings), "problem"
    if tanks.required_run is None:
        return display.text(tanks.run, TIME), mend_first(results.findings), "caution"
    run, required = distinct(tanks.run, tanks.required_run, TIME, display)
    rule = run_time_rules()[results.job.run_time_rule].label
    if tanks.run < tanks.required_run * (1.0 - SAME):
        return run, tr("Less than the {required} required ({rule}).", required=required,
                       rule=rule), "caution"  # fmt: skip
    return run, tr("At least the {required} required ({rule}).", required=required,
                   rule=rule), "good"  # fmt: skip


def table(tanks: TankSet, display: Display) -> tuple[list[str], list[list[Cell]]]:
    """The columns, and a row for each tank."""
    volume, pressure = display.symbol(VOLUME), display.symbol(PRESSURE)
    columns = [
        tr("Tank"),
        tr("Empty at,\n{unit}", unit=pressure),
        tr("Drawdown,\n{unit}", unit=volume),
        tr("Share"),
        tr("Water at\ncut-in"),
        tr("Water at\ncut-out"),
        tr("Lost"),
        tr("Lost a\n{unit} off", unit=pressure),
    ]
    return columns, [_row(row, one, display) for row, one in enumerate(tanks.tanks)]


def _row(row: int, one: TankOnHeader, display: Display) -> list[Cell]:
    name = tr("{number}: {volume}", number=one.number, volume=display.text(one.volume, VOLUME))
    empty = display.number(one.precharge, PRESSURE)
    state = ""
    if not one.takes_water:
        empty, state = tr("no water: {pressure}", pressure=empty), "problem"
    elif one.empties_early:
        empty, state = tr("early: {pressure}", pressure=empty), "caution"
    cells = [
        (name, "", "volume"),
        (empty, state, "empty"),
        (display.number(one.drawdown, VOLUME), "", "own"),
        (display.text(one.share, PERCENT), "", "share"),
        (display.number(one.at_cut_in, VOLUME), "", "at_cut_in"),
        (display.number(one.at_cut_out, VOLUME), "", "at_cut_out"),
        (display.number(one.lost, VOLUME).replace("-", "−"), "", "lost"),
        ("—" if one.cost is None else per_step(one.cost, display), "", "cost"),
    ]
    return [Cell(text, role, key=f"header.{word}:{row}") for text, role, word in cells]


def table_remark(tanks: TankSet, display: Display) -> str:
    """What the columns mean, and what is left out."""
    unit = display.symbol(VOLUME)
    text = tr(
        "Water in {unit}. A tank is empty at its own precharge; early is above cut-in. Lost:"
        " against the rule's precharge; with a minus it gives more. Acceptance is not asked: where"
        " a membrane limits its tank, it gives less.",
        unit=unit,
    )
    if tanks.first_to_empty is None:
        return text
    return tr("Tank {number} empties first.", number=tanks.first_to_empty) + " " + text


def per_step(cost: float, display: Display) -> str:
    """A volume for each shown unit of pressure (m³/Pa)."""
    number = display.number(cost * display.unit(PRESSURE).factor, VOLUME, 2)
    return number.replace("-", "−")


def facts(tanks: TankSet, display: Display) -> list[Row]:
    """What each step of missing air costs, the gap without water, how a header is made."""
    rows: list[Row] = []
    if tanks.cost is not None:
        text = tr(
            "Each {unit} of missing air costs the set {water} {volume}.",
            unit=display.symbol(PRESSURE),
            water=per_step(tanks.cost, display),
            volume=display.symbol(VOLUME),
        )
        rows.append((tr("Air too low"), text, "", "header.missing_air"))
    if tanks.gap > 0.0:
        gap = display.text(tanks.gap, PRESSURE)
        text = tr("{gap} between the last tank's emptying and the pump's start.", gap=gap)
        rows.append((tr("No-water gap"), text, "caution", "header.gap"))
    rows.append((tr("On one header"), tr(
        "Equal precharges and tanks of like height; header no smaller than the supply pipe;"
        " switch and gauge at the common header; each tank labelled with its precharge and date"
        " (common practice, no source)."
    ), ""))  # fmt: skip
    return rows


def lines(tanks: TankSet, display: Display) -> tuple[WaterLine, ...]:
    """The picture's lines: all together, matched, and each tank; equal tanks share one."""
    picture = tanks.picture
    charge = display.text(tanks.setting.precharge, PRESSURE)
    shown = [
        WaterLine(tr("all tanks"), picture.total, own=True),
        WaterLine(tr("all at {charge}", charge=charge), picture.matched),
    ]
    groups = _alike(tanks)
    if len(tanks.tanks) > 1 and len(groups) <= MOST_LINES:
        for numbers, place in groups:
            volume = display.text(tanks.tanks[place].volume, VOLUME)
            name = tr("{numbers}: {volume}", numbers=numbers, volume=volume)
            shown.append(WaterLine(name, picture.each[:, place]))
    return tuple(shown)


def places(tanks: TankSet) -> tuple[Place, ...]:
    """The band."""
    return (
        Place(tr("cut-in"), tanks.setting.cut_in),
        Place(tr("cut-out"), tanks.setting.cut_out),
    )


def _alike(tanks: TankSet) -> list[tuple[str, int]]:
    """Equal tanks together: their numbers, and the index of the first of them."""
    groups: dict[tuple[float, float], list[int]] = {}
    for one in tanks.tanks:
        groups.setdefault((one.volume, one.precharge), []).append(one.number)
    return [(", ".join(map(str, numbers)), numbers[0] - 1) for numbers in groups.values()]
