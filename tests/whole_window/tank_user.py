"""A person at the form for one tank: opens it over a file of their own, types, presses, reads."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QFileDialog, QLabel, QLineEdit, QPushButton, QWidget
from pytestqt.qtbot import QtBot

from workbench import safe_file
from workbench.catalog.table import read_catalog
from workbench.catalog.tank import Tank
from workbench.gui.fields.choice_field import ChoiceField
from workbench.gui.tank_form import TankForm
from workbench.gui.tank_form.draft import FIELDS
from workbench.units import Display

HEADER = (
    "id,name,kind,total_volume_l,acceptance_l,diameter_cm,height_cm,connection,"
    "max_working_pressure_bar,factory_precharge_bar,highest_precharge_bar,empty_weight_kg,"
    "potable_listed,price_usd,in_stock,notes,source,date,shelf\r\n"
)
ASH = (
    "ash-70,Ash 70,bladder vertical,70.0,59.9,36.8,76.3,1,8.6,2.6,4.8,15.4,Yes,207.50,y,"
    '"two lines,\r\nthe second",sheet 3,2026-03-15,B4\r\n'
)
BAD = "old-1,Old one,bladder vertical,seventy,,40,80,1,8.6,2.6,,,,,,,,,\r\n"
ELM = "elm-90,Elm 90,diaphragm horizontal,90,,41,82.5,1-1/4,8.6,2.6,,,,,,,,,C1\r\n"
FILE = HEADER + ASH + BAD + ELM

NEW = {  # what a person types for a new tank, in the order of the form
    "name": "Oak 33 H",
    "kind": "bladder, horizontal",
    "total_volume": "33",
    "diameter": "16 in",
    "height": "95 cm",
    "max_working_pressure": "150 psi",
    "factory_precharge": "2.6 bar",
    "price": "310.50",
}


class TankUser:
    """Works one form over ``file``; ``told`` is what the form has emitted."""

    def __init__(self, qtbot: QtBot, folder: Path, content: str = FILE) -> None:
        self.qtbot = qtbot
        self.file = folder / "our-tanks.csv"
        self.file.write_bytes(content.encode())
        self.told: list[object] = []
        self.window = QWidget()
        qtbot.addWidget(self.window)
        self.window.show()

    def open(self, tank_id: str | None = None, display: Display | None = None) -> TankForm:
        """Open the form as the window does."""
        form = TankForm(read_catalog(self.file), tank_id, display or Display(), self.window)
        form.saved.connect(self._on_saved)
        form.saved_elsewhere.connect(self.told.append)
        form.open()
        self.qtbot.waitExposed(form)
        form.activateWindow()
        self.qtbot.waitUntil(lambda: QApplication.activeWindow() is form)
        self.form = form
        return form

    def _on_saved(self) -> None:
        self.told.append("saved")

    # --- the file ---

    @property
    def data(self) -> bytes:
        """What the file holds now."""
        return self.file.read_bytes()

    def tank(self, tank_id: str) -> Tank:
        """A tank as it is read from the file now."""
        return read_catalog(self.file).by_id[tank_id]

    # --- typing ---

    def field(self, name: str) -> Any:
        return self.form.findChild(QWidget, name)

    def key(self, key: Qt.Key) -> None:
        """Strike a key where the focus is."""
        QTest.keyClick(self.form.focusWidget(), key)

    def keys(self, name: str) -> None:
        """Strike keys together, such as "Ctrl+Z", where the focus is."""
        QTest.keySequence(self.form.focusWidget(), name)

    def enter(self, name: str, text: str) -> None:
        """Click a field and type over what is there; or walk through a list."""
        control = self.field(name)
        self.form.panel.ensureWidgetVisible(control)
        control.setFocus(Qt.FocusReason.MouseFocusReason)
        if isinstance(control, ChoiceField):
            self._walk_to(control, text)
            return
        self.keys("Ctrl+A")
        self.key(Qt.Key.Key_Delete)
        QTest.keyClicks(control, text)

    def _walk_to(self, control: ChoiceField, text: str) -> None:
        place = control.findText(text)
        assert place >= 0, f"no choice {text!r}"
        while control.currentIndex() != place:
            self.key(Qt.Key.Key_Down if control.currentIndex() < place else Qt.Key.Key_Up)

    def enter_all(self, texts: dict[str, str]) -> None:
        for name, text in texts.items():
            self.enter(name, text)

    def press(self, name: str) -> None:
        """Click a button that is there now."""
        button = self.form.findChild(QPushButton, name)
        assert button.isVisible(), f"there is no button {name!r} now"
        QTest.mouseClick(button, Qt.MouseButton.LeftButton)

    def choose_elsewhere(self, path: Path) -> None:
        """Put a name into the file dialog that the button opens, and confirm it."""
        self.press("elsewhere")
        chooser = self.form.findChild(QFileDialog)
        assert chooser.isVisible()
        line = chooser.findChild(QLineEdit, "fileNameEdit")
        line.setText(
            str(path)
        )  # typed, a list of matches would open, and no test has a place for it
        QTest.keyClick(line, Qt.Key.Key_Return)

    # --- reading ---

    def offers(self, button: str) -> bool:
        """Whether a button is there now."""
        return bool(self.form.findChild(QPushButton, button).isVisible())

    @property
    def notice(self) -> str:
        """What stands above the buttons."""
        return self.form.findChild(QLabel, "notice").text().strip()

    def problem(self, name: str) -> str:
        """What is told beneath a field, to be seen and to be heard."""
        row = self.form.panel.rows[name]
        if not row.message.isVisible() or row.message.property("role") != "problem":
            return ""
        assert row.field.accessibleDescription() == row.message.text()
        return str(row.message.text())

    @property
    def problems(self) -> set[str]:
        """The fields beneath which a problem stands."""
        return {name for name in FIELDS if self.problem(name)}

    def shown(self, name: str) -> str:
        """What stands in a field."""
        control = self.field(name)
        return str(control.currentText() if isinstance(control, ChoiceField) else control.text())

    def label(self, name: str) -> str:
        """What stands before a field."""
        return str(self.form.panel.rows[name].label.text())


def disk_full(_path: Path, _data: bytes) -> None:
    """What to put in the place of a save that shall fail."""
    raise safe_file.SaveError("“our-tanks.csv” could not be saved: the disk is full.", "Make room.")
