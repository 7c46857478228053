"""The live tank as it is drawn: water, needle, trace and path equal the physics at any moment."""

from __future__ import annotations

import random

import numpy as np
import pytest
from PySide6.QtCore import QPointF
from pytestqt.qtbot import QtBot

from tests.whole_window.at_page import METRIC
from tests.whole_window.checks.parts import settle
from tests.whole_window.live_user import (
    ARRANGED,
    any_rig,
    build,
    colour_at,
    ink,
    picture,
    recording_of,
    scene_of,
    seen_pressure,
    seen_share,
    share_of_revolution,
    shown,
)
from workbench.gui import theme
from workbench.gui.live.ground import Ground
from workbench.gui.live.panel import LivePanel
from workbench.gui.live.places import SHAPE, scale_volume
from workbench.gui.live.still import tank_svg
from workbench.gui.live.tank_moving import membrane, water_area
from workbench.gui.live.trace_view import SPANS, stretch_of
from workbench.study.live.rig import Rig
from workbench.study.live.words import what_happens
from workbench.units import PRESSURE, TIME, VOLUME, Display

SEEN = 0.018
"""Share of the tank by which pixels may miss its water: the lines over it, and their edges."""
DRAWN = 0.003
"""The same for corners: an area with corners is a little smaller than the round one."""


def without_grips(panel: LivePanel) -> None:
    """The grips lie over dial and tank; without them nothing is in the eye's way."""
    scene_of(panel).grips = False
    panel.tank.show_scene(scene_of(panel))


@ARRANGED
@pytest.mark.parametrize("seed", range(12))
def test_water_needle_trace_and_path_are_those_of_the_physics(
    qtbot: QtBot, seed: int, *, tall: bool
) -> None:
    chance = random.Random(seed)
    display = METRIC if seed % 3 == 0 else Display()
    panel = shown(qtbot, display, tall=tall, **any_rig(chance)).panel
    for _ in range(4):
        panel.set_speed(chance.choice([1.0, 20.0, 60.0]))
        for _ in range(chance.randrange(1, 30)):
            panel.go_on(chance.random())
        without_grips(panel)
        check_picture(panel)


def check_picture(panel: LivePanel) -> None:
    moment, scene, places = panel.player.moment, scene_of(panel), panel.tank.places()
    share = moment.water / scene.rig.system.volume
    drawn = share_of_revolution(water_area(places, scene), places, scene.volume)
    assert drawn == pytest.approx(share, abs=DRAWN)
    assert seen_share(panel) == pytest.approx(share, abs=SEEN)
    assert seen_pressure(panel) == pytest.approx(moment.pressure, abs=0.008 * places.dial)
    trace = recording_of(panel).trace
    assert trace.time[-1] == moment.time
    assert trace.pressure[-1] == moment.pressure
    display = panel.store.display
    y = float(display.value(moment.pressure, PRESSURE))
    at = panel.trace.ground.at(float(display.value(moment.time, TIME)), y)
    assert colour_at(panel.trace, at) == ink()
    at = panel.path.ground.at(float(display.value(moment.water, VOLUME)), y)
    assert colour_at(panel.path, at) == ink()
    said = what_happens(scene.rig, moment, panel.player.tap, panel.player.last_event, display)
    assert panel.words.text() == said


@ARRANGED
def test_the_eye_of_these_tests_sees_a_level_that_is_wrong(qtbot: QtBot, *, tall: bool) -> None:
    panel = shown(qtbot, tall=tall).panel
    without_grips(panel)
    before = seen_share(panel)
    moment = panel.player.moment
    scene_of(panel).moment = type(moment)(
        **{name: getattr(moment, name) for name in moment.__slots__}
        | {"water": moment.water - 0.03 * scene_of(panel).volume}
    )
    panel.tank.update()
    assert before - seen_share(panel) == pytest.approx(0.03, abs=0.006)


