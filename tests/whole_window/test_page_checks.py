"""The page checks pass a good page, and each catches the fault that it is there for."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from PySide6.QtCore import QModelIndex, QSize, Qt
from PySide6.QtGui import QColor, QPalette, QStandardItemModel
from PySide6.QtWidgets import (
    QAbstractButton,
    QAbstractScrollArea,
    QComboBox,
    QFormLayout,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from tests.whole_window import sample_page
from tests.whole_window.page_checks import CHECKS, check_page, problems
from workbench.gui import theme
from workbench.words import tr


def part(page: QWidget, name: str) -> QWidget:
    found = page.findChild(QWidget, name)
    assert found is not None
    return found


def label_of(page: QWidget, field: str) -> QLabel:
    return next(x for x in page.findChildren(QLabel) if x.buddy() is part(page, field))


def add(page: QWidget, widget: QWidget) -> None:
    """Put ``widget`` below the fields, in the Tab order as well."""
    part(page, "area").widget().layout().addRow(widget)
    QWidget.setTabOrder(part(page, "printing"), widget)


# -- one fault each ------------------------------------------------------------------------------


def no_name(page):
    part(page, "table").setAccessibleName("")


def markup_in_name(page):
    part(page, "table").setAccessibleName(f"<b>{tr('Tanks')}</b>")


def same_name_twice(page):
    part(page, "table").setAccessibleName(tr("Notes"))


def label_beside_is_no_buddy(page):
    label_of(page, "pressure").setBuddy(None)
    part(page, "pressure").setAccessibleName(tr("Cut-in"))
    form = part(page, "area").widget().layout()
    form.labelForField(part(page, "pressure")).hide()


def unit_not_shown(page):
    part(page, "pressure").setText("30")
    part(page, "pressure").setAccessibleDescription(tr("in {unit}", unit="psi"))


def unit_not_heard(page):
    part(page, "pressure").setText("30")
    form = part(page, "area").widget().layout()
    row = QHBoxLayout()
    row.addWidget(part(page, "pressure"))
    row.addWidget(QLabel("psi"))
    form.setLayout(0, QFormLayout.ItemRole.FieldRole, row)


def tab_out_of_order(page):
    QWidget.setTabOrder(part(page, "kind"), part(page, "pressure"))


def never_reached(page):
    class Skipped(QPushButton):
        def focusInEvent(self, event):
            super().focusInEvent(event)
            if event.reason() == Qt.FocusReason.TabFocusReason:
                self.focusNextChild()
            elif event.reason() == Qt.FocusReason.BacktabFocusReason:
                self.focusPreviousChild()

    add(page, Skipped(tr("Skipped")))


def notes_keep_tab(page):
    part(page, "notes").setTabChangesFocus(False)


def table_keeps_tab(page):
    part(page, "table").setTabKeyNavigation(True)


def empty_table_would_keep_tab(page):
    part(page, "table").setTabKeyNavigation(True)
    part(page, "table").setModel(QStandardItemModel(0, 2, page))
    part(page, "table").horizontalHeader().hide()


def back_is_another_way(page):
    class OneWay(QPushButton):
        def keyPressEvent(self, event):
            if event.key() == Qt.Key.Key_Backtab:
                part(page, "pressure").setFocus(Qt.FocusReason.BacktabFocusReason)
            else:
                super().keyPressEvent(event)

        def focusNextPrevChild(self, forward):
            return super().focusNextPrevChild(True) if forward else False

    add(page, OneWay(tr("One way")))


def focus_without_a_mark(page):
    colour = theme.LIGHT.accent
    part(page, "kind").setStyleSheet(f"background: {colour}; color: white")


def weak_selection(page):
    palette = part(page, "table").palette()
    palette.setColor(QPalette.ColorRole.Highlight, QColor("#8fb8c4"))
    palette.setColor(QPalette.ColorRole.HighlightedText, QColor("#ffffff"))
    part(page, "table").setPalette(palette)


def weak_page_palette(page):
    palette = page.palette()
    palette.setColor(QPalette.ColorRole.ToolTipBase, palette.color(QPalette.ColorRole.ToolTipText))
    page.setPalette(palette)


def weak_label(page):
    part(page, "problem").setStyleSheet("color: #8a8a8a; background: #bbbbbb")


def weak_button(page):
    part(page, "printing").setStyleSheet("color: #5f9aa8")


def weak_tick_box(page):
    part(page, "valve").setStyleSheet("color: #999999")


def label_that_stays_light(page):
    part(page, "reason").setStyleSheet(f"color: {theme.LIGHT.text}")


def weak_cell(page):
    model = part(page, "table").model()
    cell = model.index(0, 0, QModelIndex())
    model.setData(cell, QColor("#909090"), Qt.ItemDataRole.ForegroundRole)


def weak_curve(page):
    part(page, "plot").curves[1].setPen("#cccccc")
    part(page, "plot").dress = lambda: None


def curves_alike_but_for_colour(page):
    plot = part(page, "plot")
    plot.curves[1].setPen(plot.curves[1].opts["pen"].color())


def prefix_on_axis(page):
    part(page, "plot").getAxis("left").enableAutoSIPrefix(True)


def weak_axis(page):
    plot = part(page, "plot")
    plot.dress = lambda: None
    plot.getAxis("left").setTextPen("#999999")


def colour_without_word(page):
    model = part(page, "table").model()
    model.setData(model.index(0, 1, QModelIndex()), "", Qt.ItemDataRole.DisplayRole)


def mark_without_word(page):
    part(page, "problem").setText("!")


def fixed_label(page):
    part(page, "problem").setFixedWidth(40)


def wrapped_label_without_room(page):
    part(page, "reason").setFixedHeight(12)


def fixed_height(page):
    part(page, "pressure").setFixedHeight(26)


def narrow_heading(page):
    part(page, "table").horizontalHeader().setSectionResizeMode(
        part(page, "table").horizontalHeader().ResizeMode.Fixed
    )
    part(page, "table").setColumnWidth(0, 90)


def narrow_choice(page):
    part(page, "kind").setMaximumWidth(60)


def narrow_number(page):
    part(page, "pressure").setText("1234567.8 psi")
    part(page, "pressure").setMaximumWidth(60)


def area_that_does_not_scroll(page):
    part(page, "area").setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
    part(page, "notes").setMinimumHeight(900)


def wide_page(page):
    page.setMinimumWidth(1400)


def high_at_larger_text(page):
    part(page, "reason").setText(tr("Line\n") * 26)
    part(page, "reason").setWordWrap(False)


def same_alt_key(page):
    part(page, "valve").setText(tr("&Print it too"))


def same_alt_key_as_menu(page):
    part(page, "valve").setText(tr("Relie&f valve present"))


def same_key_in_menu(page):
    page.layout().menuBar().actions()[0].menu().actions()[1].setText(tr("&Or else"))


def menu_entry_without_key(page):
    page.layout().menuBar().actions()[0].menu().actions()[1].setText(tr("Save"))


def small_button(page):
    class Dot(QAbstractButton):
        def sizeHint(self):
            return QSize(16, 30)

        def paintEvent(self, _event):
            pass

    dot = Dot(page)
    dot.setAccessibleName(tr("Dot"))
    dot.setFocusPolicy(Qt.FocusPolicy.NoFocus)
    dot.setFixedSize(16, 30)
    part(page, "area").parentWidget().layout().addWidget(dot)


def area_that_does_not_follow(page):
    class Deaf(QAbstractScrollArea):
        def resizeEvent(self, event):
            super().resizeEvent(event)
            content.resize(self.viewport().width(), content.sizeHint().height())

    deaf = Deaf()
    deaf.setFocusPolicy(Qt.FocusPolicy.NoFocus)
    content = QWidget(deaf.viewport())
    rows = QVBoxLayout(content)
    for number in range(30):
        rows.addWidget(QPushButton(tr("Row {number}", number=number)))
    deaf.setMinimumWidth(content.minimumSizeHint().width() + 40)
    page.layout().addWidget(deaf)


def bare_label(page):
    part(page, "problem").setText("Stop: the precharge is above cut-in.")


def bare_help(page):
    part(page, "pressure").setWhatsThis("Where the pump starts")


def bare_choice(page):
    part(page, "kind").addItem("Plain")


def bare_heading(page):
    part(page, "table").model().setHorizontalHeaderLabels(["Total volume", tr("State")])


def bare_menu_entry(page):
    page.layout().menuBar().actions()[0].menu().actions()[1].setText("&Save")


def no_room_for_translation(page):
    button = part(page, "valve")
    button.setText(tr("Re&lief"))
    button.setMaximumWidth(button.fontMetrics().horizontalAdvance("Relief") * 2)


def wheel_turns_choice(page):
    box = QComboBox()
    box.addItems(["1", "2"])
    label = QLabel(tr("Level:"))
    label.setBuddy(box)
    add(page, label)
    add(page, box)


def model_that_contradicts_itself(page):
    class Endless(QStandardItemModel):
        def rowCount(self, _parent=None):
            return 2

    model = Endless(page)
    model.setColumnCount(2)
    part(page, "table").setModel(model)
    part(page, "table").horizontalHeader().hide()


FAULTS: dict[str, tuple[Callable[[QWidget], None], ...]] = {
    "A1": (no_name,),
    "A2": (markup_in_name, same_name_twice),
    "A3": (label_beside_is_no_buddy, unit_not_shown, unit_not_heard),
    "A4": (tab_out_of_order, never_reached),
    "A5": (notes_keep_tab, table_keeps_tab, empty_table_would_keep_tab, back_is_another_way),
    "A7": (focus_without_a_mark,),
    "A8": (weak_selection, weak_page_palette),
    "A9": (weak_label, weak_button, weak_tick_box, label_that_stays_light, weak_cell),
    "A10": (weak_curve, curves_alike_but_for_colour, prefix_on_axis, weak_axis),
    "A11": (colour_without_word, mark_without_word),
    "A12": (
        fixed_label,
        wrapped_label_without_room,
        fixed_height,
        narrow_heading,
        narrow_choice,
        narrow_number,
        area_that_does_not_scroll,
    ),
    "A14": (wide_page, high_at_larger_text),
    "A15": (same_alt_key, same_alt_key_as_menu, same_key_in_menu, menu_entry_without_key),
    "A17": (small_button,),
    "A18": (area_that_does_not_follow,),
    "A22": (
        bare_label,
        bare_help,
        bare_choice,
        bare_heading,
        bare_menu_entry,
        no_room_for_translation,
    ),
    "A23": (wheel_turns_choice,),
    "A25": (model_that_contradicts_itself,),
}

# A page that is cut is cut in another language too, and what is cut off is out of sight.
FOLLOWING = {"A12": ("A18", "A22")}


def test_a_page_that_keeps_every_rule_passes(qtbot):
    check_page(qtbot, sample_page.build)


def test_each_check_has_a_fault_to_catch():
    assert set(FAULTS) == set(CHECKS)


@pytest.mark.parametrize(
    ("key", "fault"),
    [pytest.param(key, f, id=f"{key}-{f.__name__}") for key in FAULTS for f in FAULTS[key]],
)
def test_a_page_with_one_fault_fails_its_check(qtbot, key, fault):
    def build():
        page = sample_page.build()
        fault(page)
        return page

    found = list(problems(qtbot, build, only={key}))
    caught = {k for k, _, _ in found}
    assert key in caught
    assert caught <= {key, *FOLLOWING.get(key, ())}
