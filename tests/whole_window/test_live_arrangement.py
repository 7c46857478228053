"""The live tank's picture, wide and tall: nothing is cut or covered, all is in reach."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from itertools import combinations
from typing import Any

import pytest
from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QPainter, QPixmap
from PySide6.QtWidgets import QApplication, QScrollArea
from pytestqt.qtbot import QtBot

from tests.conftest import TEXT_POINTS
from tests.whole_window.at_page import METRIC, at_page, demo_with, page_alone
from tests.whole_window.checks.parts import settle
from tests.whole_window.live_user import ARRANGED, build, scene_of, shown
from tests.whole_window.user import few_tanks
from workbench.gui import theme
from workbench.gui.live import tank_moving, tank_still
from workbench.gui.live.arranged import least_size, places_for, wide_width
from workbench.gui.live.panel import LivePanel
from workbench.gui.live.places import Places
from workbench.gui.live.scene import Scene
from workbench.gui.live.tall import TallPlaces
from workbench.gui.live.tank_moving import draw_moving, grip_size
from workbench.gui.live.tank_still import draw_still
from workbench.gui.marks import painting
from workbench.gui.pages.faults.page import FaultsPage
from workbench.gui.pages.lessons.page import LessonsPage
from workbench.gui.pages.live.page import LivePage
from workbench.gui.pages.page import LazyPage
from workbench.job.teach_choices import Degree, Fault
from workbench.units import Display

LARGE = [1.0, 2.0]
US = Display()
SMALL_SCREEN = 1366, 728
TWICE = 2.0 * 9.0
"""Points of text at 200 % of the 9 that are usual where an inch has 96 dots."""
ROUNDING = 0.06
"""Of a line's height, by which the boxes of two texts may touch."""


@contextmanager
def text_at(factor: float) -> Iterator[None]:
    app = QApplication.instance()
    assert isinstance(app, QApplication)
    usual, larger = app.font(), app.font()
    larger.setPointSizeF(usual.pointSizeF() * factor)
    app.setFont(larger)
    try:
        yield
    finally:
        app.setFont(usual)


@pytest.fixture
def texts(monkeypatch: pytest.MonkeyPatch) -> list[tuple[str, QRectF]]:
    """What is written into a picture from now on, each text with its box."""
    written: list[tuple[str, QRectF]] = []
    usual = tank_still.write

    def write(
        painter: QPainter, area: QRectF, text: str, colour: str, *how: Qt.AlignmentFlag
    ) -> None:
        usual(painter, area, text, colour, *how)
        flags = int(how[0] if how else tank_moving.LEFT)
        written.append((text, painter.boundingRect(area, flags, text)))

    for module in (tank_still, tank_moving):
        monkeypatch.setattr(module, "write", write)
    return written


def paint(scene: Scene, width: float) -> Places:
    """Paint the whole picture as low as it may be at a width."""
    _, height = least_size(scene, width)
    places = places_for(scene, width, height)
    picture = QPixmap(round(width), round(height))
    with painting(picture) as painter:
        draw_still(painter, places, scene, theme.LIGHT)
        draw_moving(painter, places, scene, theme.LIGHT)
    return places


def faults_page(qtbot: QtBot, fault: Fault, degree: Degree, display: Display) -> FaultsPage:
    """The page alone, not shown."""
    job = demo_with(fault=fault, degree=degree, live_volume="60 gal")
    page = page_alone(FaultsPage, job, display, None)
    qtbot.addWidget(page)
    page.refresh()
    return page


FAULTS = [
    (Fault.NONE, Degree.CLEAR),
    (Fault.SWITCH_DRIFT, Degree.SEVERE),
    (Fault.PINHOLE, Degree.SEVERE),
    (Fault.OLD_PRECHARGE, Degree.SEVERE),
]


@ARRANGED
@pytest.mark.parametrize("factor", LARGE)
@pytest.mark.parametrize("display", [US, METRIC], ids=["us", "metric"])
@pytest.mark.parametrize("wrong", FAULTS, ids=lambda wrong: wrong[0].value)
def test_no_name_is_cut_or_lies_on_another(
    qtbot: QtBot,
    texts: list[tuple[str, QRectF]],
    wrong: tuple[Fault, Degree],
    display: Display,
    factor: float,
    *,
    tall: bool,
) -> None:
    with text_at(factor):
        page = faults_page(qtbot, *wrong, display)
        panel = page.live
        for _ in range(6):
            scene = scene_of(panel)
            wide = wide_width(scene)
            for width in (least_size(scene, 0.0)[0], wide - 1.0) if tall else (wide, 1.5 * wide):
                texts.clear()
                places = paint(scene, width)
                assert isinstance(places, TallPlaces) is tall
                check_texts(places, texts)
            panel.step()


def check_texts(places: Places, texts: list[tuple[str, QRectF]]) -> None:
    """But for those on the dial and in the grips, which may lie over each other there."""
    picture = QRectF(0.0, 0.0, places.width, places.height)
    found = []
    for text, box in texts:
        away = box.center() - places.gauge
        on_dial = (away.x() ** 2 + away.y() ** 2) ** 0.5 < places.radius + grip_size(places)
        if not on_dial and not (text.isdigit() and is_in_grip(places, box)):
            found.append((text, box))
        assert picture.contains(box), (text, box, picture)
    assert len(found) >= 20
    slack = ROUNDING * places.line
    for (text, box), (other, next_box) in combinations(found, 2):
        shared = box.intersected(next_box)
        assert min(shared.width(), shared.height()) <= slack, (text, other, box, next_box)
    for text, box in found:
        assert not box.intersects(tank_box(places)) or text.startswith("really"), text


