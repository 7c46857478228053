"""The form for one tank, driven by keys and clicks: what it saves, what it tells, how it looks."""

from __future__ import annotations

import datetime
from decimal import Decimal

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtWidgets import QApplication, QPushButton

from tests.whole_window.page_checks import check_page
from tests.whole_window.tank_user import FILE, NEW, TankUser
from workbench import paths
from workbench.catalog.table import read_catalog
from workbench.catalog.tank import TankKind
from workbench.gui.tank_form import TankForm
from workbench.gui.tank_form.draft import FIELDS, Draft, suggested_id
from workbench.units import PRESSURE, VOLUME, Display, System, parse


@pytest.fixture
def user(qtbot, tmp_path):
    return TankUser(qtbot, tmp_path)


# -- what is saved --


def test_a_new_tank_becomes_one_more_row_and_no_other_byte_changes(user):
    user.open()
    user.enter_all(NEW)
    user.press("save")
    assert user.told == ["saved"]
    data = user.data
    assert data.startswith(FILE.encode())
    assert data.count(b"\n", len(FILE.encode())) == 1
    tank = user.tank("oak-33-h")
    assert tank.name == "Oak 33 H"
    assert tank.kind is TankKind.BLADDER_HORIZONTAL
    assert tank.total_volume == parse("33 gal", VOLUME).si
    assert tank.max_working_pressure == parse("150 psi", PRESSURE).si
    assert tank.factory_precharge == parse("2.6 bar", PRESSURE).si
    assert tank.price == Decimal("310.50")
    assert (tank.acceptance, tank.potable_listed, tank.in_stock, tank.date) == (None,) * 4
    assert user.file.with_name("our-tanks.csv.bak").read_bytes() == FILE.encode()


def test_every_value_can_be_typed_and_is_read_back(user):
    user.open()
    user.enter_all(NEW)
    user.enter_all({
        "id": "OAK/33", "connection": "1-1/4", "acceptance": "20 gal", "empty_weight": "21 kg",
        "highest_precharge": "70 psi", "potable_listed": "yes", "in_stock": "no",
        "notes": "dented", "source": "sheet 9", "date": "2026-04-01",
    })  # fmt: skip
    user.press("save")
    tank = user.tank("OAK/33")
    assert (tank.connection, tank.notes, tank.source) == ("1-1/4", "dented", "sheet 9")
    assert (tank.potable_listed, tank.in_stock) == (True, False)
    assert tank.date == datetime.date(2026, 4, 1)
    assert tank.acceptance == parse("20 gal", VOLUME).si
    assert tank.empty_weight == 21.0
    assert tank.highest_precharge == parse("70 psi", PRESSURE).si


@pytest.mark.parametrize("system", System)
def test_a_corrected_price_changes_that_cell_only_in_any_units(user, system):
    before = user.tank("ash-70")
    user.open("ash-70", Display(system))
    user.enter("price", "219")
    user.press("save")
    assert user.told == ["saved"]
    assert user.data == FILE.replace("207.50", "219").encode()
    after = user.tank("ash-70")
    assert after == before.model_copy(update={"price": Decimal(219)})


def test_a_text_typed_away_and_back_again_is_no_change(user):
    user.open("ash-70", Display(System.US))
    text = user.shown("total_volume")
    assert text == "18.49 gal"  # 70 L, rounded
    user.enter("total_volume", "20 gal")
    user.enter("total_volume", text)
    user.enter("price", "219")
    user.press("save")
    assert user.data == FILE.replace("207.50", "219").encode()


def test_saving_without_a_change_writes_nothing(user):
    user.open("ash-70")
    user.press("save")
    assert not user.form.isVisible()
    assert user.told == []
    assert user.data == FILE.encode()
    assert not user.file.with_name("our-tanks.csv.bak").exists()


def test_values_are_shown_in_the_chosen_units_and_with_its_decimal_mark(user):
    user.open("ash-70", Display(System.METRIC, ","))
    assert user.shown("total_volume") == "70 L"
    assert user.shown("empty_weight") == "15,4 kg"
    assert user.shown("factory_precharge") == "2,6 bar"
    assert user.shown("diameter") == "36,8 cm"
    assert user.label("diameter") == "Diameter (mm):"
    user.enter("diameter", "36,75 cm")
    user.press("save")
    assert user.tank("ash-70").diameter == pytest.approx(0.3675, rel=1e-15)


