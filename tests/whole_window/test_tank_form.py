"""The form for one tank, driven by keys and clicks: what is saved, what is told, what is kept."""

from __future__ import annotations

import dataclasses
import datetime
from decimal import Decimal
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QFileDialog, QLabel, QLineEdit, QPushButton, QWidget

from tests.whole_window.page_checks import check_page
from workbench import paths, safe_file
from workbench.catalog.table import read_catalog
from workbench.catalog.tank import TankKind
from workbench.gui.fields.choice_field import ChoiceField
from workbench.gui.tank_form import TankForm
from workbench.gui.tank_form.draft import FIELDS, suggested_id
from workbench.units import PRESSURE, VOLUME, Display, System, parse

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


@pytest.fixture
def file(tmp_path):
    path = tmp_path / "our-tanks.csv"
    path.write_bytes(FILE.encode())
    return path


@pytest.fixture
def opened(qtbot, file):
    """Opens the form as the window does, and notes what it emits."""

    def open_form(tank_id: str | None = None, display: Display | None = None) -> TankForm:
        window = QWidget()
        qtbot.addWidget(window)
        window.show()
        form = TankForm(read_catalog(file), tank_id, display or Display(), window)
        form.told = []
        form.saved.connect(lambda: form.told.append("saved"))
        form.saved_elsewhere.connect(form.told.append)
        form.open()
        qtbot.waitExposed(form)
        form.activateWindow()
        qtbot.waitUntil(lambda: QApplication.activeWindow() is form)
        return form

    return open_form


def field(form: TankForm, name: str) -> QWidget:
    return form.findChild(QWidget, name)


def enter(form: TankForm, name: str, text: str) -> None:
    """Go to a field by click, and type over what is there; or choose."""
    control = field(form, name)
    form.panel.ensureWidgetVisible(control)
    control.setFocus(Qt.FocusReason.MouseFocusReason)
    if isinstance(control, ChoiceField):
        for _ in range(control.count()):
            QTest.keyClick(control, Qt.Key.Key_Up)
        while control.currentText() != text:
            before = control.currentIndex()
            QTest.keyClick(control, Qt.Key.Key_Down)
            assert control.currentIndex() > before, f"{name} has no choice {text!r}"
        return
    QTest.keySequence(control, "Ctrl+A")
    QTest.keyClick(control, Qt.Key.Key_Delete)
    QTest.keyClicks(control, text)


def enter_all(form: TankForm, texts: dict[str, str]) -> None:
    for name, text in texts.items():
        enter(form, name, text)


def press(form: TankForm, name: str) -> None:
    button = form.findChild(QPushButton, name)
    assert button.isVisible(), f"there is no button {name!r} now"
    QTest.mouseClick(button, Qt.MouseButton.LeftButton)


def notice(form: TankForm) -> str:
    return form.findChild(QLabel, "notice").text().strip()


def problem(form: TankForm, name: str) -> str:
    row = form.panel.rows[name]
    if not row.message.isVisible() or row.message.property("role") != "problem":
        return ""
    assert row.field.accessibleDescription() == row.message.text()
    return row.message.text()


def problems(form: TankForm) -> set[str]:
    return {name for name in FIELDS if problem(form, name)}


def shown(form: TankForm, name: str) -> str:
    control = field(form, name)
    return control.currentText() if isinstance(control, ChoiceField) else control.text()


# -- what is saved --


def test_a_new_tank_becomes_one_more_row_and_no_other_byte_changes(opened, file):
    form = opened()
    enter_all(form, NEW)
    press(form, "save")
    assert form.told == ["saved"]
    data = file.read_bytes()
    assert data.startswith(FILE.encode())
    assert data.count(b"\n", len(FILE.encode())) == 1
    tank = read_catalog(file).by_id["oak-33-h"]
    assert tank.name == "Oak 33 H"
    assert tank.kind is TankKind.BLADDER_HORIZONTAL
    assert tank.total_volume == parse("33 gal", VOLUME).si
    assert tank.max_working_pressure == parse("150 psi", PRESSURE).si
    assert tank.factory_precharge == parse("2.6 bar", PRESSURE).si
    assert tank.price == Decimal("310.50")
    assert (tank.acceptance, tank.potable_listed, tank.in_stock, tank.date) == (None,) * 4
    assert file.with_name("our-tanks.csv.bak").read_bytes() == FILE.encode()


