"""The theme can be read, seen to be focused, switched and enlarged while a window stands."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import numpy as np
import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QAccessible, QColor, QFontDatabase, QFontInfo, QPalette
from PySide6.QtTest import QTest
from PySide6.QtWidgets import (
    QApplication,
    QCheckBox,
    QComboBox,
    QFocusFrame,
    QLabel,
    QLineEdit,
    QListWidget,
    QPlainTextEdit,
    QPushButton,
    QRadioButton,
    QScrollArea,
    QSlider,
    QSpinBox,
    QTableWidget,
    QTabWidget,
    QToolButton,
    QToolTip,
    QVBoxLayout,
    QWidget,
)

from tests.whole_window.checks.colour import weak_pairs, weak_texts
from tests.whole_window.checks.parts import contrast, contrast_of, pixels, place_in
from workbench.gui import theme

ROOT = Path(__file__).resolve().parents[2]
THEMES = pytest.mark.parametrize("look", [theme.LIGHT, theme.DARK], ids=lambda look: look.name)


def controls() -> dict[str, QWidget]:
    """One of each kind of control that the program uses."""
    primary = QPushButton("Print")
    theme.set_role(primary, "primary")
    radio, tool, box, tabs = QRadioButton("psi"), QToolButton(), QComboBox(), QTabWidget()
    radio.setChecked(True)
    tool.setText("…")
    tool.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
    box.addItems(["Bladder", "Diaphragm"])
    tabs.addTab(QLabel("one"), "One")
    tabs.addTab(QLabel("two"), "Two")
    return {
        "push button": QPushButton("Save"),
        "primary button": primary,
        "tool button": tool,
        "check box": QCheckBox("Relief valve"),
        "radio button": radio,
        "combo box": box,
        "line edit": QLineEdit("30 psi"),
        "spin box": QSpinBox(),
        "slider": QSlider(Qt.Orientation.Horizontal),
        "notes": QPlainTextEdit(),
        "table": QTableWidget(2, 2),
        "list": QListWidget(),
        "tabs": tabs,
    }


KINDS = (
    *("push button", "primary button", "tool button", "check box", "radio button", "combo box"),
    *("line edit", "spin box", "slider", "notes", "table", "list", "tabs"),
)
FRAMED = ("line edit", "combo box", "spin box", "notes", "check box", "push button", "tool button")


def window_with(qtbot, *widgets: QWidget) -> QWidget:
    window = QWidget()
    rows = QVBoxLayout(window)
    for widget in widgets:
        rows.addWidget(widget)
    qtbot.addWidget(window)
    with qtbot.waitExposed(window):
        window.show()
    window.activateWindow()
    qtbot.waitUntil(lambda: QApplication.activeWindow() is window)
    return window


# -- contrast ------------------------------------------------------------------------------------


@THEMES
def test_every_text_can_be_read_on_every_background_it_stands_on(look):
    texts = (look.text, look.muted, look.accent, look.visited, look.good, look.caution, look.stop)
    for text in texts:
        for behind in (look.window, look.base, look.alternate):
            assert contrast_of(QColor(text), QColor(behind)) >= 4.5, (text, behind)
    for text, behind in (
        (look.on_accent, look.accent),
        (look.text, look.button),
        (look.text, look.selection),
        (look.muted, look.selection),
    ):
        assert contrast_of(QColor(text), QColor(behind)) >= 4.5, (text, behind)


@THEMES
def test_lines_stand_out_and_curves_differ_in_more_than_colour(look):
    for line in (look.frame, look.axis, look.accent, *(curve.colour for curve in look.curves)):
        for behind in (look.window, look.base):
            assert contrast_of(QColor(line), QColor(behind)) >= 3, (line, behind)
    assert len({curve.dash for curve in look.curves}) == len(look.curves)
    assert len({curve.marker for curve in look.curves}) == len(look.curves)


@THEMES
def test_the_palette_sets_every_role_and_reads_well(qapp, qtbot, look):
    theme.apply(qapp, look)
    widget = QWidget()
    qtbot.addWidget(widget)
    assert list(weak_pairs(widget)) == []
    palette = theme.palette_of(look)
    groups = (
        QPalette.ColorGroup.Active,
        QPalette.ColorGroup.Inactive,
        QPalette.ColorGroup.Disabled,
    )
    for role in QPalette.ColorRole:
        if role not in (QPalette.ColorRole.NoRole, QPalette.ColorRole.NColorRoles):
            assert all(palette.isBrushSet(group, role) for group in groups), role


@THEMES
def test_a_disabled_control_is_told_from_an_enabled_one(look):
    palette, role = theme.palette_of(look), QPalette.ColorRole
    for text in (role.WindowText, role.Text, role.ButtonText, role.PlaceholderText):
        assert palette.color(QPalette.ColorGroup.Disabled, text).name().upper() == look.disabled


@THEMES
def test_the_frame_of_each_field_stands_out_as_painted(qapp, qtbot, look):
    theme.apply(qapp, look)
    fields = {name: field for name, field in controls().items() if name in FRAMED}
    window = window_with(qtbot, *fields.values())
    qapp.focusWidget().clearFocus()
    picture, scale = pixels(window), window.devicePixelRatio()
    behind = np.array(QColor(look.window).getRgb()[:3], np.uint8)
    for name, field in fields.items():
        place = place_in(field, window)
        row, start = round(place.center().y() * scale), round(place.left() * scale)
        left_edge = picture[row, start : start + round(8 * scale)]
        assert contrast(left_edge, behind).max() >= 3, name


# -- the focus ring ------------------------------------------------------------------------------


@THEMES
@pytest.mark.parametrize("name", KINDS)
def test_the_ring_is_two_pixels_wide_all_round_and_stands_out(qapp, qtbot, look, name):
    theme.apply(qapp, look)
    widget = controls()[name]
    stop = widget.tabBar() if isinstance(widget, QTabWidget) else widget
    window = window_with(qtbot, QLineEdit(), widget)
    stop.setFocus(Qt.FocusReason.TabFocusReason)
    focused = pixels(window, place_in(stop, window))
    stop.clearFocus()
    changed = contrast(focused, pixels(window, place_in(stop, window))) >= 3
    scale = window.devicePixelRatio()
    band = round(theme.RING_WIDTH * scale)
    # Between whole scales an edge may fall within a pixel and be smoothed away on both sides.
    needed = int(2 * scale) if scale == int(scale) else int(2 * scale - 1)
    for edge in (changed[:band], changed[-band:], changed[:, :band].T, changed[:, -band:].T):
        seen = np.count_nonzero(edge, axis=0)
        assert np.mean(seen >= needed) > 0.85, name  # arrows reach into it


def rings(window: QWidget) -> list[QFocusFrame]:
    return [ring for ring in window.findChildren(QFocusFrame) if ring.isVisible()]


def test_the_ring_keeps_to_the_control_that_has_the_focus(qapp, qtbot):
    first, second = QLineEdit(), QLineEdit()
    window = window_with(qtbot, first, second)
    first.setFocus()
    assert [ring.parentWidget() for ring in rings(window)] == [first]
    second.setFocus()
    assert [ring.parentWidget() for ring in rings(window)] == [second]
    second.setFixedHeight(second.height() + 20)
    qapp.processEvents()
    assert rings(window)[0].size() == second.size()
    second.clearFocus()
    assert rings(window) == []


def test_a_control_may_vanish_while_it_has_the_focus(qapp, qtbot):
    first, second = QLineEdit(), QLineEdit()
    window = window_with(qtbot, first, second)
    first.setFocus()
    first.setParent(None)
    first.deleteLater()
    del first
    qtbot.wait(1)
    second.setFocus()
    assert [ring.parentWidget() for ring in rings(window)] == [second]


def test_the_key_that_enters_a_scroll_area_brings_what_it_reaches_into_sight(qtbot):
    outside, far_down, area = QLineEdit(), QLineEdit(), QScrollArea()
    content = QWidget()
    rows = QVBoxLayout(content)
    rows.addSpacing(2000)
    rows.addWidget(far_down)
    area.setWidget(content)
    area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
    _window = window_with(qtbot, outside, area)
    outside.setFocus()
    QTest.keyClick(outside, Qt.Key.Key_Tab)
    assert far_down.hasFocus()
    assert far_down.visibleRegion().boundingRect() == far_down.rect()


def test_a_screen_reader_does_not_meet_the_ring(qtbot):
    field = QLineEdit()
    window = window_with(qtbot, field)
    field.setFocus()
    assert rings(window)
    assert QAccessible.queryAccessibleInterface(field).childCount() == 0


# -- switching and enlarging ---------------------------------------------------------------------


def test_a_standing_window_follows_a_switch_in_every_text(qapp, qtbot):
    labels = []
    for role in theme.ROLES.keys() - {"primary"}:
        label = QLabel(f"{role}: the precharge is 2 psi below cut-in")
        theme.set_role(label, role)
        labels.append(label)
    labels.append(QLabel('<a href="rule">the rule</a>'))
    window = window_with(qtbot, *labels, *controls().values())
    for look in (theme.DARK, theme.LIGHT, theme.DARK):
        theme.apply(qapp, look)
        qapp.processEvents()
        assert theme.current() is look
        corner = pixels(window)[0, 0]
        assert tuple(corner) == QColor(look.window).getRgb()[:3]
        assert list(weak_texts(window)) == []


def test_a_role_may_change_while_the_widget_is_shown(qtbot):
    label = QLabel("Passes")
    theme.set_role(label, "good")
    _window = window_with(qtbot, label)
    for role, colour in (("problem", theme.LIGHT.stop), ("good", theme.LIGHT.good)):
        theme.set_role(label, role)
        assert label.palette().color(QPalette.ColorRole.WindowText) == QColor(colour)


def test_a_role_that_does_not_exist_is_refused(qtbot):
    label = QLabel()
    qtbot.addWidget(label)
    with pytest.raises(ValueError, match="no role 'shouting'; there are answer"):
        theme.set_role(label, "shouting")


def test_the_type_scale_follows_the_text_size_while_a_window_stands(qapp, qtbot):
    labels = {role: QLabel("7.4 gal") for role in ("answer", "title", "heading", "note")}
    for role, label in labels.items():
        theme.set_role(label, role)
    _window = window_with(qtbot, *labels.values())
    for points in (9.0, 18.0):
        font = qapp.font()
        font.setPointSizeF(points)
        qapp.setFont(font)
        qapp.processEvents()
        for role, step in (("answer", 2.2), ("title", 1.5), ("heading", 1.15), ("note", 1.0)):
            assert labels[role].font().pointSizeF() == pytest.approx(points * step, abs=0.1)
            assert labels[role].height() >= labels[role].fontMetrics().height()
        assert theme.font(theme.ANSWER).pointSizeF() == pytest.approx(points * 2.2)


def test_widths_grow_with_the_text(qapp, qtbot):
    label = QLabel("10")
    _window = window_with(qtbot, label)
    narrow = theme.width_of(label, 10)
    font = qapp.font()
    font.setPointSizeF(2 * font.pointSizeF())
    qapp.setFont(font)
    assert theme.width_of(label, 10) == pytest.approx(2 * narrow, rel=0.1)


def test_what_can_be_clicked_is_large_enough_at_a_small_text_size(qapp, qtbot):
    font = qapp.font()
    font.setPointSizeF(9)
    qapp.setFont(font)
    for name, widget in controls().items():
        qtbot.addWidget(widget)
        widget.ensurePolished()
        size = widget.tabBar().tabRect(0).size() if name == "tabs" else widget.sizeHint()
        assert min(size.width(), size.height()) >= theme.TARGET, name


# -- where it comes from -------------------------------------------------------------------------


def test_the_bundled_typeface_is_used_and_has_a_true_bold(qapp):
    assert QFontInfo(qapp.font()).family() == "Noto Sans"
    assert {"Regular", "Bold"} <= set(QFontDatabase.styles("Noto Sans"))
    assert QFontInfo(theme.font(bold=True)).bold()


def test_tool_tips_wear_the_theme(qapp):
    theme.apply(qapp, theme.DARK)
    shown = QToolTip.palette().color(QPalette.ColorRole.ToolTipBase)
    assert shown.name().upper() == theme.DARK.base


def test_without_a_choice_the_system_is_followed(qapp, monkeypatch):
    assert theme.system_theme(qapp) is theme.LIGHT  # this platform does not say
    theme.apply(qapp)
    assert theme.current() is theme.LIGHT
    monkeypatch.setattr(theme, "system_theme", lambda _app: theme.DARK)
    qapp.styleHints().colorSchemeChanged.emit(Qt.ColorScheme.Dark)
    assert theme.current() is theme.DARK
    theme.apply(qapp, theme.LIGHT)
    qapp.styleHints().colorSchemeChanged.emit(Qt.ColorScheme.Dark)
    assert theme.current() is theme.LIGHT


def test_a_dark_system_is_met_in_dark(qapp, monkeypatch):
    class Hints:
        def colorScheme(self):
            return Qt.ColorScheme.Dark

    class App:
        def styleHints(self):
            return Hints()

    assert theme.system_theme(App()) is theme.DARK


def test_the_theme_loads_neither_plots_nor_arrays():
    code = (
        "import sys, workbench.gui.theme;"
        "print(sorted({'numpy', 'pyqtgraph', 'pint', 'pydantic'} & set(sys.modules)))"
    )
    done = subprocess.run(
        [sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True, check=True
    )
    assert done.stdout.strip() == "[]"