def test_a_corrected_id_stays_in_its_row(user):
    user.open("ash-70")
    user.enter("id", "ash-70-v")
    user.press("save")
    assert user.data == FILE.replace("ash-70", "ash-70-v", 1).encode()


@pytest.mark.parametrize("system", System)
def test_no_tank_of_the_demo_drifts_when_it_is_only_looked_at(system):
    catalog = read_catalog(paths.default_catalog())
    for tank in catalog.tanks:
        draft = Draft(catalog, tank.id, Display(system))
        for name in FIELDS:
            draft.text(name)
        assert draft.check() == (tank, {})
        assert draft.put(tank) == paths.default_catalog().read_bytes()


def test_undo_works_in_every_field_and_what_is_undone_is_no_change(user):
    user.open("ash-70")
    for name in ("name", "total_volume", "notes"):
        before = user.shown(name)
        user.enter(name, "7")
        assert user.shown(name) == "7"
        while user.shown(name) != before:
            now = user.shown(name)
            user.keys("Ctrl+Z")
            assert user.shown(name) != now, f"undo is at its end in {name}"
    user.keys("Esc")
    assert not user.form.isVisible()


def test_enter_saves(user):
    user.open("ash-70")
    user.enter("price", "219")
    user.key(Qt.Key.Key_Return)
    assert user.told == ["saved"]


# -- the id --


def test_the_id_follows_the_name_until_one_is_typed(user):
    user.open()
    user.enter("name", "Ash 70")
    assert user.shown("id") == "ash-70-2"  # ash-70 is taken
    user.enter("name", "Birch 9")
    assert user.shown("id") == "birch-9"
    user.enter("id", "my-own")
    user.enter("name", "Birch 10")
    assert user.shown("id") == "my-own"
    user.enter("id", "")
    user.enter("name", "Birch 11")
    assert user.shown("id") == "birch-11"


def test_the_id_of_a_tank_that_exists_does_not_follow_its_name(user):
    user.open("ash-70")
    user.enter("name", "Something else")
    assert user.shown("id") == "ash-70"


@pytest.mark.parametrize("taken", ["elm-90", "old-1"])  # a sound row, and one that cannot be used
def test_an_id_of_another_row_is_refused(user, taken):
    user.open()
    user.enter_all(NEW)
    user.enter("id", taken)
    assert "already the one of row" in user.problem("id")
    user.press("save")
    assert user.data == FILE.encode()


def test_suggested_ids_are_short_plain_and_free():
    assert suggested_id("  Größe Nº 5 — (vertical) ", ()) == "grosse-no-5-vertical"
    assert suggested_id("井戸 20", ()) == "井戸-20"
    assert suggested_id("—", ()) == ""
    taken = {"a" * 60, "a" * 58 + "-2"}
    assert suggested_id("a" * 200, taken) == "a" * 58 + "-3"


# -- what is told --


def test_an_empty_form_complains_only_once_one_tries_to_save(user):
    user.open()
    user.enter("name", "Oak")
    assert user.problems == set()
    user.press("save")
    assert user.problems == {
        "kind", "total_volume", "diameter", "height", "max_working_pressure", "factory_precharge",
    }  # fmt: skip
    assert "6 values" in user.notice
    assert user.form.focusWidget() is user.field("kind")
    assert user.data == FILE.encode()
    assert user.form.isVisible()


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


def test_all_bad_values_are_told_at_once_while_typing_and_nothing_is_written(user):
    user.open("ash-70")
    for name, (text, _why) in BAD_TEXTS.items():
        user.enter(name, text)
    assert user.problems == set(BAD_TEXTS)
    for name, (_text, why) in BAD_TEXTS.items():
        assert why in user.problem(name)
    user.press("save")
    assert user.told == []
    assert user.data == FILE.encode()
    assert "8 values" in user.notice
    assert user.form.focusWidget() is user.field("connection")
    assert {name: user.shown(name) for name in BAD_TEXTS} == {
        name: text for name, (text, _why) in BAD_TEXTS.items()
    }


def test_a_mended_value_takes_its_problem_away(user):
    user.open("ash-70")
    user.enter("price", "-1")
    assert user.problem("price")
    user.press("save")
    assert "one value" in user.notice
    user.enter("price", "1")
    assert user.problems == set()
    assert user.notice == ""
    assert user.field("price").accessibleDescription() == ""
    user.press("save")
    assert user.told == ["saved"]