def test_every_value_can_be_typed_and_is_read_back(opened, file):
    form = opened()
    enter_all(form, NEW)
    enter_all(form, {
        "id": "OAK/33", "connection": "1-1/4", "acceptance": "20 gal", "empty_weight": "21 kg",
        "highest_precharge": "70 psi", "potable_listed": "yes", "in_stock": "no",
        "notes": "dented", "source": "sheet 9", "date": "2026-04-01",
    })  # fmt: skip
    press(form, "save")
    tank = read_catalog(file).by_id["OAK/33"]
    assert (tank.connection, tank.notes, tank.source) == ("1-1/4", "dented", "sheet 9")
    assert (tank.potable_listed, tank.in_stock) == (True, False)
    assert tank.date == datetime.date(2026, 4, 1)
    assert tank.acceptance == parse("20 gal", VOLUME).si
    assert tank.empty_weight == 21.0
    assert tank.highest_precharge == parse("70 psi", PRESSURE).si


@pytest.mark.parametrize("system", System)
def test_a_corrected_price_changes_that_cell_only_in_any_units(opened, file, system):
    before = read_catalog(file).by_id["ash-70"]
    form = opened("ash-70", Display(system))
    enter(form, "price", "219")
    press(form, "save")
    assert form.told == ["saved"]
    assert file.read_bytes() == FILE.replace("207.50", "219").encode()
    after = read_catalog(file).by_id["ash-70"]
    assert after == before.model_copy(update={"price": Decimal(219)})


def test_a_text_typed_away_and_back_again_is_no_change(opened, file):
    form = opened("ash-70", Display(System.US))
    text = shown(form, "total_volume")
    assert text == "18.49 gal"  # 70 L, rounded
    enter(form, "total_volume", "20 gal")
    enter(form, "total_volume", text)
    enter(form, "price", "219")
    press(form, "save")
    assert file.read_bytes() == FILE.replace("207.50", "219").encode()


def test_saving_without_a_change_writes_nothing(opened, file):
    form = opened("ash-70")
    press(form, "save")
    assert not form.isVisible()
    assert form.told == []
    assert file.read_bytes() == FILE.encode()
    assert not file.with_name("our-tanks.csv.bak").exists()


def test_values_are_shown_in_the_chosen_units_and_with_its_decimal_mark(opened, file):
    form = opened("ash-70", Display(System.METRIC, ","))
    assert shown(form, "total_volume") == "70,0 L" or shown(form, "total_volume") == "70 L"
    assert shown(form, "factory_precharge") == "260 kPa"
    assert shown(form, "diameter") == "368 mm"
    assert form.panel.rows["diameter"].label.text() == "Diameter (mm):"
    enter(form, "diameter", "36,75 cm")
    press(form, "save")
    assert read_catalog(file).by_id["ash-70"].diameter == pytest.approx(0.3675, rel=1e-15)


def test_a_corrected_id_stays_in_its_row(opened, file):
    form = opened("ash-70")
    enter(form, "id", "ash-70-v")
    press(form, "save")
    assert file.read_bytes() == FILE.replace("ash-70", "ash-70-v", 1).encode()


def test_enter_saves(opened, file):
    form = opened("ash-70")
    enter(form, "price", "219")
    QTest.keyClick(field(form, "price"), Qt.Key.Key_Return)
    assert form.told == ["saved"]


# -- the id --


def test_the_id_follows_the_name_until_one_is_typed(opened):
    form = opened()
    enter(form, "name", "Ash 70")
    assert shown(form, "id") == "ash-70-2"  # ash-70 is taken
    enter(form, "name", "Birch 9")
    assert shown(form, "id") == "birch-9"
    enter(form, "id", "my-own")
    enter(form, "name", "Birch 10")
    assert shown(form, "id") == "my-own"
    enter(form, "id", "")
    enter(form, "name", "Birch 11")
    assert shown(form, "id") == "birch-11"


def test_the_id_of_a_tank_that_exists_does_not_follow_its_name(opened):
    form = opened("ash-70")
    enter(form, "name", "Something else")
    assert shown(form, "id") == "ash-70"


@pytest.mark.parametrize("taken", ["elm-90", "old-1"])  # a sound row, and one that cannot be used
def test_an_id_of_another_row_is_refused(opened, file, taken):
    form = opened()
    enter_all(form, NEW)
    enter(form, "id", taken)
    assert "already the one of row" in problem(form, "id")
    press(form, "save")
    assert file.read_bytes() == FILE.encode()


