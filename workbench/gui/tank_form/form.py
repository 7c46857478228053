"""The window of the form: it tells what is wrong, saves, and asks before it throws typing away.

Nothing opens over it but the choice of a file: what it has to say stands above its buttons.
"""

from __future__ import annotations

from pathlib import Path
from typing import NamedTuple

from PySide6.QtCore import QSize, QStandardPaths, Qt, Signal
from PySide6.QtGui import QAccessible, QAccessibleAnnouncementEvent, QKeyEvent, QKeySequence
from PySide6.QtWidgets import (
    QDialog,
    QFileDialog,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QSizePolicy,
    QVBoxLayout,
    QWidget,
)

from workbench import paths
from workbench.catalog.headers import titles
from workbench.catalog.problems import CatalogChangedError, CatalogError
from workbench.catalog.table import Catalog, read_catalog
from workbench.catalog.tank import Tank
from workbench.catalog.writing import save
from workbench.gui import theme
from workbench.gui.fields.quantity_field import QuantityField
from workbench.gui.tank_form.draft import Draft
from workbench.gui.tank_form.panel import TankPanel
from workbench.safe_file import FileError, SaveError
from workbench.units import Display
from workbench.words import tr


class _Said(NamedTuple):
    """What stands above the buttons, and the buttons that it brings along."""

    role: str = "muted"
    text: str = ""
    buttons: tuple[QPushButton, ...] = ()


