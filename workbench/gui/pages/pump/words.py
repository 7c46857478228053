"""What the page "Pump and well" says: figures as texts, with their reasons."""

from __future__ import annotations

from collections.abc import Iterable

from workbench.gui.pages.facts import Row
from workbench.gui.pages.grid_table import Cell
from workbench.physics.forgiving import SAME
from workbench.study.evaluate import Results
from workbench.study.findings import Finding, Level
from workbench.study.pump.pipes import FrictionTable
from workbench.study.pump.reading import SMALL_MARGIN
from workbench.study.pump.view import PumpView, WorkingPoint
from workbench.study.pump.working import energy_text, power_text
from workbench.units import FLOW, HEAD, LENGTH, PERCENT, PRESSURE, VELOCITY, Display
from workbench.words import tr

_LIMIT = 5 * 0.3048  # m/s, only as a text

Shown = tuple[str, str, str]
"""A figure, its reason, and the role of the reason."""


def legend() -> str:
    """What stands above the plot."""
    return tr(
        "Open squares are the points that were entered, discs are where the pump works. The system"
        " is well, pipe and tank. Point at the plot or use the arrow keys to read it."
    )


def no_picture() -> str:
    """Why there is no plot of a constant flow."""
    return tr(
        "One flow gives no curve to draw. Enter the flows at cut-in and at cut-out, or the pump's"
        " curve, to see where the pump works."
    )


def own_of(results: Results) -> Iterable[Finding]:
    """The findings that this page must tell, wherever their field stands."""
    return results.pump.findings if results.pump else results.of_level(Level.STOP)


def flow_answer(view: PumpView, display: Display) -> Shown:
    """The flow at cut-out, with that at cut-in and the mean."""
    point = view.at_cut_out
    if point is None:
        if view.reaches is False:
            return "", tr("The pump does not come to cut-out."), "problem"
        return "", tr("The curve's points do not reach so far."), "problem"
    figure = display.text(point.flow, FLOW)
    if view.delivery.is_constant:
        return figure, tr("Taken as the same at every pressure of the band."), "muted"
    parts = []
    if view.at_cut_in is not None:
        flow = display.text(view.at_cut_in.flow, FLOW)
        parts.append(tr("{flow} at cut-in.", flow=flow))
    if view.mean_flow is not None:
        flow = display.text(view.mean_flow, FLOW)
        parts.append(tr("Mean over the band, no tap open: {flow}.", flow=flow))
    return figure, " ".join(parts), "muted"


def reach_answer(view: PumpView, display: Display) -> Shown:
    """How far the pump passes cut-out with every tap closed."""
    if view.delivery.is_constant:
        return "", tr(
            "Not known: one flow tells nothing of reach. Enter two flows or the pump's curve."
        ), "caution"  # fmt: skip
    if view.shut_off is None or view.margin is None:
        role = "caution" if view.reaches else "problem"
        return "", tr(
            "Not known: the curve begins at some flow. Add its head at no flow (shut-off)."
        ), role  # fmt: skip
    most = display.text(view.shut_off, PRESSURE)
    reason = tr("With every tap closed it reaches {most} at the tank.", most=most)
    figure = display.text(view.margin, PRESSURE)
    if not view.reaches:
        return figure, reason + " " + tr("It never stops at this cut-out."), "problem"
    if view.curve is None:
        reason += " " + tr("This goes beyond what was measured: p = p0 − k·Q² is assumed.")
    if view.small_margin:
        least = display.text(SMALL_MARGIN, PRESSURE)
        reason += " " + tr("Less than {least} is little (trade judgement).", least=least)
        return figure, reason, "caution"
    return figure, reason, "muted"


def facts(view: PumpView, display: Display) -> list[Row]:
    """Heads, velocity, power, and what bounds the pump."""
    rows: list[Row] = []
    points = ((tr("At cut-in"), view.at_cut_in), (tr("At cut-out"), view.at_cut_out))
    for place, (name, point) in enumerate(points):
        if point is not None:
            rows.append((name, _head_text(point, display), "", f"pump.point:{place}"))
    speed = max((p.velocity for _, p in points if p is not None and p.velocity), default=None)
    if speed is not None:
        fast = speed > _LIMIT * (1.0 + SAME)
        text = tr(
            "{speed} at most, {word} {limit}",
            speed=display.text(speed, VELOCITY),
            word=tr("above") if fast else tr("within"),
            limit=display.text(_LIMIT, VELOCITY),
        )
        rows.append((tr("Velocity in the pipe"), text, "caution" if fast else "", "pump.speed"))
    rows.append((tr("Power"), _power_text(view, display), "", "pump.power"))
    rows += _bounds(view, display)
    return rows


