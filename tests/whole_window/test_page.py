"""The ground that every page stands on: its inputs, its panels, and that it shows while seen."""

from __future__ import annotations

from PySide6.QtWidgets import QApplication, QLabel, QPlainTextEdit, QWidget
from pytestqt.qtbot import QtBot

from tests.whole_window.page_checks import check_page
from tests.whole_window.sample_pages import ALL, FAR, HIDDEN, LOCKED, OWN, SamplePage, build
from workbench.gui.pages.facts import Facts
from workbench.gui.pages.inputs import InputsPanel
from workbench.gui.pages.messages import Messages
from workbench.gui.store import Store
from workbench.job.fields import fields
from workbench.job.job import Job
from workbench.units import PRESSURE, Display, System, parse


def shown(qtbot: QtBot) -> SamplePage:
    page = build()
    qtbot.addWidget(page)
    with qtbot.waitExposed(page):
        page.show()
    return page


def test_a_page_with_every_kind_of_row_keeps_all_page_rules(qtbot: QtBot) -> None:
    check_page(qtbot, build)


def test_a_page_at_work_keeps_all_page_rules(qtbot: QtBot) -> None:
    def build_at_work() -> QWidget:
        page = build()
        page.progress.bar.setValue(40)
        page.progress.show()
        return page

    check_page(qtbot, build_at_work)


def test_a_page_shows_only_while_it_is_seen_and_then_catches_up(qtbot: QtBot) -> None:
    page = shown(qtbot)
    shows = page.shows
    page.store.edit({"cut_in": parse("35 psi", PRESSURE)}, "edit")
    assert page.shows == shows + 1
    assert page.answer.figure.text() == "35.0 psi"
    page.hide()
    for number in range(36, 45):
        page.store.edit({"cut_in": parse(f"{number} psi", PRESSURE)}, "edit")
    assert page.shows == shows + 1
    assert page.answer.figure.text() == "35.0 psi"
    page.show()
    assert page.shows == shows + 2
    assert page.answer.figure.text() == "44.0 psi"
    assert page.inputs.rows["cut_in"].field.text() == "44 psi"  # type: ignore[attr-defined]
    page.hide()
    page.show()
    assert page.shows == shows + 2  # nothing has changed


def test_a_page_follows_the_units_that_were_changed_while_it_was_not_seen(qtbot: QtBot) -> None:
    page = shown(qtbot)
    page.hide()
    page.store.set_display(Display(System.METRIC))
    page.show()
    assert page.answer.figure.text() == "207 kPa"
    assert page.inputs.rows["header_set"].label.text() == "Tanks on the header, L, kPa:"


def test_findings_stand_beside_their_rows_and_the_rest_in_the_messages(qtbot: QtBot) -> None:
    page = shown(qtbot)
    page.told = (FAR, LOCKED, OWN, HIDDEN, ALL)
    page.refresh()
    said = {name: row.message.text() for name, row in page.inputs.rows.items()
            if not row.message.isHidden()}  # fmt: skip
    assert said == {
        "cut_in": "Caution: The cut-in is odd. Look at it.",
        "motor_limit": "Stop: The rest is odd. Look at it.",  # in the place of the hidden row
        "peak_demand": "Note: The demand is odd.",
    }
    assert page.messages.texts() == [
        "Stop: The job is odd as a whole. Begin anew.",  # the gravest first
        "Note: The altitude is odd. Look at the site.",
    ]
    page.told = ()
    page.refresh()
    assert page.messages.isHidden()
    locked = page.inputs.rows["peak_demand"]
    assert locked.message.text() == "from another page: 9.5 gpm"
    assert not locked.field.isEnabled()
    page.inputs.lock_row("peak_demand", "")
    page.inputs.show_job()
    assert locked.field.isEnabled()
    assert locked.message.isHidden()


def test_a_hidden_row_stays_hidden_and_takes_its_heading_along(qtbot: QtBot) -> None:
    store = Store(Display())
    groups = (("One", ("own_rest", "curve")), ("Two", ("cut_in",)))
    panel = InputsPanel(store, groups)
    store.setParent(panel)
    qtbot.addWidget(panel)
    panel.show()

    def seen() -> list[str]:
        return [label.text() for label in panel.findChildren(QLabel) if label.isVisible()]

    panel.set_row_visible("own_rest", visible=False)
    panel.show_job([HIDDEN])
    assert seen() == ["One", "Curve, flow and head, gpm, ft:", "Two", "Cut-in, psi:"]
    assert panel.elsewhere([HIDDEN, OWN]) == [HIDDEN]  # told by nobody here
    panel.set_row_visible("curve", visible=False)
    panel.show_job([HIDDEN])
    assert seen() == ["Two", "Cut-in, psi:"]
    panel.set_row_visible("own_rest", visible=True)
    panel.show_job([HIDDEN])
    assert seen()[:3] == ["One", "Shortest rest, s:", "Stop: The rest is odd. Look at it."]


def test_every_entry_of_a_job_that_is_typed_can_stand_in_a_form(qtbot: QtBot) -> None:
    store = Store(Display())
    panel = InputsPanel(store, (("All", tuple(fields())),))
    store.setParent(panel)
    qtbot.addWidget(panel)
    panel.show_job([])
    for name, row in panel.rows.items():
        entry = getattr(Job(), name)
        field = row.field
        text = field.toPlainText() if isinstance(field, QPlainTextEdit) else field.text()  # type: ignore[attr-defined]
        assert text == ("" if entry is None else str(entry)), name


def test_facts_show_their_rows_and_no_more(qtbot: QtBot) -> None:
    facts = Facts("Figures")
    qtbot.addWidget(facts)
    facts.show()
    facts.set_rows([("One", "1 gal", ""), ("Two", "2 gal", "caution"), ("From", "a book", "muted")])
    assert facts.rows() == [("One", "1 gal"), ("Two", "2 gal"), ("From", "a book")]
    facts.set_rows([("Two", "3 gal", "")])
    assert facts.rows() == [("Two", "3 gal")]
    facts.set_rows([("One", "1", ""), ("Two", "2", "")])
    assert [value.property("role") or "" for _, value in facts._labels[:2]] == ["", ""]


def test_equal_messages_are_told_once(qtbot: QtBot) -> None:
    messages = Messages()
    qtbot.addWidget(messages)
    messages.show_findings([FAR, FAR, ALL], Display())
    assert len(messages.texts()) == 2


def test_what_gets_the_focus_is_scrolled_into_sight_with_its_message(qtbot: QtBot) -> None:
    page = shown(qtbot)
    page.told = (HIDDEN,)
    page.refresh()
    page.resize(page.minimumSizeHint().width(), 300)
    page.activateWindow()
    qtbot.waitUntil(lambda: QApplication.activeWindow() is page)
    row = page.inputs.rows["motor_limit"]
    row.field.setFocus()
    for widget in (row.field, row.message):
        assert widget.visibleRegion().boundingRect().height() >= min(widget.height(), 24)


def test_what_stands_abreast_goes_beneath_where_it_is_narrow(qtbot: QtBot) -> None:
    page = shown(qtbot)
    least = page.minimumSizeHint().width()
    for width, beside in ((1300, True), (least, False), (1300, True)):
        page.resize(width, 700)
        QApplication.processEvents()
        assert (page.answer.y() == page.second.y()) is beside
        name, value = page.facts._labels[0]
        assert (name.y() == value.y()) is beside
        assert value.text() == "30.0 psi"
        for widget in (page.answer, page.second, page.facts, name, value):
            right = widget.mapTo(page.results, widget.rect().topRight()).x()
            assert right < page.results.width()