def test_suggested_ids_are_short_plain_and_free():
    assert suggested_id("  Größe Nº 5 — (vertical) ", ()) == "grosse-no-5-vertical"
    assert suggested_id("井戸 20", ()) == "井戸-20"
    assert suggested_id("—", ()) == ""
    taken = {"a" * 60, "a" * 58 + "-2"}
    assert suggested_id("a" * 200, taken) == "a" * 58 + "-3"


# -- what is told --


def test_an_empty_form_complains_only_once_one_tries_to_save(opened, file):
    form = opened()
    enter(form, "name", "Oak")
    assert problems(form) == set()
    press(form, "save")
    assert problems(form) == {
        "kind", "total_volume", "diameter", "height", "max_working_pressure", "factory_precharge",
    }  # fmt: skip
    assert "6 values" in notice(form)
    assert form.focusWidget() is field(form, "kind")
    assert file.read_bytes() == FILE.encode()
    assert form.isVisible()


BAD_TEXTS = {
    "total_volume": ("3000000", "more than any tank's"),
    "acceptance": ("lots", "no number"),
    "diameter": ("40 psi", "not a unit of length"),
    "max_working_pressure": ("150 psia", "absolute pressure"),
    "factory_precharge": ("-2 psi", "must not be below zero"),
    "price": ("1,500", "could mean 1500 or 1.500"),
    "date": ("3/4/2026", "could mean 2026-04-03 or 2026-03-04"),
    "connection": ("3-Apr", "a date that a spreadsheet made"),
}


def test_all_bad_values_are_told_at_once_while_typing_and_nothing_is_written(opened, file):
    form = opened("ash-70")
    for name, (text, _why) in BAD_TEXTS.items():
        enter(form, name, text)
    assert problems(form) == set(BAD_TEXTS)
    for name, (_text, why) in BAD_TEXTS.items():
        assert why in problem(form, name)
    press(form, "save")
    assert form.told == []
    assert file.read_bytes() == FILE.encode()
    assert "8 values" in notice(form)
    assert form.focusWidget() is field(form, "connection")
    assert {name: shown(form, name) for name in BAD_TEXTS} == {
        name: text for name, (text, _why) in BAD_TEXTS.items()
    }


def test_a_mended_value_takes_its_problem_away(opened, file):
    form = opened("ash-70")
    enter(form, "price", "-1")
    assert problem(form, "price")
    press(form, "save")
    assert "one value" in notice(form)
    enter(form, "price", "1")
    assert problems(form) == set()
    assert notice(form) == ""
    assert field(form, "price").accessibleDescription() == ""
    press(form, "save")
    assert form.told == ["saved"]


def test_values_that_contradict_each_other_are_told_in_the_shown_units(opened):
    form = opened("ash-70", Display(System.US))
    enter(form, "total_volume", "15 gal")
    assert "more than the total volume, 15 gal" in problem(form, "acceptance")
    enter(form, "factory_precharge", "140 psi")
    assert "above the maximum working pressure, 124.732 psi" in problem(form, "factory_precharge")


def test_a_number_in_another_unit_is_echoed_in_the_shown_one(opened):
    form = opened("ash-70", Display(System.US))
    enter(form, "diameter", "40 cm")
    assert form.panel.rows["diameter"].message.text() == "= 15.75 in"


def test_a_horizontal_tank_has_a_length(opened):
    form = opened()
    assert form.panel.rows["height"].label.text() == "Height (in):"
    enter(form, "kind", "bladder, horizontal")
    assert form.panel.rows["height"].label.text() == "Length of shell (in):"
    enter(form, "height", "-1")
    assert problem(form, "height").startswith("Length of shell must be above zero.")


def test_a_value_without_a_column_is_told_beside_its_field(opened, file):
    file.write_text("id,name,kind,total_volume_l,diameter_cm,height_cm,"
                    "max_working_pressure_bar,factory_precharge_bar\n", encoding="utf-8")  # fmt: skip
    form = opened()
    enter_all(form, NEW)
    assert problems(form) == {"price"}
    assert "Add the column price_usd" in problem(form, "price")
    enter(form, "price", "")
    press(form, "save")
    assert form.told == ["saved"]


def test_a_file_that_must_be_mended_is_told_on_opening_and_read_again_when_it_is(opened, file):
    file.write_bytes(FILE.replace("diameter_cm", "width", 1).encode())
    form = opened()
    assert "must be mended" in notice(form)
    enter_all(form, NEW)
    press(form, "save")
    assert "must be mended" in notice(form)
    file.write_bytes(FILE.encode())
    press(form, "again")
    press(form, "save")
    assert form.told == ["saved"]
    assert file.read_bytes().startswith(FILE.encode())