def test_values_that_contradict_each_other_are_told_in_the_shown_units(user):
    user.open("ash-70", Display(System.US))
    user.enter("total_volume", "15 gal")
    assert "more than the total volume, 15 gal" in user.problem("acceptance")
    user.enter("factory_precharge", "140 psi")
    assert "above the maximum working pressure, 124.732 psi" in user.problem("factory_precharge")


def test_a_number_in_another_unit_is_echoed_in_the_shown_one(user):
    user.open("ash-70", Display(System.US))
    user.enter("diameter", "40 cm")
    assert user.form.panel.rows["diameter"].message.text() == "= 15.75 in"


def test_a_horizontal_tank_has_a_length(user):
    user.open()
    assert user.label("height") == "Height (in):"
    user.enter("kind", "bladder, horizontal")
    assert user.label("height") == "Length of shell (in):"
    user.enter("height", "-1")
    assert user.problem("height").startswith("Length of shell must be above zero.")


def test_a_value_without_a_column_is_told_beside_its_field(user):
    least = "id,name,kind,total_volume_l,diameter_cm,height_cm,max_working_pressure_bar"
    user.file.write_text(f"{least},factory_precharge_bar\n", encoding="utf-8")
    user.open()
    user.enter_all(NEW)
    assert user.problems == {"price"}
    assert "Add the column price_usd" in user.problem("price")
    user.enter("price", "")
    user.press("save")
    assert user.told == ["saved"]


def test_a_file_that_must_be_mended_is_told_on_opening_and_read_again_when_it_is(user):
    user.file.write_bytes(FILE.replace("diameter_cm", "width", 1).encode())
    user.open()
    assert "must be mended" in user.notice
    user.enter_all(NEW)
    user.press("save")
    assert "must be mended" in user.notice
    user.file.write_bytes(FILE.encode())
    user.press("again")
    user.press("save")
    assert user.told == ["saved"]
    assert user.data.startswith(FILE.encode())


# -- how it looks --


def test_columns_stand_one_above_the_other_where_there_is_no_room(user, qtbot):
    form = user.open("ash-70")

    def beside() -> bool:
        left, right = user.field("name"), user.field("max_working_pressure")
        return left.mapTo(form, left.rect().topRight()).x() < right.mapTo(form, QPoint()).x()

    assert beside()
    form.resize(form.minimumSizeHint().width(), 400)
    qtbot.waitUntil(lambda: not beside())
    assert form.width() < form.panel.two_columns()
    form.resize(1200, 600)
    qtbot.waitUntil(beside)


def test_the_focus_stays_in_sight_wherever_it_comes_from(user):
    form = user.open("ash-70")
    form.resize(form.minimumSizeHint())
    QApplication.processEvents()
    user.field("date").setFocus()
    assert not user.field("date").visibleRegion().isEmpty()
    user.form.findChild(QPushButton, "save").setFocus()
    user.key(Qt.Key.Key_Tab)
    assert form.focusWidget() is user.field("name")
    assert user.field("name").visibleRegion().boundingRect() == user.field("name").rect()


def write(form: TankForm, name: str, text: str) -> None:
    """Type, in a form that is not shown yet."""
    control = form.panel.rows[name].field
    control.setText(text)
    control.textEdited.emit(text)


def save_bad_values(form: TankForm, _user: TankUser) -> None:
    for name, (text, _why) in BAD_TEXTS.items():
        write(form, name, text)
    form.findChild(QPushButton, "save").click()


def save_after_someone_else(form: TankForm, user: TankUser) -> None:
    write(form, "price", "219")
    user.file.write_bytes(user.data + b"\r\n")
    form.findChild(QPushButton, "save").click()


def leave_after_typing(form: TankForm, user: TankUser) -> None:
    save_after_someone_else(form, user)
    form.reject()


STATES = {
    "new": (None, None),
    "correct": ("ash-70", None),
    "bad values": ("ash-70", save_bad_values),
    "failed": ("ash-70", save_after_someone_else),
    "asking": ("ash-70", leave_after_typing),
}


@pytest.mark.parametrize("state", STATES)
def test_the_form_keeps_the_rules_of_pages(qtbot, user, state):
    tank_id, bring_about = STATES[state]

    def build() -> TankForm:
        form = TankForm(read_catalog(user.file), tank_id, Display())
        if bring_about is not None:
            bring_about(form, user)
        return form

    check_page(qtbot, build)
