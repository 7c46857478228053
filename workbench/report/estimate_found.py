"""What was found on site, and what it says."""

from __future__ import annotations

from collections.abc import Iterator

from workbench.report.blocks import Block, Facts, Section, Words
from workbench.report.estimate_words import printable
from workbench.study.estimate.found import Found
from workbench.study.evaluate import Results
from workbench.units import FLOW, PERCENT, PRESSURE, SHORT_TIME, VOLUME, Display
from workbench.words import tr


def found_section(results: Results, display: Display) -> Section | None:
    """The readings of the visit; None where none was taken and nothing noted."""
    found, note = results.estimate.found, results.job.found_note.strip()
    if found.is_empty and not note:
        return None
    blocks: list[Block] = []
    if rows := tuple(_rows(found, display)):
        blocks.append(Facts(rows=rows))
    if note:
        blocks.append(Words(text=note))
    if says := "\n".join(_says(found, display)):
        blocks.append(Words(text=printable(says)))
    return Section(key="readings", heading=tr("Readings found"), blocks=tuple(blocks))


def _rows(found: Found, display: Display) -> Iterator[tuple[str, str]]:
    readings = (
        (tr("Cut-in, read on the gauge"), found.cut_in, PRESSURE),
        (tr("Cut-out, read on the gauge"), found.cut_out, PRESSURE),
        (tr("Precharge, tank drained"), found.precharge, PRESSURE),
        (tr("Drained from stop to start"), found.drained, VOLUME),
        (tr("Time to refill, taps closed"), found.refill, SHORT_TIME),
        (tr("So the pump gives"), found.flow, FLOW),
    )
    for label, value, kind in readings:
        if value is not None:
            yield label, display.text(value, kind)


def _says(found: Found, display: Display) -> Iterator[str]:
    yield from _of_flow(found, display)
    yield from _of_run(found, display)
    yield from _of_charge(found, display)


def _of_flow(found: Found, display: Display) -> Iterator[str]:
    flow, entered = found.flow, found.entered_flow
    if flow is None or found.drained is None or found.refill is None:
        return
    text = tr("{water} in {time} is {flow}.",
              water=display.text(found.drained, VOLUME),
              time=display.text(found.refill, SHORT_TIME),
              flow=display.text(flow, FLOW))  # fmt: skip
    if entered is not None:
        shown, share = display.text(entered, FLOW), display.text(found.flow_tolerance, PERCENT)
        if abs(flow - entered) <= found.flow_tolerance * entered * (1.0 + 1e-9):
            text += " " + tr("It agrees with the {flow} that the options rest on, within {share}.",
                             flow=shown, share=share)  # fmt: skip
        else:
            text += " " + tr("The options rest on {flow}; the two do not agree within {share}.",
                             flow=shown, share=share)  # fmt: skip
    yield text


def _of_run(found: Found, display: Display) -> Iterator[str]:
    if found.refill is None or found.required_run is None:
        return
    run, needed = (display.text(s, SHORT_TIME) for s in (found.refill, found.required_run))
    if found.refill < found.required_run * (1.0 - 1e-9):
        yield tr("The pump runs {run} at each start; {needed} are required here.", run=run,
                 needed=needed)  # fmt: skip
    else:
        yield tr("The pump runs {run} at each start, as long as the {needed} required.", run=run,
                 needed=needed)  # fmt: skip


def _of_charge(found: Found, display: Display) -> Iterator[str]:
    missing = found.charge_missing
    if missing is None or found.precharge is None or found.cut_in is None:
        return
    amount = display.text(abs(missing), PRESSURE)
    if found.precharge > found.cut_in + found.gauge_tolerance:
        over = display.text(found.precharge - found.cut_in, PRESSURE)
        yield tr("The precharge lies {over} above cut-in: the tank is empty before the pump"
                 " starts.", over=over)  # fmt: skip
    elif missing > found.gauge_tolerance:
        yield tr("The tank lacks {amount} of air: more water stays in it at cut-in, and it gives"
                 " less at each start.", amount=amount)  # fmt: skip
    else:
        yield tr("The precharge is as it should be at this cut-in, as near as a gauge tells.")