# -- a save that fails --


def test_what_someone_else_changed_is_taken_in_and_what_was_typed_is_kept(opened, file):
    form = opened("ash-70")
    enter(form, "price", "219")
    theirs = FILE.replace("207.50", "211").replace("sheet 3", "sheet 4").encode()
    file.write_bytes(theirs)
    press(form, "save")
    assert "has been changed since it was read" in notice(form)
    assert file.read_bytes() == theirs
    press(form, "again")
    assert "Price, Source" in notice(form)
    assert "Price is now: 211" in notice(form)
    assert (shown(form, "price"), shown(form, "source")) == ("219", "sheet 4")
    press(form, "save")
    assert form.told == ["saved"]
    assert file.read_bytes() == theirs.replace(b"211", b"219")


def test_a_row_that_someone_else_deleted_is_told_and_can_be_added(opened, file):
    form = opened("ash-70")
    enter(form, "price", "219")
    file.write_bytes((HEADER + BAD + ELM).encode())
    press(form, "save")
    press(form, "again")
    assert "no tank with the id “ash-70” any more" in notice(form)
    press(form, "save")
    assert form.told == ["saved"]
    assert file.read_bytes().startswith((HEADER + BAD + ELM).encode())
    assert read_catalog(file).by_id["ash-70"].price == Decimal(219)


def test_an_id_that_someone_else_took_meanwhile_is_suggested_anew(opened, file):
    form = opened()
    enter_all(form, NEW)
    file.write_bytes((FILE + ELM.replace("elm-90", "oak-33-h")).encode())
    press(form, "save")
    press(form, "again")
    assert shown(form, "id") == "oak-33-h-2"
    press(form, "save")
    assert form.told == ["saved"]


def test_a_file_that_is_gone_can_be_saved_elsewhere(opened, file):
    form = opened("ash-70")
    enter(form, "price", "219")
    file.unlink()
    press(form, "save")
    assert "moved or deleted" in notice(form)
    press(form, "again")
    assert "no such file" in notice(form)
    choose_elsewhere(form, file)
    assert form.told == [file]
    assert file.read_bytes() == FILE.replace("207.50", "219").encode()


def disk_full(_path: Path, _data: bytes) -> None:
    raise safe_file.SaveError("“our-tanks.csv” could not be saved: the disk is full.", "Make room.")


def test_a_full_disk_is_told_in_the_form_and_saving_again_works(opened, file, monkeypatch):
    form = opened("ash-70")
    enter(form, "price", "219")
    with monkeypatch.context() as patch:
        patch.setattr(safe_file, "write_atomic", disk_full)
        press(form, "save")
    assert "the disk is full. Make room." in notice(form)
    assert form.isVisible()
    assert form.told == []
    assert file.read_bytes() == FILE.encode()
    assert shown(form, "price") == "219"
    press(form, "save")
    assert form.told == ["saved"]
    assert file.read_bytes() == FILE.replace("207.50", "219").encode()


def test_a_save_that_the_disk_did_not_confirm_counts_as_saved_and_is_told(
    opened, file, monkeypatch
):
    real = safe_file.write_atomic

    def unconfirmed(path: Path, data: bytes) -> None:
        real(path, data)
        error = safe_file.SaveError("It is saved, but not for certain: a fault.", "Copy it.")
        error.written = True
        raise error

    monkeypatch.setattr(safe_file, "write_atomic", unconfirmed)
    form = opened()
    enter_all(form, NEW)
    press(form, "save")
    assert form.told == ["saved"]
    assert "not for certain" in notice(form)
    assert form.windowTitle() == "Correct “Oak 33 H”"
    press(form, "cancel")  # nothing is left to be asked about
    assert not form.isVisible()
    assert "oak-33-h" in read_catalog(file).by_id


def choose_elsewhere(form: TankForm, path: Path) -> None:
    """Type a name into the file dialog that the button opens."""
    press(form, "elsewhere")
    chooser = form.findChild(QFileDialog)
    assert chooser.isVisible()
    line = chooser.findChild(QLineEdit, "fileNameEdit")
    line.selectAll()
    QTest.keyClicks(line, str(path))
    QTest.keyClick(line, Qt.Key.Key_Return)


