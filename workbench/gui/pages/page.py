"""What every page has in common: inputs left, results right, shown only while they are seen."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Set
from typing import TYPE_CHECKING, Any

from PySide6.QtCore import QPoint, QRect, Qt
from PySide6.QtGui import QKeyEvent, QShowEvent, QUndoStack
from PySide6.QtWidgets import (
    QAbstractSlider,
    QApplication,
    QFrame,
    QHBoxLayout,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from workbench.gui import theme
from workbench.gui.pages.abreast import Abreast
from workbench.gui.pages.inputs import Groups, InputsPanel
from workbench.gui.store import Store
from workbench.words import tr

if TYPE_CHECKING:
    from workbench.study.evaluate import Results
    from workbench.study.findings import Finding
    from workbench.units import Display


class LazyPage(QWidget):
    """A page that shows what the store holds while it is seen, and else when it is next seen.

    ``refresh`` is to be overridden. ``areas`` are the page's scroll areas, in which the focus is
    followed; ``first_field`` is where a person begins.
    """

    def __init__(self, store: Store, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.store = store
        self.areas: tuple[QScrollArea, ...] = ()
        self.first_field: QWidget | None = None
        self.is_stale = True
        store.changed.connect(self.show_results)
        app = QApplication.instance()
        if isinstance(app, QApplication):
            app.focusChanged.connect(self._follow_focus)

    def refresh(self) -> None:
        """Show what the store holds now; ``store.results`` is None before the first frame."""
        raise NotImplementedError

    @property
    def input_names(self) -> Set[str]:
        """To override: the job's entries that can be edited here."""
        return frozenset()

    @property
    def undo_stack(self) -> QUndoStack:
        """To override: whose steps Undo takes back while this page is shown; the job's."""
        return self.store.undo_stack

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Page Up and Page Down, where no field wants them, leaf through the results."""
        steps = {
            Qt.Key.Key_PageUp: QAbstractSlider.SliderAction.SliderPageStepSub,
            Qt.Key.Key_PageDown: QAbstractSlider.SliderAction.SliderPageStepAdd,
        }
        if event.key() in steps and self.areas:
            self.areas[-1].verticalScrollBar().triggerAction(steps[Qt.Key(event.key())])
            return
        super().keyPressEvent(event)

    def show_results(self) -> None:
        """Show what the store holds, at once or as soon as the page is seen again."""
        self.is_stale = not self.isVisible()
        if not self.is_stale:
            self.refresh()

    def showEvent(self, event: QShowEvent) -> None:
        """Catch up with what has changed since the page was last seen."""
        super().showEvent(event)
        if self.is_stale:
            self.is_stale = False
            self.refresh()

    def enter(self) -> None:
        """Put the focus where it last was on this page, or where a person begins."""
        for widget in (self.focusWidget(), self.first_field):
            if widget is not None and widget.isVisibleTo(self) and widget.isEnabled():
                widget.setFocus(Qt.FocusReason.OtherFocusReason)
                return

    def _follow_focus(self, _old: QWidget | None, now: QWidget | None) -> None:
        """Scroll what gets the focus into sight with its message, but not from under the mouse."""
        if now is None or QApplication.mouseButtons() != Qt.MouseButton.NoButton:
            return
        for area in self.areas:
            content = area.widget()
            if content is not None and content.isAncestorOf(now):
                _bring_into_sight(area, content, now)


def _bring_into_sight(area: QScrollArea, content: QWidget, one: QWidget) -> None:
    """Scroll until the whole of a widget is seen, or as much of it as there is room for.

    Qt's own way sees to the cursor of a field alone, and may cut its frame.
    """
    place = QRect(one.mapTo(content, QPoint(0, 0)), one.size())
    room = area.viewport().size()
    area.ensureVisible(
        place.center().x(),
        place.center().y(),
        min(place.width() + 1, room.width()) // 2,
        min(place.height() + 1 + theme.WIDE * 4, room.height()) // 2,
    )


class Page(LazyPage):
    """Inputs of some groups at the left, a column of results at the right, in a scroll area.

    A page puts its widgets into ``column`` from top to bottom, each made with the parent
    ``results``: answer, messages, picture, tables; and ends with ``column.addStretch(1)`` unless
    something in it takes all the height. It overrides :meth:`present`, and where it must
    :meth:`arrange_inputs` and :meth:`findings`.
    """

    def __init__(self, store: Store, groups: Groups, parent: QWidget | None = None) -> None:
        super().__init__(store, parent)
        self.inputs = InputsPanel(store, groups, self, along=self.along)
        self._scroll, self.results = results_area(self)
        self.column = QVBoxLayout(self.results)
        self.column.setContentsMargins(0, 0, theme.CLOSE, 0)
        self.column.setSpacing(theme.NEAR)
        self._scroll.setWidget(self.results)
        lay_out_sides(self, self.inputs, self._scroll)
        self.areas = (self.inputs, self._scroll)
        first = next(iter(self.inputs.rows.values()), None)
        self.first_field = first.field if first is not None else None

    @property
    def input_names(self) -> Set[str]:
        """Those that have a row."""
        return self.inputs.rows.keys()

    def add_abreast(self, *widgets: QWidget) -> None:
        """Put widgets, such as two answers, into the column: side by side if it is wide enough."""
        self.column.addWidget(Abreast(*widgets, parent=self.results))

    def refresh(self) -> None:
        """Arrange the inputs, show what they hold with the findings, then the results."""
        results = self.store.results
        self.arrange_inputs()
        self.inputs.show_job(() if results is None else self.findings(results))
        if results is not None:
            self.present(results, self.store.display)

    def along(self, _name: str) -> Mapping[str, Any]:
        """To override: what changes together with an entry that is edited here."""
        return {}

    def arrange_inputs(self) -> None:
        """To override: which rows stand now (``inputs.set_row_visible``) or are locked.

        ``store.results`` may be None.
        """

    def findings(self, results: Results) -> Iterable[Finding]:
        """To override: the findings that are shown beside this page's fields."""
        return results.findings

    def present(self, results: Results, display: Display) -> None:
        """To override: show the results in these units."""


def results_area(page: QWidget) -> tuple[QScrollArea, QWidget]:
    """The scroll area of a page's results, and the widget that is to be put into it."""
    area = QScrollArea(page)
    area.setFrameShape(QFrame.Shape.NoFrame)
    area.setWidgetResizable(True)
    area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
    area.setAccessibleName(tr("Results"))
    return area, QWidget(area.viewport())


def lay_out_sides(page: QWidget, inputs: QWidget, results: QWidget) -> None:
    """Put inputs and results side by side, the results taking what room there is."""
    row = QHBoxLayout(page)
    row.setContentsMargins(theme.CLOSE, theme.CLOSE, theme.CLOSE, theme.CLOSE)
    row.setSpacing(theme.NEAR)
    row.addWidget(inputs)
    row.addWidget(results, 1)
