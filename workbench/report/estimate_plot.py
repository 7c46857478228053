"""The options in one picture: four small plots of bars, all beginning at zero.

Length alone says which is more, each bar carries its figure, and hatches tell the options apart in
a copy in grey.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from workbench.report.blocks import Picture
from workbench.report.svg import GRID, INK, QUIET, SERIES, Canvas, Scale, Stroke, round_steps
from workbench.study.estimate.offers import LETTERS, Offer
from workbench.units import PRESSURE, STARTS_PER_DAY, TIME, VOLUME, Display, Kind
from workbench.words import tr

_WIDTH = 500.0  # pt; both sheets have more between their margins
_PANEL, _BETWEEN = 240.0, 20.0
_LEFT, _RIGHT = 16.0, 52.0  # for the letter, and for the figure behind the longest bar
_BAR, _GAP, _HEAD, _AXIS = 12.0, 5.0, 16.0, 14.0
_TEXT = 8.0


@dataclass(frozen=True, slots=True)
class _Bar:
    """One option in one plot: from ``low`` to ``high`` in shown units, and its figure."""

    letter: str
    low: float
    high: float
    figure: str


@dataclass(frozen=True, slots=True)
class _Panel:
    """One plot; ``title`` has the unit."""

    title: str
    bars: tuple[_Bar, ...]


def options_picture(offers: Sequence[Offer], display: Display) -> Picture | None:
    """The picture; None where no option has figures."""
    panels = [panel for panel in _panels(offers, display) if panel.bars]
    if not panels:
        return None
    rows = -(-len(panels) // 2)
    tallest = _HEAD + len(offers) * (_BAR + _GAP) + _AXIS
    canvas = Canvas(_WIDTH, rows * tallest + (rows - 1) * _BETWEEN / 2)
    for place, panel in enumerate(panels):
        row, column = divmod(place, 2)
        corner = (column * (_PANEL + _BETWEEN), row * (tallest + _BETWEEN / 2))
        _draw(canvas, panel, corner, display.mark)
    return Picture(svg=canvas.svg(), told=_told(panels))


def _panels(offers: Sequence[Offer], display: Display) -> tuple[_Panel, ...]:
    return (
        _figures(tr("Water at each start, {unit}", unit=display.symbol(VOLUME)),
                 offers, "drawdown", VOLUME, display),
        _figures(tr("Run of the pump, {unit}", unit=display.symbol(TIME)),
                 offers, "run_time", TIME, display),
        _starts(offers, display),
        _pressures(offers, display),
    )  # fmt: skip


def _figures(
    title: str, offers: Sequence[Offer], name: str, kind: Kind, display: Display
) -> _Panel:
    bars = []
    for offer in offers:
        value = getattr(offer.one, name, 0.0)
        if value > 0.0:
            shown = display.number(value, kind)
            bars.append(_Bar(offer.letter, 0.0, float(display.value(value, kind)), shown))
    return _Panel(title, tuple(bars))


def _starts(offers: Sequence[Offer], display: Display) -> _Panel:
    bars = []
    for offer in offers:
        if offer.starts_per_day:
            shown = display.number(offer.starts_per_day, STARTS_PER_DAY, 0)
            value = float(display.value(offer.starts_per_day, STARTS_PER_DAY))
            bars.append(_Bar(offer.letter, 0.0, value, shown))
    return _Panel(tr("Starts a day, at most"), tuple(bars))


def _pressures(offers: Sequence[Offer], display: Display) -> _Panel:
    bars = []
    for offer in offers:
        setting = offer.results.setting
        if setting is not None and offer.one is not None:
            low, high = (display.value(p, PRESSURE) for p in (setting.cut_in, setting.cut_out))
            places = 0 if _is_whole(low) and _is_whole(high) else None
            figure = tr(
                "{low} to {high}",
                low=display.number(setting.cut_in, PRESSURE, places),
                high=display.number(setting.cut_out, PRESSURE, places),
            )
            bars.append(_Bar(offer.letter, float(low), float(high), figure))
    return _Panel(tr("Pressure held, {unit}", unit=display.symbol(PRESSURE)), tuple(bars))


def _is_whole(value: float) -> bool:
    return abs(value - round(value)) < 1e-6


def _draw(canvas: Canvas, panel: _Panel, corner: tuple[float, float], mark: str) -> None:
    x, y = corner
    canvas.text((x, y + _TEXT + 1.0), panel.title, size=_TEXT + 1.0, bold=True)
    ticks = round_steps(0.0, max(bar.high for bar in panel.bars), 5)
    scale = Scale(ticks[0], ticks[-1], x + _LEFT, x + _PANEL - _RIGHT)
    top, bottom = y + _HEAD, y + _HEAD + len(panel.bars) * (_BAR + _GAP)
    for tick in ticks:
        canvas.line((scale(tick), top), (scale(tick), bottom), Stroke(GRID, 0.6))
        number = f"{tick:g}".replace(".", mark)
        canvas.text((scale(tick), bottom + _TEXT + 2.0), number, size=_TEXT - 1.0,
                    anchor="middle", colour=QUIET)  # fmt: skip
    for place, bar in enumerate(panel.bars):
        series = SERIES[LETTERS.index(bar.letter)]
        upper = top + place * (_BAR + _GAP) + _GAP / 2
        base = upper + _BAR - 3.0
        left, right = scale(bar.low), scale(bar.high)
        canvas.rect((left, upper), right - left, _BAR, "white", series,
                    Stroke(series.colour, 1.2))  # fmt: skip
        canvas.text((x, base), bar.letter, size=_TEXT + 1.0, bold=True)
        canvas.text((right + 4.0, base), bar.figure, size=_TEXT)
    canvas.line((scale(0.0), top), (scale(0.0), bottom), Stroke(INK, 0.8))


def _told(panels: Sequence[_Panel]) -> str:
    parts = []
    for panel in panels:
        values = ", ".join(
            tr("{letter} {figure}", letter=bar.letter, figure=bar.figure) for bar in panel.bars
        )
        parts.append(tr("{title}: {values}.", title=panel.title, values=values))
    return tr("Bars of the options. {parts}", parts=" ".join(parts))
