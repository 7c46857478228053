"""How the figures of the counter chart come about, by the decimal mark of the firm's papers.

The place of a cell is its tank's row and its band's column; of a pick its table, the flow's row
and the band's column.
"""

from __future__ import annotations

from workbench.physics.tank import drawdown_factor
from workbench.study.chart.view import ChartBand, Pick
from workbench.study.explain import pictures
from workbench.study.explain.explanation import Asked, Explain, Working
from workbench.study.explain.on_paper import on_paper
from workbench.study.explain.steps import ending
from workbench.study.job_working import precharge_steps
from workbench.study.setting import Setting, pressures
from workbench.study.working import Step, drawdown_steps
from workbench.units import FLOW, TIME, VOLUME, Display
from workbench.words import tr


def _band(asked: Asked, column: int) -> tuple[ChartBand, Setting] | None:
    bands = asked.results.chart.bands
    setting = bands[column].setting if column < len(bands) else None
    return None if setting is None else (bands[column], setting)


def _precharge(asked: Asked) -> Working | None:
    found = _band(asked, asked.first)
    if found is None:
        return None
    display = on_paper(asked.results.job, asked.display)
    return Working((next(iter(precharge_steps(asked.results, found[1], display))),))


def _water_steps(
    setting: Setting, volume: float, water: float, display: Display
) -> tuple[Step, ...]:
    factor = float(drawdown_factor(*pressures(setting), setting.exponent))
    return drawdown_steps(setting, volume, water, factor, display)


def _drawdown(asked: Asked) -> Working | None:
    view, display = asked.results.chart, on_paper(asked.results.job, asked.display)
    if len(asked.place) < 2 or asked.first >= len(view.rows):
        return None
    row, found = view.rows[asked.first], _band(asked, asked.place[1])
    cell = row.cells[asked.place[1]] if found is not None else None
    if cell is None or found is None:
        return None
    setting = found[1]
    *first, last = _water_steps(setting, row.tank.total_volume, cell.drawdown, display)
    last = ending(last, cell.drawdown, VOLUME, display)
    return Working((*first, last), picture=pictures.air(setting, display))


def _pick(asked: Asked) -> Working | None:
    """The tank that a flow asks for at a band and a run."""
    view, display = asked.results.chart, on_paper(asked.results.job, asked.display)
    tables = view.runs.get(asked.display.system, ())
    if len(asked.place) < 3 or asked.first >= len(tables):
        return None
    table, (line, column) = tables[asked.first], asked.place[1:]
    found = _band(asked, column)
    pick = table.picks[line][column] if line < len(table.picks) and found is not None else None
    if pick is None or found is None:
        return None
    flow = table.flows[line]
    needed, given = (display.text(v, VOLUME, 2) for v in (flow * table.run, pick.drawdown))
    required = Step(
        tr("Required drawdown"),
        tr("Vd = Q × t"),
        f"{display.text(flow, FLOW)} × {display.text(table.run, TIME)} = {needed}",
        tr("non-profit well council information sheet “Pressure Tanks”, January 2007, p. 2"),
    )
    each = _water_steps(found[1], pick.tank.total_volume, pick.drawdown / pick.count, display)
    both = () if pick.count == 1 else (
        Step(
            tr("Of both on one header"),
            tr("Vd = count × Vd of one"),
            f"{pick.count} × {display.text(pick.drawdown / pick.count, VOLUME, 2)} = {given}",
            tr("all have the same precharge, so their waters add up"),
        ),
    )  # fmt: skip
    last = Step(
        tr("Smallest of the stock"),
        tr("the smallest tank, else two equal ones, that give it"),
        f"{given} ≥ {needed}: {pick_text(pick, display)}",
        tr("the firm's catalogue; tanks to be buried are not chosen"),
    )
    return Working((required, *each, *both, last))


def pick_text(pick: Pick, display: Display) -> str:
    """A pick as the chart has it."""
    volume = display.text(pick.tank.total_volume, VOLUME)
    if pick.count == 1:
        return f"{pick.tank.name}, {volume}"
    return tr("two of {tank}, {volume}", tank=pick.tank.name, volume=volume)


FIGURES: dict[str, Explain] = {"precharge": _precharge, "drawdown": _drawdown, "pick": _pick}
"""The explaining function of each figure of the paper."""