def is_in_grip(places: Places, box: QRectF) -> bool:
    """Numbers in grips are centred; those before names begin at their corner."""
    corners = [places.words_of(entry) for entry in ("live_volume", "altitude", "live_air",
                                                    "steady_draw")]  # fmt: skip
    legend = places.legend
    if legend.contains(box.center()):
        return False
    return all((box.topLeft() - corner).manhattanLength() > places.line for corner in corners)


def tank_box(places: Places) -> QRectF:
    """Of the largest tank that is drawn."""
    wide = 0.5 * places.widest
    return QRectF(places.axis - wide, places.bottom - places.tallest, 2.0 * wide, places.tallest)


@pytest.mark.parametrize("factor", LARGE)
def test_every_part_of_the_tall_picture_has_its_own_room(qtbot: QtBot, factor: float) -> None:
    with text_at(factor):
        page = build(catalog=False)
        qtbot.addWidget(page)
        page.refresh()
        scene = scene_of(page.panel)
        for width in (least_size(scene, 0.0)[0], wide_width(scene) - 1.0):
            places = places_for(scene, width, least_size(scene, width)[1])
            dial = QRectF(
                places.gauge - QPointF(places.radius, places.radius),
                places.gauge + QPointF(places.radius, places.radius),
            )
            grips = [
                QRectF(at - QPointF(size, size), at + QPointF(size, size))
                for one in scene.handles
                if one.entry in ("live_volume", "altitude", "live_air", "steady_draw")
                for end in (one.low, one.high)
                for size in (grip_size(places),)
                for at in (places.place_of(one.entry, end, one.low, one.high),)
                if one.entry != "live_volume"
            ]
            whole = QRectF(0.0, 0.0, places.width, places.height)
            parts = [dial, places.switch, places.legend, tank_box(places)]
            for part in (*parts, *grips, places.mountain, places.thermometer):
                assert whole.contains(part), (part, whole)
            for part, other in combinations(parts, 2):
                assert not part.intersects(other), (part, other)
            for line in (*places.small_pipe, places.wire):
                for point in line:
                    assert whole.contains(point)
                    assert not tank_box(places).contains(point)


@ARRANGED
def test_every_handle_is_taken_hold_of_where_it_is_and_gives_back_its_value(
    qtbot: QtBot, *, tall: bool
) -> None:
    panel = shown(qtbot, tall=tall).panel
    places = panel.tank.places()
    for handle in scene_of(panel).handles:
        at = places.place_of(handle.entry, handle.value, handle.low, handle.high)
        assert panel.tank.handle_at(at) == handle
        value = places.value_at(handle.entry, at, handle.low, handle.high)
        assert value == pytest.approx(handle.value, rel=1e-6, abs=1e-9)
        assert panel.tank.rect().contains(at.toPoint())


def test_the_picture_becomes_tall_and_wide_again_with_its_room(qtbot: QtBot) -> None:
    page = shown(qtbot)
    tank = page.panel.tank
    for width, tall in ((700, True), (1200, False), (690, True), (1366, False)):
        page.resize(width, 900)
        settle()
        assert isinstance(tank.places(), TallPlaces) is tall
        assert tank.width() >= tank.minimumSizeHint().width()
        assert tank.height() >= tank.minimumSizeHint().height()
        trace = page.panel.trace
        beside = trace.mapTo(page, QPointF()).x() > tank.mapTo(page, QPointF()).x()
        assert beside is not tall


# --- large type on a small screen ---

PAGES: dict[str, tuple[type[LazyPage], dict[str, Any]]] = {
    "live": (LivePage, {}),
    "live, in degrees of the air": (LivePage, {"live_air": "90 °F"}),
    "faults": (FaultsPage, {}),
    "faults, a pinhole": (FaultsPage, {"fault": Fault.PINHOLE, "degree": Degree.SEVERE}),
    "faults, a switch": (FaultsPage, {"fault": Fault.SWITCH_DRIFT, "degree": Degree.SEVERE}),
    "lessons": (LessonsPage, {}),
}


@pytest.mark.parametrize("metric", [False, True], ids=["us", "metric"])
@pytest.mark.parametrize("name", PAGES)
def test_at_twice_the_text_size_nothing_scrolls_sideways(
    qtbot: QtBot, name: str, *, metric: bool
) -> None:
    kind, entries = PAGES[name]
    few_tanks()
    key = name.split(",")[0]
    with text_at(TWICE / TEXT_POINTS):
        window, page = at_page(qtbot, key, kind, demo_with(**entries))
        if metric:
            window.store.set_display(METRIC)
        window.resize(*SMALL_SCREEN)
        settle()
        areas = [area for area in page.findChildren(QScrollArea) if area.isVisible()]
        assert len(areas) >= 3
        for area in areas:
            assert area.horizontalScrollBar().maximum() == 0, area.accessibleName()
            content = area.widget()
            assert content.width() <= area.viewport().width(), area.accessibleName()
        (panel,) = page.findChildren(LivePanel)
        assert isinstance(panel.tank.places(), TallPlaces)
        assert panel.tank.visibleRegion().boundingRect().width() == panel.tank.width()
        window.resize(SMALL_SCREEN[0] + 600, SMALL_SCREEN[1])
        settle()
        assert not isinstance(panel.tank.places(), TallPlaces)
