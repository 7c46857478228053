"""The setting card: one page in large print, to hang at the tank.

A stop withholds all of it: a setting that is wrong must not read as an instruction. The order of
the steps is binding, as nothing may be read or set before the power is locked and the water gone.
"""

from __future__ import annotations

from collections.abc import Iterator

from workbench.job.job import Job
from workbench.report.blocks import (
    Block,
    Facts,
    Large,
    PaperContent,
    Section,
    Sign,
    Ticks,
    Warn,
    Words,
)
from workbench.report.estimate_words import level_word
from workbench.report.fingerprint import fingerprint
from workbench.report.letterhead import sheet_of
from workbench.report.paper_display import paper_display
from workbench.report.sheet import LANGUAGE, NO_BREAK, foot_line, small_head, withheld
from workbench.study.card import CardView, Spread, card_view
from workbench.study.evaluate import Results
from workbench.study.findings import Level
from workbench.study.pricing.money import date_text
from workbench.study.ranking import Judged
from workbench.study.setting import Setting
from workbench.units import (
    ALTITUDE,
    MASS,
    PRESSURE,
    SHORT_TIME,
    TEMPERATURE,
    VOLUME,
    Display,
    Quantity,
    System,
)
from workbench.words import tr


def card_content(results: Results, display: Display) -> PaperContent | str:
    """The card of a job, or in words what must be mended before a setting is printed."""
    job = results.job
    display = paper_display(job, display)
    view = card_view(results)
    stops = (*results.of_level(Level.STOP), *view.stops)
    setting, tank, spread = view.setting, view.tank, view.spread
    if stops or setting is None or tank is None or spread is None:
        return withheld(stops, display, tr("No setting is printed."))
    return PaperContent(
        kind="card",
        title=tr("Setting card"),
        language=LANGUAGE,
        sheet=sheet_of(job),
        date=view.date.isoformat() if view.date else "",
        head=small_head(job),
        facts=tuple(_facts(job, view, tank, display)),
        sections=(
            _setting(results, view, setting, spread, display),
            _steps(view, setting, spread, display),
            _check(job, view, tank, display),
        ),
        foot=foot_line(fingerprint(results)),
    )


def _facts(job: Job, view: CardView, tank: Judged, display: Display) -> Iterator[tuple[str, str]]:
    """Beside the title; what is empty is left for the pen at the end of the card."""
    assert view.full_water is not None  # noqa: S101 - it goes with the tank
    yield (
        tr("Tank"),
        tr(
            "{name}; {volume} in all, full of water {weight} heavier",
            name=tank.name,
            volume=display.text(tank.total_volume, VOLUME),
            weight=display.text(view.full_water, MASS, 0),
        ),
    )
    if view.date is not None:
        yield tr("Set on"), date_text(view.date, job)
    if job.set_by.strip():
        yield tr("Set by"), " ".join(job.set_by.split())


# --- what is set ---


def _setting(
    results: Results, view: CardView, setting: Setting, spread: Spread, display: Display
) -> Section:
    job = results.job
    band = tr(
        "start {low}, stop {high}\n{other}",
        low=_range(setting.cut_in, spread.cut_in, display),
        high=_range(setting.cut_out, spread.cut_out, display),
        other=_others((setting.cut_in, setting.cut_out), display),
    )
    charge = tr(
        "{range} · {other}",
        range=_range(setting.precharge, spread.precharge, display),
        other=_others((setting.precharge,), display),
    )
    if view.where_set is not None:
        charge += "\n" + _where_set(results, view, display)
    cautions = [_never(view, display), *(one.told(display) for one in view.cautions)]
    blocks: tuple[Block, ...] = (
        Large(
            name=tr("Switch: pump starts / stops"), value=_band(job, setting, display), remark=band
        ),
        Large(
            name=tr("Precharge, tank drained"),
            value=display.text(setting.precharge, PRESSURE),
            remark=charge,
        ),
        Warn(word=level_word(Level.CAUTION), text="\n".join(cautions)),
    )
    return Section(key="setting", heading="", blocks=blocks)


def _band(job: Job, setting: Setting, display: Display) -> str:
    """As typed where both pressures were typed in the unit that is shown."""
    low, high, unit = job.cut_in, job.cut_out, display.symbol(PRESSURE)
    if isinstance(low, Quantity) and isinstance(high, Quantity) and low.unit == high.unit == unit:
        return f"{low.digits}/{high.digits} {unit}".replace(".", display.mark)
    numbers = (display.number(value, PRESSURE) for value in (setting.cut_in, setting.cut_out))
    return f"{'/'.join(numbers)} {unit}"


def _range(value: float, spread: float, display: Display) -> str:
    return tr(
        "{low} to {high}",
        low=display.number(value - spread, PRESSURE),
        high=_pressure(value + spread, display),
    )


def _pressure(value: float, display: Display) -> str:
    """A pressure in a sentence: whatever the template, no line ends between number and unit."""
    return display.text(value, PRESSURE).replace(" ", NO_BREAK)


