"""How a cell of the price list is edited and drawn."""

from __future__ import annotations

from PySide6.QtCore import QModelIndex, QObject, QPersistentModelIndex
from PySide6.QtGui import QColor, QPainter, QPen
from PySide6.QtWidgets import (
    QLineEdit,
    QStyle,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QWidget,
)

from workbench.gui import theme
from workbench.gui.fields.choice_field import ChoiceField
from workbench.gui.models.prices_model import Column, PricesModel
from workbench.job.paper_choices import item_kinds
from workbench.job.texts import LONGEST_TEXT
from workbench.words import tr

Index = QModelIndex | QPersistentModelIndex


class Cells(QStyledItemDelegate):
    """A field for texts and numbers, a list for the kind, a frame around the current cell.

    What stands in a field is taken by Enter, Tab or leaving it; Escape leaves the cell as it was.
    """

    def __init__(self, model: PricesModel, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._model = model

    def createEditor(self, parent: QWidget, _option: QStyleOptionViewItem, index: Index) -> QWidget:
        """The field of a cell, named as its item and its column."""
        column = Column(index.column())
        heading, item = self._model.heading(column), self._model.name(index.row())
        name = tr("{item}, {column}", item=item, column=heading)
        if column is Column.KIND:
            choice = ChoiceField({k: c.label for k, c in item_kinds().items()}, parent)
            choice.setAccessibleName(name)
            return choice
        field = QLineEdit(parent)
        field.setFrame(False)
        field.setAutoFillBackground(True)
        field.setMaxLength(LONGEST_TEXT)
        field.setAccessibleName(name)
        if column is Column.QUANTITY:
            field.setPlaceholderText(self._model.counted(index.row()))
        return field

    def setEditorData(self, editor: QWidget, index: Index) -> None:
        """What was typed stands in the field."""
        if isinstance(editor, ChoiceField):
            editor.show_value(self._model.kind(index.row()))
        elif isinstance(editor, QLineEdit) and not editor.isModified():
            editor.setText(self._model.typed(index.row(), Column(index.column())))
            editor.selectAll()

    def setModelData(self, editor: QWidget, _model: QObject, index: Index) -> None:
        """Take what stands in the field."""
        if isinstance(editor, ChoiceField):
            self._model.setData(index, editor.value_at(editor.currentIndex()))
        elif isinstance(editor, QLineEdit):
            self._model.setData(index, editor.text())

    def updateEditorGeometry(
        self, editor: QWidget, option: QStyleOptionViewItem, _index: Index
    ) -> None:
        """The cell, wider where the list of kinds needs it."""
        place = option.rect
        if isinstance(editor, ChoiceField):
            place.setWidth(max(place.width(), editor.sizeHint().width()))
        editor.setGeometry(place)

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        """The cell, and around the current one a frame: its colour alone is faint."""
        super().paint(painter, option, index)
        if option.state & QStyle.StateFlag.State_HasFocus:
            painter.save()
            painter.setPen(QPen(QColor(theme.current().accent), theme.RING_WIDTH - 1))
            inside = option.rect
            painter.drawRect(inside.adjusted(1, 1, -1, -1))
            painter.restore()
