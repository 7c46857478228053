"""Every value of a tank as a labelled field, in two columns, or one where two have no room."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from PySide6.QtCore import QEvent, QObject, QSize, Qt, Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import (
    QApplication,
    QBoxLayout,
    QFrame,
    QGridLayout,
    QLabel,
    QLineEdit,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from workbench.catalog.headers import FLAGS, descriptions, titles
from workbench.catalog.tank import kind_titles
from workbench.gui import theme
from workbench.gui.fields.choice_field import ChoiceField
from workbench.gui.fields.quantity_field import QuantityField
from workbench.gui.tank_form.draft import OPTIONAL, QUANTITIES, Draft
from workbench.gui.tank_form.rows import LinesField, TankRow
from workbench.units import NUMBER
from workbench.words import tr

_LINES = frozenset({"notes", "source"})


def _groups() -> tuple[tuple[tuple[str, tuple[str, ...]], ...], ...]:
    """The groups of each column: what they are called, and their fields."""
    return (
        (
            (tr("Tank"), ("name", "id", "kind", "connection")),
            (tr("Size"), ("total_volume", "acceptance", "diameter", "height", "empty_weight")),
        ),
        (
            (
                tr("Pressure"),
                ("max_working_pressure", "factory_precharge", "highest_precharge"),
            ),
            (tr("Offer"), ("price", "in_stock", "potable_listed")),
            (tr("Record"), ("notes", "source", "date")),
        ),
    )


class TankPanel(QScrollArea):
    """Puts what is typed into the draft, and shows what the draft states. ``edited`` tells so."""

    edited = Signal()

    def __init__(self, draft: Draft, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._draft = draft
        self.rows: dict[str, TankRow] = {}
        self._columns: list[QVBoxLayout] = []
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setWidgetResizable(True)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)  # its fields take the focus, not their frame
        self.setAccessibleName(tr("The tank's values"))
        self._body = QWidget()
        self._sides = QBoxLayout(QBoxLayout.Direction.LeftToRight, self._body)
        self._sides.setSpacing(theme.WIDE)
        for groups in _groups():
            self._columns.append(self._column(groups))
            self._sides.addLayout(self._columns[-1], 1)
        self.setWidget(self._body)
        self._body.installEventFilter(self)
        self.verticalScrollBar().rangeChanged.connect(self._on_range)
        self._on_range(0, 0)
        app = QApplication.instance()
        assert isinstance(app, QApplication)  # noqa: S101 - there is no widget without it
        app.focusChanged.connect(self._on_focus)
        self.show_stated()

    # --- building ---

    def _column(self, groups: tuple[tuple[str, tuple[str, ...]], ...]) -> QVBoxLayout:
        grid = QGridLayout()
        grid.setHorizontalSpacing(theme.CLOSE)
        grid.setVerticalSpacing(theme.TIGHT)
        grid.setColumnStretch(1, 1)
        for title, names in groups:
            heading = QLabel(title)
            theme.set_role(heading, "heading")
            if grid.count():
                grid.setRowMinimumHeight(grid.rowCount(), theme.CLOSE)
            grid.addWidget(heading, grid.rowCount(), 0, 1, 2)
            for name in names:
                self.rows[name] = self._row(grid, name)
        column = QVBoxLayout()
        column.addLayout(grid)
        column.addStretch(1)
        return column

    def _row(self, grid: QGridLayout, name: str) -> TankRow:
        control = self._control(name)
        control.setObjectName(name)
        return TankRow(grid, self._label(name), control, descriptions()[name])

    def _label(self, name: str) -> str:
        title = self._draft.title_of_height if name == "height" else titles()[name]
        unit = ""
        if name == "price":
            unit = self._draft.catalog.currency
        elif name in QUANTITIES:
            unit = self._draft.display.symbol(QUANTITIES[name])
        return tr("{title} ({unit})", title=title, unit=unit) if unit else title

    def _control(self, name: str) -> QWidget:
        empty = _hint(name)
        if name in QUANTITIES:
            number = QuantityField(QUANTITIES[name], empty)
            if QUANTITIES[name] is not NUMBER:
                number.setProperty("unitText", self._draft.display.symbol(QUANTITIES[name]))
            number.entered.connect(self._on_entered)
            return number
        if name in FLAGS or name == "kind":
            choice = ChoiceField(_choices(name))
            choice.chosen.connect(self._on_chosen)
            return choice
        if name in _LINES:
            lines = LinesField()
            lines.setPlaceholderText(empty)
            lines.textChanged.connect(self._on_lines)
            return lines
        line = QLineEdit()
        line.setPlaceholderText(empty)
        line.textEdited.connect(self._on_text)
        return line

    # --- showing ---

    def show_stated(self) -> None:
        """Show what the draft states, wherever nothing is typed."""
        for name, row in self.rows.items():
            if name not in self._draft.typed:
                self._show(name, row.field)
        self._name_height()

    def _show(self, name: str, control: QWidget) -> None:
        draft = self._draft
        if isinstance(control, QuantityField):
            control.show_entry(draft.quantity(name), draft.display)
        elif isinstance(control, ChoiceField):
            control.show_value(draft.stated.get(name))  # type: ignore[arg-type]
        elif isinstance(control, LinesField):
            control.show_text(draft.text(name))
        elif isinstance(control, QLineEdit):
            control.setText(draft.text(name))

    def _name_height(self) -> None:
        self.rows["height"].rename(self._label("height"))

    def show_problems(self, problems: Mapping[str, str]) -> None:
        """Say beside each field what is wrong with it."""
        for name, row in self.rows.items():
            echo = row.field.echo() if isinstance(row.field, QuantityField) else ""
            row.show_problem(problems.get(name, ""), echo)

    def text_of(self, name: str) -> str:
        """What the file states for a field, as a person reads it."""
        value = self._draft.stated.get(name)
        if name in FLAGS or name == "kind":
            return _choices(name)[value]
        return self._draft.text(name) or tr("not stated")

    def first_of(self, problems: Mapping[str, str]) -> str:
        """The first of these fields, as one reads."""
        return next(name for name in self.rows if name in problems)

    def focus_on(self, name: str) -> None:
        """Go to a field, and bring it into view with its message."""
        field = self.rows[name].field
        field.setFocus(Qt.FocusReason.OtherFocusReason)
        if isinstance(field, QLineEdit):
            field.selectAll()
        self._bring_into_view(field)

    def _on_focus(self, _old: QWidget | None, now: QWidget | None) -> None:
        """Follow the focus wherever it comes from: Qt does so only for Tab between two fields."""
        if now is not None and self._body.isAncestorOf(now):
            self._bring_into_view(now)

    def _bring_into_view(self, field: QWidget) -> None:
        row = self.rows.get(field.objectName())
        if row is not None and row.message.isVisible():
            self.ensureWidgetVisible(row.message, 0, theme.TIGHT)
        self.ensureWidgetVisible(field, 0, theme.TIGHT)

    # --- what a person does ---

    def _on_entered(self, entry: Any, _episode: int) -> None:
        control = self.sender()
        if isinstance(control, QuantityField):
            self._edit(control.objectName(), entry, control.text())

    def _on_text(self, text: str) -> None:
        self._edit(self.sender().objectName(), text, text)

    def _on_lines(self) -> None:
        control = self.sender()
        if isinstance(control, LinesField):
            self._edit(control.objectName(), control.text(), control.text())

    def _edit(self, name: str, entry: Any, text: str) -> None:
        """What reads as before counts as not touched, so that no value drifts by its rounding."""
        if text == self._draft.text(name):
            self._draft.forget(name)
        else:
            self._draft.enter(name, entry)
        self._after_edit(name)

    def _on_chosen(self, value: Any) -> None:
        name = self.sender().objectName()
        if value == self._draft.stated.get(name):
            self._draft.forget(name)
        else:
            self._draft.enter(name, value)
        self._after_edit(name)

    def _after_edit(self, name: str) -> None:
        if name == "name" and "id" not in self._draft.typed:
            self._show("id", self.rows["id"].field)
        elif name == "kind":
            self._name_height()
        self.edited.emit()

    # --- size ---

    def one_column(self) -> int:
        """The least width: one column, and the bar at its side."""
        return max(self._least_widths()) + self._around()

    def two_columns(self) -> int:
        """The least width at which the columns stand side by side."""
        return sum(self._least_widths()) + self._sides.spacing() + self._around()

    def _least_widths(self) -> list[int]:
        return [column.minimumSize().width() for column in self._columns]

    def _around(self) -> int:
        return theme.NEAR + self._bar()

    def _bar(self) -> int:
        return self.verticalScrollBar().sizeHint().width()

    def _on_range(self, _least: int, most: int) -> None:
        """Keep the room of the scroll bar free while there is none, so that nothing moves."""
        self._sides.setContentsMargins(0, 0, theme.NEAR + (0 if most else self._bar()), 0)

    def sizeHint(self) -> QSize:
        """All fields side by side."""
        return QSize(self.two_columns(), self._body.sizeHint().height())

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Put the columns one above the other where they have no room side by side."""
        super().resizeEvent(event)
        self._arrange()
        self._on_focus(None, QApplication.focusWidget())  # what is told below takes room from it

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Follow the fields' width when the font grows."""
        if watched is self._body and event.type() == QEvent.Type.LayoutRequest:
            self.setMinimumWidth(self.one_column())
            self._arrange()
        elif watched is self._body and event.type() == QEvent.Type.Show:
            # Qt tells a widget nothing of a new size between its first layout and its showing.
            self._sides.update()
        return super().eventFilter(watched, event)

    def _arrange(self) -> None:
        # By its own width, not the viewport's: that depends on the bar, and so on the answer.
        beside = self.width() >= self.two_columns()
        wanted = QBoxLayout.Direction.LeftToRight if beside else QBoxLayout.Direction.TopToBottom
        if self._sides.direction() != wanted:
            self._sides.setDirection(wanted)


def _hint(name: str) -> str:
    """What stands in an empty field: that it may be empty, or how it is written."""
    if name == "date":
        return tr("year-month-day")
    return tr("not stated") if name in OPTIONAL and name != "notes" else ""


def _choices(name: str) -> dict[Any, str]:
    if name == "kind":
        return {None: tr("choose one"), **kind_titles()}
    return {None: tr("not stated"), True: tr("yes"), False: tr("no")}