def _others(values: tuple[float, ...], display: Display) -> str:
    """The same in the other units that a gauge in the basement may have."""
    names = ("kPa",) if display.system is System.US else ("bar", "psi")
    told = []
    for unit in (PRESSURE.units[name] for name in names):
        numbers = "/".join(f"{value / unit.factor:.{unit.decimals}f}" for value in values)
        told.append(f"{numbers.replace('.', display.mark)} {unit.symbol}")
    return " · ".join(told)


def _where_set(results: Results, view: CardView, display: Display) -> str:
    reading, job = results.inputs.reading, results.job
    assert view.where_set is not None  # noqa: S101 - asked only then
    assert reading is not None  # noqa: S101 - else there is no such figure
    places = [display.text(reading.temperature, TEMPERATURE)]
    if isinstance(job.reading_altitude, Quantity):
        height = display.typed(job.reading_altitude, ALTITUDE)
        places.append(tr("{height} above the sea", height=height))
    return tr(
        "Set elsewhere, at {place}: {pressure} on the gauge there.",
        place=tr(" and ").join(places),
        pressure=_pressure(view.where_set, display),
    )


def _never(view: CardView, display: Display) -> str:
    assert view.marked is not None  # noqa: S101 - there is a tank
    text = tr(
        "Never above {marked}, the working pressure marked on the tank.",
        marked=_pressure(view.marked, display),
    )
    if view.highest is None:
        return tr("{text} Its highest precharge is not stated here: see its label.", text=text)
    return tr(
        "{text} Never more than {highest} of precharge.",
        text=text,
        highest=_pressure(view.highest, display),
    )


# --- the order of work ---


def _steps(view: CardView, setting: Setting, spread: Spread, display: Display) -> Section:
    low = _range(setting.cut_in, spread.cut_in, display)
    high = _range(setting.cut_out, spread.cut_out, display)
    steps = (
        tr("Tell the customer: no water for a while, no laundry, no water heater firing."),
        tr("Switch off the pump's breaker, lock and tag it. Prove the switch dead with a meter that"
           " is proven before and after."),
        tr("Drain until the gauge is at zero; open a tap and see that nothing comes."),
        tr("Only now, with the tank empty of water, read the air at its valve."),
        tr("Set the precharge to {precharge}: regulated supply, clip-on chuck, stand clear of the"
           " dome.", precharge=_pressure(setting.precharge, display)),
        _relief_step(view, display),
        tr("Close drain and taps. Restore power as your lock-out procedure has it; let the tank"
           " fill."),
        tr("Watch one whole cycle on the gauge: start at {low}, stop at {high}. Before the switch"
           " is adjusted: power off, locked, proven dead.", low=low, high=high),
        tr("Soap the air valve: no bubbles. Put its cap on."),
        tr("Record the readings, take lock and tag away, tell the customer."),
    )  # fmt: skip
    legal = tr("Local codes, the equipment's own instructions and licensed practice go first.")
    return Section(
        key="steps",
        heading=tr("In this order"),
        blocks=(Ticks(steps=steps), Words(text=legal, tone="muted")),
    )


def _relief_step(view: CardView, display: Display) -> str:
    assert view.marked is not None  # noqa: S101 - there is a tank
    opens = (
        tr("set no higher than {marked}", marked=_pressure(view.marked, display))
        if view.relief is None
        else tr("opening at {relief}", relief=_pressure(view.relief, display))
    )
    return tr(
        "See the relief valve: {opens}, piped to a safe place, nothing to close between it and the"
        " tank.",
        opens=opens,
    )


# --- afterwards ---


def _check(job: Job, view: CardView, tank: Judged, display: Display) -> Section:
    rows = (
        (tr("Water between stop and start"), tr("about {water}",
            water=display.text(tank.drawdown, VOLUME))),
        (tr("From start to stop, taps closed"), tr("about {run}",
            run=display.text(tank.run_time, SHORT_TIME))),
        (tr("At later checks, tank drained"), _later(view, display)),
    )  # fmt: skip
    note = job.card_note.strip()
    return Section(
        key="check",
        heading=tr("Check and record"),
        blocks=(
            Facts(rows=rows),
            *((Words(text=note, tone="strong"),) if note else ()),
            _to_fill_in(job, view),
        ),
    )


def _later(view: CardView, display: Display) -> str:
    assert view.alarm_high is not None  # noqa: S101 - it goes with the setting
    above = _pressure(view.alarm_high, display)
    if view.alarm_low is None:
        return tr("let air out above {above}", above=above)
    return tr(
        "add air below {below}, let it out above {above}",
        below=_pressure(view.alarm_low, display),
        above=above,
    )


def _to_fill_in(job: Job, view: CardView) -> Sign:
    lines = [] if view.date is not None else [tr("Set on")]
    if not job.set_by.strip():
        lines.append(tr("Set by"))
    lines += [tr("Read after setting: cut-in, cut-out, precharge"), tr("Next check on")]
    return Sign(lines=tuple(lines))
