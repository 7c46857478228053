"""What is not as it was set: marked on dial, trace and path, and told apart from what was set."""

from __future__ import annotations

import random
from itertools import pairwise
from typing import Any

import pytest
from PySide6.QtGui import QColor
from pytestqt.qtbot import QtBot

from tests.whole_window.at_page import METRIC, at_page, demo_with, page_alone
from tests.whole_window.checks.parts import settle
from tests.whole_window.live_user import picture, recording_of, scene_of
from workbench.gui import theme
from workbench.gui.live.ground import Ground, Level, levels, tops_of
from workbench.gui.live.panel import LivePanel
from workbench.gui.live.places import Places
from workbench.gui.live.plot_view import PlotView
from workbench.gui.live.really import real_pen, really
from workbench.gui.live.sketch import pen
from workbench.gui.live.still import tank_svg
from workbench.gui.pages.faults.page import FaultsPage
from workbench.job.teach_choices import Degree, Fault
from workbench.units import PRESSURE, Display

DRIFT = {"fault": Fault.SWITCH_DRIFT, "degree": Degree.SEVERE}


def shown(qtbot: QtBot, display: Display = Display(), **entries: Any) -> LivePanel:  # noqa: B008
    window, page = at_page(qtbot, "faults", FaultsPage, demo_with(**entries))
    window.store.set_display(display)
    window.resize(1366, 900)
    settle()
    return page.live


def names(panel: LivePanel, *, figures: bool = True) -> list[str]:
    rig, display = scene_of(panel).rig, panel.store.display
    return [one.told for one in levels(rig, display, theme.LIGHT, figures=figures)]


def is_marked(view: PlotView, value: float) -> bool:
    """Whether a line of what really is goes across a plot at a gauge pressure [Pa]."""
    ground = view.ground
    row = round(ground.py(float(view.display.value(value, PRESSURE))))
    return red_share(picture(view)[row - 2 : row + 3]) > 0.15


def red_share(part: Any) -> float:
    """Share of the columns (rows of pixels) that have the colour of what really is."""
    ink = QColor(theme.current().stop)
    away = abs(part.astype(int) - [ink.red(), ink.green(), ink.blue()]).sum(axis=2)
    return float((away < 70).any(axis=0).mean())


def is_on_dial(panel: LivePanel, places: Places, value: float) -> bool:
    """Whether the dial has a mark of what really is at a gauge pressure [Pa]."""
    image, size = picture(panel.tank), places.line
    at = places.on_dial(value, places.radius + 0.55 * size)
    x, y = round(at.x()), round(at.y())
    return red_share(image[y - 4 : y + 5, x - 4 : x + 5]) > 0.1


def test_a_sound_system_has_no_marks_of_what_really_is(qtbot: QtBot) -> None:
    panel = shown(qtbot)
    assert not really(scene_of(panel).rig, panel.store.display)
    assert names(panel) == ["cut-out 50.0 psi", "cut-in 30.0 psi", "precharge 28.0 psi"]
    rig = scene_of(panel).rig
    for value in (rig.setting.cut_in, rig.setting.cut_out, rig.setting.precharge):
        assert not is_marked(panel.trace, value)
        assert not is_on_dial(panel, panel.tank.places(), value)


@pytest.mark.parametrize("display", [Display(), METRIC], ids=["us", "metric"])
def test_a_drifted_switch_shows_where_its_contacts_really_move(
    qtbot: QtBot, display: Display
) -> None:
    panel = shown(qtbot, display, **DRIFT)
    system, setting = scene_of(panel).rig.system, scene_of(panel).rig.setting
    found = really(scene_of(panel).rig, display)
    assert found == {"cut_in": system.cut_in, "cut_out": system.cut_out}
    assert system.cut_in != setting.cut_in
    told = names(panel)
    for entry in ("cut-in", "cut-out"):
        name = entry.replace("-", "_")
        assert f"{entry} {display.text(getattr(setting, name), PRESSURE)}" in told
        assert f"{entry} really {display.text(getattr(system, name), PRESSURE)}" in told
    assert names(panel, figures=False)[3:] == ["cut-in really", "cut-out really"]
    for value in found.values():
        assert is_marked(panel.trace, value)
        assert is_marked(panel.path, value)
        assert is_on_dial(panel, panel.tank.places(), value)
    assert not is_marked(panel.trace, setting.precharge)
    # What is taken hold of stays what was set.
    assert scene_of(panel).handle("cut_in").value == setting.cut_in


def test_a_lost_charge_shows_both_charges_and_the_paper_too(qtbot: QtBot) -> None:
    panel = shown(qtbot, fault=Fault.LOST_CHARGE)
    rig = scene_of(panel).rig
    assert really(rig, panel.store.display) == {"precharge": rig.system.precharge}
    assert "precharge 28.0 psi" in names(panel)
    assert "precharge really 14.0 psi" in names(panel)
    svg = tank_svg(scene_of(panel), panel.store.display)
    assert ">Precharge 28.0 psi</text>" in svg
    assert ">really 14.0 psi</text>" in svg


def test_a_leak_moves_its_mark_with_each_start(qtbot: QtBot) -> None:
    panel = shown(qtbot, fault=Fault.AIR_LEAK, steady_draw="6 gpm")
    before = scene_of(panel).rig.system.precharge
    panel.set_speed(60.0)
    while recording_of(panel).rig.system.precharge > before - 1.0:
        panel.go_on(0.5)
    now = scene_of(panel).rig.system.precharge
    assert now == recording_of(panel).rig.system.precharge < before - 1.0
    places = panel.tank.places()
    assert is_on_dial(panel, places, now)
    assert is_marked(panel.trace, now)
    assert f"precharge really {panel.store.display.text(now, PRESSURE)}" in names(panel)


def test_the_pen_of_what_really_is_has_a_dash_of_its_own() -> None:
    for look in (theme.LIGHT, theme.DARK):
        own = real_pen(look)
        for other in (pen(look.good, 1.5, (6.0, 3.0)), pen(look.caution, 1.5, (2.0, 2.0))):
            assert own.dashPattern() != other.dashPattern()
            assert own.color() != other.color()


def ground(high: float) -> Ground:
    return Ground(400.0, high, 16.0, (0.0, 2.0), (0.0, 70.0), "", "", ".")


def test_the_names_of_lines_never_lie_on_each_other() -> None:
    chance = random.Random(4)
    line = pen(theme.LIGHT.text)
    for _ in range(300):
        plot, free = ground(chance.uniform(260.0, 400.0)), chance.choice([0.55, 2.0])
        shown = [
            Level("x", chance.uniform(0.0, 60.0), "", line, is_above=n == 0)
            for n in range(chance.randrange(1, 7))
        ]
        heights = [plot.py(one.pressure) for one in shown]
        tops = sorted(tops_of(plot, shown, heights, free))
        for above, below in pairwise(tops):
            assert below - above >= 1.1 * plot.line
        assert tops[-1] + 1.1 * plot.line <= plot.area.bottom() - free * plot.line + 1e-6


def test_the_axis_reaches_to_a_charge_that_really_is_too_high(qtbot: QtBot) -> None:
    job = demo_with(fault=Fault.OLD_PRECHARGE, degree=Degree.SEVERE, precharge_rule="typed",
                    precharge="48 psi", live_volume="60 gal")  # fmt: skip
    page = page_alone(FaultsPage, job, Display(), None)
    qtbot.addWidget(page)
    page.refresh()
    rig = scene_of(page.live).rig
    assert page.live.trace.ground.y[1] > float(Display().value(rig.system.precharge, PRESSURE))