class TankForm(QDialog):
    """Corrects the tank ``tank_id`` of a catalogue, or adds one if that is None; ``open()`` it.

    ``saved`` is emitted once the catalogue's file holds the tank, ``saved_elsewhere`` with the path
    of another catalogue file that was written in its stead.
    """

    saved = Signal()
    saved_elsewhere = Signal(object)

    def __init__(
        self, catalog: Catalog, tank_id: str | None, display: Display, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.draft = Draft(catalog, tank_id, display)
        self.panel = TankPanel(self.draft)
        self._tried = False  # to save: from then on empty fields are told, too
        self._asking = False
        self._was_at: QWidget | None = None  # before it asked
        self._said = _Said()
        self._build_buttons()
        self._lay_out()
        self.panel.edited.connect(self._on_edited)
        self._name_window()
        self._say_about_file()
        self._refresh()
        self.panel.focus_on("name")
        self.resize(self.sizeHint())

    # --- building ---

    def _build_buttons(self) -> None:
        self._again = self._button(tr("Read the file &again"), "again")
        self._again.clicked.connect(self._read_again)
        self._elsewhere = self._button(tr("Save a cop&y elsewhere …"), "elsewhere")
        self._elsewhere.clicked.connect(self._choose_elsewhere)
        self._discard = self._button(tr("&Discard"), "discard")
        self._discard.clicked.connect(self._leave)
        self._keep = self._button(tr("&Keep typing"), "keep")
        self._keep.clicked.connect(self._go_on)
        self._cancel = self._button(tr("&Cancel"), "cancel")
        self._cancel.clicked.connect(self.reject)
        self._save = self._button(tr("&Save"), "save")
        self._save.clicked.connect(self._try_to_save)
        self._save.setDefault(True)
        theme.set_role(self._save, "primary")

    def _button(self, text: str, name: str) -> QPushButton:
        button = QPushButton(text, self)
        button.setObjectName(name)
        return button

    def _lay_out(self) -> None:
        self._place = QLabel()
        theme.set_role(self._place, "muted")
        self._notice = QLabel()
        self._notice.setObjectName("notice")
        for label in (self._place, self._notice):
            label.setWordWrap(True)
            label.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Minimum)
        line = QHBoxLayout()
        line.setSpacing(theme.CLOSE)
        for button in (self._again, self._elsewhere):
            line.addWidget(button)
        line.addStretch(1)
        for button in (self._discard, self._keep, self._cancel, self._save):
            line.addWidget(button)
        column = QVBoxLayout(self)
        column.setContentsMargins(theme.APART, theme.NEAR, theme.APART, theme.NEAR)
        column.setSpacing(theme.NEAR)
        column.addWidget(self._place)
        column.addWidget(self.panel, 1)
        column.addWidget(self._notice)
        column.addLayout(line)
        # The tab order is that of creation, and the panel was made before the buttons.
        self._show_buttons(())

    def _name_window(self) -> None:
        draft, path = self.draft, self.draft.catalog.path
        title = tr("Add a tank")
        if draft.tank_id is not None:
            title = tr("Correct “{name}”", name=draft.stated["name"] or draft.tank_id)
        self.setWindowTitle(title)
        self._place.setText(tr(
            "A number alone counts in the unit beside its name; another unit may be typed with it."
            " Saved in “{name}”.", name=path.name))  # fmt: skip
        self._place.setToolTip(tr("The catalogue is {path}.", path=path))

    def sizeHint(self) -> QSize:
        """All fields, as far as the screen has room."""
        hint = super().sizeHint()
        most = self.screen().availableSize() - QSize(theme.WIDE, theme.WIDE * 2)  # its frame
        if hint.width() > most.width():
            rest = hint.width() - self.panel.two_columns()
            hint.setWidth(rest + self.panel.one_column())
        return hint.boundedTo(most)

    # --- what it says ---

    def _say(self, role: str = "muted", text: str = "", *buttons: QPushButton) -> None:
        self._said = _Said(role, text, buttons)
        self._asking = False
        self._show_said(self._said)
        self._show_buttons((*buttons, self._cancel, self._save))

    def _show_said(self, said: _Said) -> None:
        theme.set_role(self._notice, said.role)
        self._notice.setText(said.text or " ")  # an empty line, so that nothing moves later
        if said.text and QAccessible.isActive():
            event = QAccessibleAnnouncementEvent(self._notice, said.text)
            QAccessible.updateAccessibility(event)

    def _show_buttons(self, shown: tuple[QPushButton, ...]) -> None:
        focused = self.focusWidget()
        for button in (
            self._again, self._elsewhere, self._discard, self._keep, self._cancel, self._save,
        ):  # fmt: skip
            button.setVisible(button in shown)
        if isinstance(focused, QPushButton) and focused not in shown and self._save in shown:
            self._save.setFocus()

    def _say_about_file(self) -> None:
        """What is known before anything is typed."""
        draft = self.draft
        if draft.catalog.problems:
            text = tr("“{name}” must be mended before a tank can be put in: {problem}",
                      name=draft.catalog.path.name, problem=draft.catalog.problems[0])  # fmt: skip
            self._say("problem", text, self._again)
        elif draft.tank_id is not None and draft.row is None:
            self._say("caution", self._row_is_gone(), self._again)
        elif draft.row is not None and draft.row.tank is None:
            text = tr("The tank's row in the file cannot be used: {problem} Saving puts these"
                      " values in its place.", problem=draft.row.problems[0])  # fmt: skip
            self._say("caution", text, self._again)
        else:
            self._say()

    def _row_is_gone(self) -> str:
        return tr(
            "The file has no tank with the id “{id}” any more. Saving adds it as a new row.",
            id=self.draft.tank_id,
        )

    # --- what a person does ---

    def _on_edited(self) -> None:
        self._refresh()
        if self._asking:
            self._go_on()
        elif not self._said.buttons:
            self._say()

    def _refresh(self) -> tuple[Tank | None, dict[str, str]]:
        """Check all, and tell it; until the first try to save, not what is merely empty yet."""
        tank, problems = self.draft.check()
        told = problems
        if not self._tried:
            blank = self.draft.is_untouched_blank
            told = {name: text for name, text in problems.items() if not blank(name)}
        self.panel.show_problems(told)
        return tank, problems

    def _checked(self) -> Tank | None:
        """The tank, if it may be saved; or else go to what is wrong first."""
        self._tried = True
        tank, problems = self._refresh()
        if tank is None:
            count = len(problems)
            text = tr("Not saved: one value is not right yet; beside it stands why.")
            if count > 1:
                text = tr("Not saved: {count} values are not right yet; beside each stands why.",
                          count=count)  # fmt: skip
            self._say("problem", text)
            self.panel.focus_on(self.panel.first_of(problems))
        return tank

    def _try_to_save(self) -> None:
        tank = self._checked()
        if tank is None:
            return
        catalog = self.draft.catalog
        if self.draft.is_as_in_file(tank):
            self.done(QDialog.DialogCode.Accepted)
        elif self._write(tank, catalog.path, catalog.digest):
            self.saved.emit()

    def _write(self, tank: Tank, path: Path, digest: str) -> bool:
        """Put the tank into a file and close, or tell why not. Return whether it is there now."""
        try:
            save(path, self.draft.put(tank), digest)
        except FileError as error:
            if isinstance(error, SaveError) and error.written:
                self._go_on_with(path, tank.id)
                self._say("caution", str(error))
                return True
            self._say_failed(error, path, digest)
            return False
        self.done(QDialog.DialogCode.Accepted)
        return True

    def _say_failed(self, error: FileError, path: Path, digest: str) -> None:
        remedy = error.remedy
        if isinstance(error, CatalogChangedError) and digest and path.exists():
            remedy = tr("Read the file again, look at what is other now, and save once more.")
        text = tr("Not saved. {why} {remedy}", why=error.message, remedy=remedy)
        # What is wrong with the tank or with the file would be so in a copy, too.
        copy = isinstance(error, SaveError) or not path.exists() or not digest
        if copy and self.draft.catalog.path.parent == paths.shipped_catalogs():
            text += " " + tr(
                "This is the demo catalogue that came with the program. Save a copy of it"
                " elsewhere, and choose that one for your work."
            )
        self._say("problem", text, self._again, *([self._elsewhere] if copy else []))

    def _go_on_with(self, path: Path, tank_id: str) -> None:
        """Show the tank as it is in the file now; nothing of it is typed any more."""
        self.draft.typed.clear()
        self.draft.tank_id = tank_id
        self._take_file(path)

    # --- the file, read again or another ---

    def _read_again(self) -> None:
        changed = self._take_file(self.draft.catalog.path)
        if changed is None:
            return
        self._say_about_file()
        if self._said.text:
            return
        names = titles()
        parts = [tr("Read again. What you typed still stands.")]
        if changed:
            listed = ", ".join(names[name] for name in changed)
            parts.append(tr("Others have changed: {fields}.", fields=listed))
        parts += [
            tr("In the file, {field} is now: {value}.", field=names[name],
               value=self.panel.text_of(name))
            for name in changed if name in self.draft.typed
        ]  # fmt: skip
        self._say("note", " ".join(parts))

    def _take_file(self, path: Path) -> list[str] | None:
        """Read a file; the fields whose values are other ones there, or None if it failed."""
        try:
            catalog = read_catalog(path)
        except CatalogError as error:
            self._say("problem", str(error), self._again, self._elsewhere)
            return None
        changed = self.draft.take(catalog)
        self.panel.show_stated()
        self._name_window()
        self._refresh()
        return changed

    def _choose_elsewhere(self) -> None:
        if self._checked() is None:
            return
        documents = QStandardPaths.StandardLocation.DocumentsLocation
        start = Path(QStandardPaths.writableLocation(documents)) / self.draft.catalog.path.name
        chooser = QFileDialog(
            self, tr("Save a copy of the catalogue"), str(start.parent), _csv_filter()
        )
        chooser.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        chooser.setAcceptMode(QFileDialog.AcceptMode.AcceptSave)
        chooser.setDefaultSuffix("csv")
        chooser.selectFile(start.name)
        # A file that is there already is refused below, so nobody need be asked about it.
        chooser.setOption(QFileDialog.Option.DontConfirmOverwrite)
        chooser.fileSelected.connect(self._save_elsewhere)
        chooser.open()

    def _save_elsewhere(self, name: str) -> None:
        tank = self._checked()
        if tank is not None and self._write(tank, Path(name), ""):
            self.saved_elsewhere.emit(Path(name))

    # --- keys, leaving ---

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Undo and redo in the field where one types: a QuantityField leaves both to its window."""
        field = self.focusWidget()
        if isinstance(field, QuantityField) and event.matches(QKeySequence.StandardKey.Undo):
            field.undo()
        elif isinstance(field, QuantityField) and event.matches(QKeySequence.StandardKey.Redo):
            field.redo()
        else:
            super().keyPressEvent(event)

    def reject(self) -> None:
        """Close; what was typed is thrown away only after a second word."""
        if self._asking:
            self._go_on()
        elif self.draft.typed:
            self._asking = True
            self._was_at = self.focusWidget()
            self._show_said(_Said("caution", tr("Discard what you typed?")))
            self._show_buttons((self._discard, self._keep))
            self._keep.setFocus()
        else:
            self._leave()

    def _go_on(self) -> None:
        self._say(self._said.role, self._said.text, *self._said.buttons)
        if self._was_at is not None:
            self._was_at.setFocus()

    def _leave(self) -> None:
        self.done(QDialog.DialogCode.Rejected)


def _csv_filter() -> str:
    return f"{tr('Catalogues')} (*.csv);;{tr('All files')} (*)"