def test_the_shipped_demo_that_cannot_be_changed_is_copied_elsewhere(
    opened, file, tmp_path, monkeypatch
):
    monkeypatch.setattr(paths, "shipped_catalogs", lambda: file.parent)
    file.chmod(0o444)
    form = opened()
    enter_all(form, NEW)
    press(form, "save")
    assert "read only" in notice(form)
    assert "demo catalogue that came with the program" in notice(form)
    (tmp_path / "mine").mkdir()
    copy = tmp_path / "mine" / "copy.csv"
    choose_elsewhere(form, copy)
    assert form.told == [copy]
    assert not form.isVisible()
    assert copy.read_bytes().startswith(FILE.encode())
    assert "oak-33-h" in read_catalog(copy).by_id
    assert file.read_bytes() == FILE.encode()


def test_a_copy_never_takes_the_place_of_another_file(opened, file, tmp_path, monkeypatch):
    other = tmp_path / "other.csv"
    other.write_bytes(b"precious")
    file.chmod(0o444)
    form = opened("ash-70")
    enter(form, "price", "219")
    press(form, "save")
    choose_elsewhere(form, other)
    assert "There is a file “other.csv” already" in notice(form)
    assert other.read_bytes() == b"precious"
    assert form.isVisible()
    assert form.told == []
    assert form.findChild(QPushButton, "elsewhere").isVisible()


# -- leaving --


def test_an_untouched_form_closes_at_once(opened):
    form = opened("ash-70")
    QTest.keyClick(form, Qt.Key.Key_Escape)
    assert not form.isVisible()


def test_escape_asks_before_it_discards_and_can_be_taken_back(opened, file):
    form = opened("ash-70")
    enter(form, "price", "219")
    QTest.keyClick(field(form, "price"), Qt.Key.Key_Escape)
    assert notice(form) == "Discard what you typed?"
    assert form.isVisible()
    QTest.keyClick(form.focusWidget(), Qt.Key.Key_Return)  # the safe answer has the focus
    assert notice(form) == ""
    assert form.focusWidget() is field(form, "price")
    press(form, "cancel")
    QTest.keyClick(form.focusWidget(), Qt.Key.Key_Escape)
    assert form.isVisible()
    form.close()
    press(form, "discard")
    assert not form.isVisible()
    assert form.told == []
    assert file.read_bytes() == FILE.encode()


def test_a_failure_is_still_told_after_the_question(opened, monkeypatch):
    form = opened("ash-70")
    enter(form, "price", "219")
    monkeypatch.setattr(safe_file, "write_atomic", disk_full)
    press(form, "save")
    press(form, "cancel")
    press(form, "keep")
    assert "disk is full" in notice(form)
    assert form.findChild(QPushButton, "again").isVisible()


def test_the_form_blocks_its_window_only(opened):
    form = opened("ash-70")
    assert form.windowModality() is Qt.WindowModality.WindowModal


# -- how it looks --


def test_columns_stand_one_above_the_other_where_there_is_no_room(opened, qtbot):
    form = opened("ash-70")

    def beside() -> bool:
        left, right = field(form, "name"), field(form, "max_working_pressure")
        return left.mapTo(form, left.rect().topRight()).x() < right.mapTo(form, right.pos()).x()

    assert beside()
    form.resize(form.minimumSizeHint().width(), 400)
    qtbot.waitUntil(lambda: not beside())
    assert form.width() < form.panel.two_columns()
    form.resize(1200, 600)
    qtbot.waitUntil(beside)


def broken(form: TankForm) -> TankForm:
    for name, (text, _why) in BAD_TEXTS.items():
        control = field(form, name)
        control.setText(text)
        control.textEdited.emit(text)
    form.findChild(QPushButton, "save").click()
    return form


def failed(form: TankForm) -> TankForm:
    form.draft.catalog = dataclasses.replace(form.draft.catalog, digest="another")
    control = field(form, "price")
    control.setText("219")
    control.textEdited.emit("219")
    form.findChild(QPushButton, "save").click()
    return form


def asking(form: TankForm) -> TankForm:
    failed(form).reject()
    return form


STATES = {"new": (None, None), "correct": ("ash-70", None), "broken": ("ash-70", broken),
          "failed": ("ash-70", failed), "asking": ("ash-70", asking)}  # fmt: skip


@pytest.mark.parametrize("state", STATES)
def test_the_form_keeps_the_rules_of_pages(qtbot, file, state):
    tank_id, bring_about = STATES[state]

    def build() -> TankForm:
        form = TankForm(read_catalog(file), tank_id, Display(System.US))
        return bring_about(form) if bring_about else form

    check_page(qtbot, build)
