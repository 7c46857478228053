"""A person at the live tank: makes it, plays it by its own time, and reads it back from pixels."""

from __future__ import annotations

import math
import random
from typing import Any

import numpy as np
import pytest
from numpy.typing import NDArray
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtGui import QColor, QPolygonF
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from tests.whole_window.at_page import page_alone, shown_alone
from tests.whole_window.checks.parts import pixels, settle
from tests.whole_window.user import own_catalog
from workbench.gui import theme
from workbench.gui.live.panel import LivePanel
from workbench.gui.live.places import SHAPE, Places
from workbench.gui.live.scene import Scene
from workbench.gui.live.tall import TallPlaces
from workbench.gui.pages.live.page import LivePage
from workbench.job.job import Job
from workbench.study.live.recording import Recording
from workbench.units import Display

ARRANGED = pytest.mark.parametrize("tall", [False, True], ids=["wide", "tall"])
"""Both arrangements of the picture."""
LEFT = Qt.MouseButton.LeftButton
STEEPEST = 12
"""Pixels of the membrane's line in a column, where it is not drawn along the wall."""


def build(display: Display = Display(), *, catalog: bool = True, **entries: Any) -> LivePage:  # noqa: B008 - frozen
    """The page alone, evaluated."""
    chosen = {"live_volume": "40 gal"} | entries
    job = Job().changed(**chosen)
    return page_alone(LivePage, job, display, own_catalog() if catalog else None)


def shown(
    qtbot: QtBot,
    display: Display = Display(),  # noqa: B008 - frozen
    *,
    tall: bool = False,
    **entries: Any,
) -> LivePage:
    """The same on the screen; ``tall``: in a window that is too narrow for the wide picture."""
    page = build(display, catalog=False, **entries)

    def keep(_widget: QWidget, page: LivePage = page) -> None:
        """Hold the page until it closes, for a test may only ask for its panel."""

    qtbot.addWidget(page, before_close_func=keep)
    shown_alone(qtbot, page)
    if tall:
        page.resize(700, 900)
        settle()
    assert isinstance(page.panel.tank.places(), TallPlaces) is tall
    return page


def recording_of(panel: LivePanel) -> Recording:
    assert panel.player.recording is not None
    return panel.player.recording


def scene_of(panel: LivePanel) -> Scene:
    assert panel.tank.scene is not None
    return panel.tank.scene


def any_rig(chance: random.Random) -> dict[str, Any]:
    """Entries of some system, in its right setting or beside it."""
    cut_in = chance.randrange(20, 61, 5)
    cut_out = cut_in + chance.randrange(10, 31, 5)
    return {
        "live_volume": f"{chance.randrange(4, 320)} gal",
        "cut_in": f"{cut_in} psi",
        "cut_out": f"{cut_out} psi",
        "precharge_rule": "typed",
        "precharge": f"{chance.randrange(5, cut_out + 15)} psi",
        "steady_draw": f"{chance.choice([0, 1, 4, 7, 9, 14])} gpm",
        "altitude": f"{chance.randrange(0, 9000, 500)} ft",
        "pump_entry": "two_flows",
        "flow_at_cut_in": "12 gpm",
        "flow_at_cut_out": "8 gpm",
    }


# --- the hand ---


def drag(view: QWidget, start: QPointF, *by: QPointF) -> None:
    """Take hold at a point, move by so much each time, let go."""
    at = start.toPoint()
    QTest.mousePress(view, LEFT, pos=at)
    for step in by:
        at = at + step.toPoint()
        QTest.mouseMove(view, at)
    QTest.mouseRelease(view, LEFT, pos=at)


def grip(panel: LivePanel, entry: str) -> QPointF:
    """Where a handle is to be taken hold of."""
    handle = scene_of(panel).handle(entry)
    places = panel.tank.places()
    return places.place_of(entry, handle.value, handle.low, handle.high)


# --- the eye ---


def picture(widget: QWidget) -> NDArray[np.uint8]:
    """Its pixels, shape (height, width, 3)."""
    return pixels(widget)


def share_of_revolution(area: QPolygonF, places: Places, volume: float) -> float:
    """Share of a tank's volume that an area sweeps round the axis, from its right half."""
    points = [
        (area.at(n).x() - places.axis, places.bottom - area.at(n).y()) for n in range(area.size())
    ]
    half = [(max(x, 0.0), z) for x, z in points if x >= -1e-9]
    swept = 0.0
    for (a, low), (b, high) in zip(half, half[1:] + half[:1], strict=True):
        swept += math.pi / 3.0 * (high - low) * (a * a + a * b + b * b)
    return abs(swept) / _whole(places, volume)


def _whole(places: Places, volume: float) -> float:
    """The drawn tank's volume in cubic pixels: a cylinder with two half ellipsoids."""
    high = places.tank_height(volume)
    radius, head = SHAPE.radius * high, SHAPE.head * high
    return math.pi * radius**2 * (high - 2.0 * head + 4.0 / 3.0 * head)


def seen_share(panel: LivePanel) -> float:
    """Share of the tank that is painted as water, from the heights of water in its columns.

    The membrane's line lies half over the water, so half of its height in a column is water too.
    """
    image, places, scene = picture(panel.tank).astype(int), panel.tank.places(), scene_of(panel)
    high = places.tank_height(scene.volume)
    radius = SHAPE.radius * high
    rows = slice(round(places.bottom - high) - 2, round(places.bottom) + 2)
    blueness = image[rows, :, 2] - image[rows, :, 0]
    line = np.minimum(np.count_nonzero(blueness < -50, axis=0), STEEPEST)
    heights = np.count_nonzero(blueness > 25, axis=0) + 0.5 * line
    columns = np.arange(math.floor(places.axis - radius), math.ceil(places.axis + radius))
    away = np.abs(columns + 0.5 - places.axis)
    return float((math.pi * away * heights[columns]).sum()) / _whole(places, scene.volume)


def seen_pressure(panel: LivePanel) -> float:
    """Gauge pressure [Pa] at which the needle is painted."""
    image, places = picture(panel.tank).astype(int), panel.tank.places()
    reach = 0.66 * places.radius
    pressures = np.linspace(0.0, 1.03 * places.dial, 4000)
    dark = []
    for pressure in pressures.tolist():
        at = places.on_dial(pressure, reach)
        colour = image[int(at.y()), int(at.x())]
        if colour.sum() < 200:  # its ink, not the numbers of the dial
            dark.append(pressure)
    assert dark, "no needle"
    return float(np.mean(dark))


def colour_at(widget: QWidget, point: QPointF) -> str:
    """The colour of a pixel."""
    at: QPoint = point.toPoint()
    red, green, blue = picture(widget)[at.y(), at.x()].tolist()
    return QColor(red, green, blue).name().upper()


def ink() -> str:
    """The colour of the point in trace and path."""
    return theme.current().text