@ARRANGED
def test_the_membrane_is_held_by_the_rim_and_never_leaves_the_shell(
    qtbot: QtBot, *, tall: bool
) -> None:
    low = {"cut_in": "5 psi", "precharge": "3 psi", "precharge_rule": "typed"}
    panel = shown(qtbot, tall=tall, cut_out="60 psi", **low).panel
    scene, places = scene_of(panel), panel.tank.places()
    high = places.tank_height(scene.volume)
    for _ in range(40):
        panel.set_speed(20.0)
        panel.go_on(1.0)
        points = membrane(places, scene)
        for x, y in (points[0], points[-1]):
            assert y == pytest.approx(places.bottom - SHAPE.rim * high)
            assert abs(x - places.axis) == pytest.approx(SHAPE.radius * high)
        heights = np.array([(places.bottom - y) / high for _, y in points])
        widths = np.array([abs(x - places.axis) / high for x, _ in points])
        assert (widths <= SHAPE.half_width(np.clip(heights, 0.0, 1.0)) + 1e-9).all()


@ARRANGED
def test_water_above_a_membrane_is_drawn_as_much_as_it_is(qtbot: QtBot, *, tall: bool) -> None:
    panel = shown(qtbot, tall=tall, live_volume="40 gal").panel
    scene = scene_of(panel)
    above = 0.25 * scene.rig.system.volume
    scene.rig = Rig(scene.rig.system, scene.rig.setting, "", water_above=above)
    scene.grips = False
    panel.tank.show_scene(scene)
    water = (scene.moment.water + above) / scene.volume
    # A line for its surface, and the membrane, lie over the water.
    assert seen_share(panel) == pytest.approx(water, abs=2.0 * SEEN)


@ARRANGED
def test_tanks_on_one_scale_keep_their_proportions(qtbot: QtBot, *, tall: bool) -> None:
    heights = []
    for volume in ("20 gal", "60 gal"):
        panel = shown(qtbot, tall=tall, live_volume=volume).panel
        places = panel.tank.places()
        heights.append(places.tank_height(scene_of(panel).volume))
    assert heights[1] / heights[0] == pytest.approx(3.0 ** (1.0 / 3.0))
    for volume in (0.002, 0.1, 3.0):
        assert 0.15 < volume / scale_volume(volume) <= 0.8


def test_the_same_air_stands_denser_the_less_room_it_has(qtbot: QtBot) -> None:
    panel = shown(qtbot, cut_in="20 psi", cut_out="80 psi", steady_draw="5 gpm").panel
    without_grips(panel)
    found = {}
    for _ in range(2):
        air = panel.player.moment.air
        found[air] = dots_per_air(panel)
        panel.set_speed(60.0)
        while panel.player.moment.pressure > 0.4 * scene_of(panel).rig.setting.cut_out:
            panel.go_on(0.05)
    small, large = sorted(found)
    assert large > 1.5 * small
    assert found[small] / found[large] == pytest.approx(large / small, rel=0.25)


def dots_per_air(panel: LivePanel) -> float:
    """Share of the pixels in the upper part, beside the line to its name, that are dots."""
    scene, places = scene_of(panel), panel.tank.places()
    high = places.tank_height(scene.volume)
    rows = slice(round(places.bottom - 0.87 * high), round(places.bottom - 0.7 * high))
    radius = SHAPE.radius * high
    part = picture(panel.tank)[
        rows, round(places.axis - 0.9 * radius) : round(places.axis + 0.5 * radius)
    ]
    return float((part.astype(int).sum(axis=2) < 660).mean())


def test_the_trace_shows_all_then_moves_on_and_goes_back_where_one_looks() -> None:
    assert stretch_of(0.0, 0.0, 0.0) == (0.0, SPANS[0])
    assert stretch_of(0.0, 121.0, 121.0) == (0.0, SPANS[1])
    for now in (1801.0, 4000.0, 86400.0):
        start, end = stretch_of(0.0, now, now)
        assert start <= now <= end
        assert end - start == SPANS[-1]
        early, late = stretch_of(0.0, now, 700.0)
        assert early <= 700.0 <= late


