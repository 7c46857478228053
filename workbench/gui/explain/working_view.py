"""The working of a figure as text that can be selected, step after step."""

from __future__ import annotations

from collections.abc import Iterable
from html import escape

from PySide6.QtCore import QSize, Qt
from PySide6.QtWidgets import QTextBrowser, QWidget

from workbench.gui import theme
from workbench.study.explain.explanation import Explanation
from workbench.study.working import Step
from workbench.words import tr

_WIDE, _LINES = 36, 4  # digits and lines that are seen at least


class WorkingView(QTextBrowser):
    """Tells the steps; the arrow keys scroll, and the mouse or Shift with them selects."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAccessibleName(tr("Working"))
        self.setProperty("userText", True)  # noqa: FBT003 - Qt's own signature
        self.setTabChangesFocus(True)
        self.setOpenLinks(False)
        self.setTextInteractionFlags(
            Qt.TextInteractionFlag.TextSelectableByMouse
            | Qt.TextInteractionFlag.TextSelectableByKeyboard
        )

    def show_working(self, told: Explanation) -> None:
        """Show the steps of a figure."""
        parts = [*_told(told.steps)]
        if told.beside:
            parts += [f"<h4>{escape(tr('Beside it'))}</h4>", *_told(told.beside)]
        self._show("".join(parts))

    def show_words(self, words: str) -> None:
        """Say why there is no working."""
        self._show(f"<p>{escape(words)}</p>")

    def _show(self, html: str) -> None:
        """Another text begins at its top; the same one stays as it was read."""
        if self.property("told") != html:
            self.setProperty("told", html)
            self.setHtml(html)

    def minimumSizeHint(self) -> QSize:
        """A few lines."""
        height = self.fontMetrics().lineSpacing() * _LINES
        return QSize(theme.width_of(self, _WIDE), height)


def _told(steps: Iterable[Step]) -> Iterable[str]:
    for step in steps:
        source = tr("Source: {source}", source=step.source)
        lines = (step.formula, step.numbers, source)
        text = "<br>".join(escape(line) for line in lines if line)
        yield f"<p><b>{escape(step.title)}</b><br>{text}</p>"
