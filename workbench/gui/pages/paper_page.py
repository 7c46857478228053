"""A page whose result is a paper: its inputs left, the paper as it will be printed right."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtWidgets import QApplication, QHBoxLayout, QLabel, QPushButton, QWidget

from workbench.gui import theme
from workbench.gui.explain.figure import Figure
from workbench.gui.explain.painted import PaintedFigures
from workbench.gui.pages.abreast import Abreast
from workbench.gui.pages.inputs import Groups
from workbench.gui.pages.page import Page
from workbench.gui.paper.preview import PaperPreview
from workbench.gui.paper.printing import print_paper
from workbench.gui.paper.saving import save_pdf, suggested_name
from workbench.gui.store import Store
from workbench.report.blocks import PaperContent
from workbench.units import Display
from workbench.words import tr

if TYPE_CHECKING:
    from workbench.study.evaluate import Results


class PaperPage(Page):
    """Shows what :meth:`content` makes of the results, saves it, prints it, copies it as text.

    A page that shows more puts its widgets into ``column``; the preview takes what height is left.
    ``results`` and ``display`` are always the store's present ones, so no paper is older than its
    inputs.
    """

    def __init__(self, store: Store, groups: Groups, parent: QWidget | None = None) -> None:
        super().__init__(store, groups, parent)
        self._content: PaperContent | None = None
        self.save_button = self._button(tr("Save PDF …"), self.save)
        self.print_button = self._button(tr("Print …"), self.give_to_printer)
        self.copy_button = self._button(tr("Copy as text"), self.copy)
        self._buttons = (self.save_button, self.print_button, self.copy_button)
        theme.set_role(self.save_button, "primary")
        self.done = QLabel(self.results)
        self.done.setWordWrap(True)
        self.done.setProperty("userText", True)  # noqa: FBT003 - Qt's own signature
        theme.set_role(self.done, "note")
        self.done.hide()
        self.preview = PaperPreview(self.results)
        self.preview.settled.connect(self._bar_buttons)
        PaintedFigures(self.preview, self._figures)
        row = QHBoxLayout()
        row.addWidget(Abreast(*self._buttons, parent=self.results))
        row.addStretch(1)
        self.column.addLayout(row)
        self.column.addWidget(self.done)
        self.column.addWidget(self.preview, 1)

    def content(self, results: Results, display: Display) -> PaperContent | str:
        """To override: the paper, or in words why there is none."""
        raise NotImplementedError

    def figures(self, results: Results, display: Display) -> Iterable[Figure]:  # noqa: ARG002
        """To override: the figures on the paper that can be explained, while there is one."""
        return ()

    def _figures(self) -> Iterable[Figure]:
        results = self.store.results
        if results is None or self._content is None:
            return ()
        return self.figures(results, self.store.display)

    def present(self, results: Results, display: Display) -> None:
        """Show the paper that these results make."""
        made = self.content(results, display)
        if made != self._content:
            self.done.hide()  # it spoke of another paper
        if isinstance(made, str):
            self._content = None
            self.preview.show_words(made)
            return
        self._content = made
        self.preview.show_content(made)

    # --- what the buttons do ---

    def save(self) -> None:
        """Ask for a file and write the PDF."""
        if self._content is None:
            return
        name = suggested_name(self._content.title, self.store.job.customer_name)
        path = save_pdf(self, self._content, self._folder(), name)
        if path is not None:
            self._tell(tr("Saved as {name}.", name=path.name))

    def give_to_printer(self) -> None:
        """Ask for a printer and print."""
        if self._content is not None and print_paper(self, self._content):
            self._tell(tr("Given to the printer."))

    def copy(self) -> None:
        """Put the paper's text where other programs can paste it."""
        from workbench.report.plain_text import plain_text

        if self._content is not None:
            QApplication.clipboard().setText(plain_text(self._content))
            self._tell(tr("Copied; paste it into an e-mail."))

    def _folder(self) -> Path:
        return self.store.path.parent if self.store.path else Path.home()

    def _tell(self, text: str) -> None:
        self.done.setText(text)
        self.done.show()

    def _button(self, text: str, does: Callable[[], None]) -> QPushButton:
        button = QPushButton(text, self.results)
        button.clicked.connect(does)
        return button

    def _bar_buttons(self, why: str) -> None:
        """Bar the buttons with the reason, which stands in the paper's place; "" opens them."""
        for button in self._buttons:
            button.setEnabled(not why)
            button.setAccessibleDescription(why)