def test_the_pump_on_bar_stands_under_the_times_at_which_it_was_on(qtbot: QtBot) -> None:
    panel = shown(qtbot, live_volume="20 gal", steady_draw="6 gpm").panel
    panel.set_speed(20.0)
    for _ in range(200):
        panel.go_on(0.05)
    trace, ground = recording_of(panel).trace, panel.trace.ground
    changes = np.flatnonzero(np.diff(trace.pump_on.astype(int)))
    assert changes.size >= 2
    y = ground.area.bottom() - 0.25 * ground.line
    for row, start in enumerate(changes.tolist()):
        middle = (
            0.5 * (trace.time[start + 1] + trace.time[changes[row + 1]])
            if row + 1 < changes.size
            else None
        )
        if middle is None:
            break
        place = QPointF(ground.px(middle / 60.0), y)
        is_on = bool(trace.pump_on[start + 1])
        assert (colour_at(panel.trace, place) == theme.current().accent) == is_on


def test_what_is_drawn_bit_by_bit_is_what_is_drawn_at_once(qtbot: QtBot) -> None:
    panel = shown(qtbot, live_volume="20 gal", steady_draw="6 gpm").panel
    panel.set_speed(5.0)
    for _ in range(100):
        panel.go_on(0.1)
    bit_by_bit = picture(panel.trace).astype(int)
    panel.trace.forget()
    at_once = picture(panel.trace).astype(int)
    differs = (np.abs(bit_by_bit - at_once).sum(axis=2) > 200).mean()
    assert differs < 0.002


def test_axes_have_room_for_all_that_can_happen(qtbot: QtBot) -> None:
    for display in (Display(), METRIC):
        panel = shown(qtbot, display, precharge_rule="typed", precharge="55 psi").panel
        for view in (panel.trace, panel.path):
            ground: Ground = view.ground
            assert ground.y[1] > float(display.value(panel.player.moment.pressure, PRESSURE))
            assert ground.py(ground.y[1]) < ground.py(0.0)
            assert ground.px(ground.x[1]) > ground.px(ground.x[0])


def test_the_picture_is_dressed_anew_in_another_theme(qtbot: QtBot, qapp: object) -> None:
    from PySide6.QtWidgets import QApplication

    panel = shown(qtbot).panel
    app = QApplication.instance()
    assert isinstance(app, QApplication)
    theme.apply(app, theme.DARK)
    try:
        for view in (panel.trace, panel.path):
            assert (
                colour_at(view, view.ground.area.center() + QPointF(3.0, 3.0)) != theme.LIGHT.base
            )
        assert colour_at(panel.tank, QPointF(2.0, 2.0)) == theme.DARK.window
    finally:
        theme.apply(app, theme.LIGHT)


def test_a_still_shows_the_same_moment_without_what_is_taken_hold_of(qtbot: QtBot) -> None:
    panel = shown(qtbot).panel
    panel.go_on(1.0)
    svg = tank_svg(scene_of(panel), panel.store.display)
    display, moment = panel.store.display, panel.player.moment
    assert f">{display.text(moment.pressure, PRESSURE)}</text>" in svg
    assert f">{display.text(moment.water, VOLUME)}</text>" in svg
    assert ">1</text>" not in svg
    assert scene_of(panel).grips


def test_a_page_without_room_scrolls_and_loses_nothing(qtbot: QtBot) -> None:
    page = build(catalog=False)
    qtbot.addWidget(page)
    page.resize(700, 500)
    with qtbot.waitExposed(page):
        page.show()
    settle()
    panel = page.panel
    least = panel.tank.minimumSizeHint()
    assert panel.tank.width() >= least.width()
    assert panel.tank.height() >= least.height()
    assert panel.trace.geometry().bottom() < panel.path.geometry().top()
