"""One start of a window, in a process of its own that ends at the moment it is asked for.

``python start_child.py WHAT``: see ``STARTS``. "prepare" is a whole first start that leaves its
settings behind, so that every later one is a second start.
"""

from __future__ import annotations

import os
import sys
from collections.abc import Callable
from pathlib import Path

sys.path[0] = str(Path(__file__).resolve().parents[2])  # the checkout, for workbench


def leave() -> None:
    """End at once: taking things down is no part of a start."""
    os._exit(0)


def empty_window() -> int:
    from PySide6.QtCore import QTimer
    from PySide6.QtGui import QPaintEvent
    from PySide6.QtWidgets import QApplication, QMainWindow

    class Window(QMainWindow):
        def paintEvent(self, event: QPaintEvent) -> None:
            super().paintEvent(event)
            QTimer.singleShot(0, leave)

    app = QApplication([])
    window = Window()
    window.resize(1366, 700)
    window.show()
    return app.exec()


def window_with_all_libraries() -> int:
    import pint
    import pydantic
    import pyqtgraph

    pint.UnitRegistry()
    assert pyqtgraph.PlotWidget
    assert pydantic.BaseModel  # loaded when asked for
    return empty_window()


def our_window(watch: Callable[[object], None]) -> int:
    """Start as the command does; ``watch`` is given the window before it is shown."""
    from workbench import __main__ as command
    from workbench.gui import app
    from workbench.gui.window import MainWindow

    class Window(MainWindow):
        def show(self) -> None:
            watch(self)
            super().show()

    app.MainWindow = Window  # type: ignore[misc]
    return command.main([])


def first_frame() -> int:
    def watch(window: object) -> None:
        window.painted.disconnect()  # what follows the first frame
        window.painted.connect(leave)

    return our_window(watch)


def all_drawn() -> int:
    return our_window(
        lambda window: window.page.completed.connect(lambda: after_paint(window, leave))
    )


def prepare() -> int:
    from PySide6.QtWidgets import QApplication

    def done(window: object) -> None:
        window.resize(1366, 700)
        window.close()
        QApplication.quit()

    return our_window(
        lambda window: window.page.completed.connect(
            lambda: after_paint(window, lambda: done(window))
        )
    )


def after_paint(window: object, then: Callable[[], None]) -> None:
    """Call ``then`` once plot and table have been painted again."""
    from PySide6.QtCore import QEvent, QObject, QTimer

    class Watcher(QObject):
        def __init__(self, parent: QObject, *left: QObject) -> None:
            super().__init__(parent)
            self._left = list(left)
            for widget in left:
                widget.installEventFilter(self)
                widget.update()

        def eventFilter(self, watched: QObject, event: QEvent) -> bool:
            if event.type() == QEvent.Type.Paint and watched in self._left:
                self._left.remove(watched)
                if not self._left:
                    QTimer.singleShot(0, then)
            return False

    Watcher(window, window.page.plot.viewport(), window.page.tanks.table.viewport())


STARTS = {
    "empty": empty_window,
    "first-frame": first_frame,
    "all-drawn": all_drawn,
    "libraries": window_with_all_libraries,
    "prepare": prepare,
}

if __name__ == "__main__":
    sys.exit(STARTS[sys.argv[1]]())