def _head_text(point: WorkingPoint, display: Display) -> str:
    head, flow = point.head, display.text(point.flow, FLOW)
    if head is None:
        return tr("{flow}; the head needs the pumping level.", flow=flow)
    shown = {
        "flow": flow,
        "total": display.text(head.total, HEAD),
        "lift": display.text(head.lift, HEAD),
        "pressure": display.text(head.pressure, HEAD),
    }
    if head.friction is None:
        return tr(
            "{flow} against {total}: lift {lift} + pressure {pressure}, friction left out", **shown
        )
    return tr(
        "{flow} against {total}: lift {lift} + pressure {pressure} + friction {friction}",
        **shown,
        friction=display.text(head.friction, HEAD),
    )


def _power_text(view: PumpView, display: Display) -> str:
    point = view.at_cut_out or view.at_cut_in
    if point is None or point.power is None or point.energy is None:
        return tr("Needs pumping level and efficiency.")
    return tr(
        "{power} electric at {pressure}; {energy}",
        power=power_text(point.power, display),
        pressure=display.text(point.pressure, PRESSURE),
        energy=energy_text(point.energy, display),
    )


def _bounds(view: PumpView, display: Display) -> list[Row]:
    """What tank and well set against the pump."""
    rows: list[Row] = []
    name = tr("Tank's marking")
    if view.tank is None or view.marked is None:
        rows.append((name, tr("Not checked, as no tank is ranked now."), ""))
    else:
        marked = display.text(view.marked, PRESSURE)
        over = view.shut_off is not None and view.shut_off > view.marked
        if view.shut_off is None:
            told = tr("{marked}; what the pump can reach is not known", marked=marked)
        elif over:
            most = display.text(view.shut_off, PRESSURE)
            told = tr("{marked}; the pump can reach {most}", marked=marked, most=most)
        else:
            told = tr("{marked}; the pump cannot pass that", marked=marked)
        rows.append((name, told, "caution" if over else "", "pump.marked"))
    if view.well.yield_flow is not None:
        given = display.text(view.well.yield_flow, FLOW)
        point = view.at_cut_in or view.at_cut_out
        over = point is not None and point.flow > view.well.yield_flow * (1.0 + SAME)
        less, enough = tr("{x}, less than the pump takes", x=given), tr("{x}, enough", x=given)
        told, role = (less, "caution") if over else (enough, "")
        rows.append((tr("Well yield"), told, role, "pump.yield"))
    return rows


def pipe_table(table: FrictionTable, display: Display) -> tuple[list[str], list[list[Cell]]]:
    """Columns and rows of lost head in a hundred of length."""
    columns = [tr("Size"), *(display.text(float(flow), FLOW, 0) for flow in table.flows)]
    rows = []
    for row, size in enumerate(table.sizes):
        own = row == table.chosen
        bore = display.text(
            float(table.bores[row]), LENGTH, 2 if display.system.value == "us" else 0
        )
        cells = [Cell(tr("{size} in", size=size) if size else bore, own=own)]
        for place, loss in enumerate(table.loss[row]):
            fast = bool(table.fast[row, place])
            text = display.number(float(loss), PERCENT, 2 if loss < 0.1 else 0)
            told, role = (tr("{loss} fast", loss=text), "caution") if fast else (text, "")
            cells.append(Cell(told, role, own, f"pump.friction:{row}:{place}"))
        rows.append(cells)
    return columns, rows


def pipe_remark(table: FrictionTable, display: Display) -> str:
    """What the figures of the table are."""
    unit = display.symbol(HEAD)
    return tr(
        "{unit} lost in 100 {unit} of plain pipe, C {c} (Hazen and Williams). Fast: above"
        " {limit}. Your own size is bold.",
        unit=unit,
        c=f"{table.roughness:g}",
        limit=display.text(_LIMIT, VELOCITY),
    )
