"""A small page that keeps every rule, so that the page checks can be tried on it."""

from __future__ import annotations

import pyqtgraph
from PySide6.QtCore import QEvent, QModelIndex, Qt
from PySide6.QtGui import QColor, QStandardItem, QStandardItemModel
from PySide6.QtWidgets import (
    QCheckBox,
    QComboBox,
    QFormLayout,
    QHBoxLayout,
    QHeaderView,
    QLabel,
    QLineEdit,
    QMenuBar,
    QPlainTextEdit,
    QPushButton,
    QScrollArea,
    QTableView,
    QVBoxLayout,
    QWidget,
)

from workbench.gui import theme
from workbench.words import tr


class CalmComboBox(QComboBox):
    def wheelEvent(self, event):
        event.ignore()


class Plot(pyqtgraph.PlotWidget):
    """Three curves in the theme's colours."""

    def __init__(self):
        super().__init__()
        self.setObjectName("plot")
        self.setAccessibleName(tr("Drawdown by band"))
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        for side in ("left", "bottom"):
            self.getAxis(side).enableAutoSIPrefix(False)
        self.curves = [self.plot([0, 1], [0, n], name=f"{n}") for n in range(3)]
        self.dress()

    def dress(self):
        look = theme.current()
        self.setBackground(look.base)
        for side in ("left", "bottom"):
            self.getAxis(side).setPen(look.axis)
            self.getAxis(side).setTextPen(look.text)
        for curve, style in zip(self.curves, look.curves, strict=False):
            pen = pyqtgraph.mkPen(style.colour)
            if style.dash:
                pen.setDashPattern(style.dash)
            curve.setPen(pen)

    def changeEvent(self, event):
        super().changeEvent(event)
        if event.type() == QEvent.Type.PaletteChange and hasattr(self, "curves"):
            self.dress()


def build() -> QWidget:
    """The page: a menu, fields on the left in a scroll area, the answer on the right."""
    page = QWidget()
    page.setObjectName("page")
    outer = QVBoxLayout(page)
    menus = QMenuBar()
    menu = menus.addMenu(tr("&File"))
    menu.addAction(tr("&Open …"))
    menu.addAction(tr("&Save"))
    outer.setMenuBar(menus)
    columns = QHBoxLayout()
    columns.addWidget(_fields())
    columns.addLayout(_results())
    outer.addLayout(columns)
    return page


def _fields() -> QScrollArea:
    content = QWidget()
    form = QFormLayout(content)
    pressure = QLineEdit("30 psi")
    pressure.setObjectName("pressure")
    pressure.setProperty("unitText", "psi")
    form.addRow(tr("&Cut-in:"), pressure)
    kind = CalmComboBox()
    kind.setObjectName("kind")
    kind.addItems([tr("Bladder"), tr("Diaphragm")])
    form.addRow(tr("&Kind:"), kind)
    notes = QPlainTextEdit()
    notes.setObjectName("notes")
    notes.setTabChangesFocus(True)
    form.addRow(tr("&Notes:"), notes)
    valve = QCheckBox(tr("&Relief valve present"))
    valve.setObjectName("valve")
    form.addRow(valve)
    printing = QPushButton(tr("&Print the card"))
    printing.setObjectName("printing")
    theme.set_role(printing, "primary")
    form.addRow(printing)
    area = QScrollArea()
    area.setObjectName("area")
    area.setWidgetResizable(True)
    area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
    area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
    area.setMinimumWidth(content.minimumSizeHint().width() + area.verticalScrollBar().width())
    area.setWidget(content)
    return area


def _results() -> QVBoxLayout:
    column = QVBoxLayout()
    for name, role, text in (
        ("answer", "answer", tr("{volume} gal", volume=7.4)),
        ("reason", "muted", tr("What the tank gives from cut-out down to cut-in.")),
        ("problem", "problem", tr("Stop: the precharge is above cut-in.")),
    ):
        label = QLabel(text)
        label.setObjectName(name)
        label.setWordWrap(role == "muted")
        theme.set_role(label, role)
        column.addWidget(label)
    column.addWidget(QLabel(f'<a href="rule">{tr("The rule")}</a>'))
    column.addWidget(Plot())
    column.addWidget(_table())
    return column


def _table() -> QTableView:
    table = QTableView()
    table.setObjectName("table")
    table.setAccessibleName(tr("Tanks that pass"))
    table.setTabKeyNavigation(False)
    table.verticalHeader().hide()
    model = QStandardItemModel(2, 2, table)
    model.setHorizontalHeaderLabels([tr("Total volume"), tr("State")])
    for row, (volume, state) in enumerate(
        (("20.0 gal", tr("Passes")), ("32.0 gal", tr("Caution")))
    ):
        model.setItem(row, 0, QStandardItem(volume))
        model.setItem(row, 1, QStandardItem(state))
        model.setData(
            model.index(row, 1, QModelIndex()),
            QColor(theme.current().selection),
            Qt.ItemDataRole.DecorationRole,
        )
    table.setModel(model)
    table.horizontalHeader().setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
    return table
