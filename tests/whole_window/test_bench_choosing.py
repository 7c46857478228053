"""Choosing a tank in table and plot, putting tanks in order, and taking the table along."""

from __future__ import annotations

import csv
import io
from collections.abc import Callable

import pytest
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtGui import QMouseEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from tests.whole_window.user import CTRL, User, at_window, demo_job

SHIFT = Qt.KeyboardModifier.ShiftModifier
ASCENDING, DESCENDING = Qt.SortOrder.AscendingOrder, Qt.SortOrder.DescendingOrder
LEFT = Qt.MouseButton.LeftButton
ASK = "Choose a tank to read why it stands where it does."


@pytest.fixture
def user(qtbot: QtBot) -> User:
    return at_window(qtbot, demo_job())


def number(text: str) -> float:
    if text == "∞":
        return float("inf")
    return float(text.split()[0].replace("−", "-"))


def assert_chosen(user: User, row: int) -> None:
    """Table, plot and text all speak of the tank in ``row``."""
    shown = dict(zip(user.headings(), user.rows()[row], strict=True))
    assert user.chosen_row() == row
    assert {index.row() for index in user.table.selectedIndexes()} == {row}
    ring = user.ring()
    assert ring is not None
    assert ring[0] == pytest.approx(number(shown["Volume, gal"]), abs=0.06)
    assert ring[1] == pytest.approx(number(shown["Drawdown, gal"]), abs=0.06)
    assert user.detail().startswith(f"{shown['Tank']}: ")
    place = user.table.visualRect(user.model.index(row, 0)).center().y()
    assert 0 < place < user.table.viewport().height()


# --- in the table ---------------------------------------------------------------------------------


def test_nothing_is_chosen_until_the_user_chooses(user: User) -> None:
    assert (user.chosen_row(), user.ring(), user.detail()) == (None, None, ASK)


def test_a_row_chosen_by_keys_is_ringed_and_explained(user: User) -> None:
    user.go_to(user.table)
    user.press(Qt.Key.Key_Down)
    first = user.chosen_row()
    assert first is not None
    assert_chosen(user, first)
    for _ in range(20):
        user.press(Qt.Key.Key_Down)
    assert_chosen(user, first + 20)
    user.press(Qt.Key.Key_End)
    assert_chosen(user, first + 20)  # End goes to the end of the row
    user.press(Qt.Key.Key_PageDown)
    assert_chosen(user, user.chosen_row() or 0)


def test_walking_on_without_choosing_leaves_the_choice_alone_until_space(user: User) -> None:
    user.go_to(user.table)
    user.press(Qt.Key.Key_Space)
    assert_chosen(user, 0)
    chosen = user.detail()
    user.press(Qt.Key.Key_End, CTRL)
    assert user.chosen_row() == 47
    assert user.detail() == chosen
    assert [index.row() for index in user.table.selectionModel().selectedRows()] == [0]
    user.press(Qt.Key.Key_Space)
    assert user.detail().startswith(f"{user.rows()[47][1]}: ")
    assert [index.row() for index in user.table.selectionModel().selectedRows()] == [0, 47]


def test_the_reasons_of_a_passing_and_of_a_failing_tank_are_told(user: User) -> None:
    user.table.selectRow(0)
    assert "Gives 17.8 gal of 16.5 gal required; runs 1.62 min at no demand" in user.detail()
    failing = user.column("Result").index("Fails")
    user.table.selectRow(failing)
    assert user.detail().split(": ", 1)[1].startswith(user.rows()[failing][-1])


def test_the_reasons_are_in_sight_at_once_in_a_window_of_the_usual_size(user: User) -> None:
    for row in (0, 20):
        user.table.selectRow(row)
        QApplication.processEvents()
        label = user.page.tanks.detail
        assert label.visibleRegion().boundingRect().height() == label.height()


def test_the_chosen_tank_stays_chosen_through_edits_units_and_unreadable_texts(user: User) -> None:
    user.table.selectRow(3)
    name = user.rows()[3][1]
    ring = user.ring()
    user.enter("cut_out", "55")
    assert user.detail().startswith(f"{name}: ")
    assert_chosen(user, user.column("Tank").index(name))
    assert user.ring() != ring
    user.menu("View", "SI units")
    assert user.detail().startswith(f"{name}: ")
    user.menu("View", "US customary units")
    user.enter("cut_in", "x")
    assert (user.chosen_row(), user.ring(), user.detail()) == (None, None, "")
    user.enter("cut_in", "30")
    assert_chosen(user, user.column("Tank").index(name))


def test_more_tanks_on_a_header_are_other_candidates_so_nothing_stays_chosen(user: User) -> None:
    user.table.selectRow(3)
    user.choose("header_tanks", "up to two equal")
    assert (user.chosen_row(), user.ring(), user.detail()) == (None, None, ASK)
    assert len(user.rows()) == 96
    pair = next(n for n, name in enumerate(user.column("Tank")) if name.startswith("2 × "))
    user.table.selectRow(pair)
    assert_chosen(user, pair)
    assert "All tanks on one header must have the same precharge." in user.detail()


# --- in the plot ----------------------------------------------------------------------------------


def click(user: User, x: float, y: float) -> None:
    """Press and release the mouse on a place of the plot, in the units of its axes."""
    view = user.plot.getPlotItem().getViewBox()
    place = user.plot.mapFromScene(view.mapViewToScene(QPointF(x, y)))
    QTest.mouseClick(user.plot.viewport(), LEFT, Qt.KeyboardModifier.NoModifier, place)


def test_a_click_on_a_mark_chooses_its_row(user: User) -> None:
    marks = user.marks()
    lonely = [
        mark
        for mark in marks
        if all(
            abs(mark.volume - m.volume) > 3 or abs(mark.drawdown - m.drawdown) > 2
            for m in marks
            if m is not mark
        )
    ]
    assert len(lonely) > 5
    for mark in lonely[:6]:
        click(user, mark.volume, mark.drawdown)
        row = user.chosen_row()
        assert row is not None
        assert_chosen(user, row)
        assert user.ring() == pytest.approx((mark.volume, mark.drawdown))


def test_a_click_beside_all_marks_chooses_nothing(user: User) -> None:
    click(user, 100, 5)
    assert user.chosen_row() is None


def test_up_and_down_in_the_plot_come_to_every_tank_by_its_size(user: User) -> None:
    user.go_to(user.plot)
    sizes, names = [], []
    for _ in range(48):
        user.press(Qt.Key.Key_Up)
        row = user.chosen_row()
        assert row is not None
        assert_chosen(user, row)
        sizes.append(number(user.rows()[row][2]))
        names.append(user.rows()[row][1])
        assert user.reading().startswith(f"At {sizes[-1]:.1f} gal — ")
    assert sizes == sorted(sizes)
    assert sorted(names) == sorted(user.column("Tank"))
    user.press(Qt.Key.Key_Up)  # there is none above the last
    assert user.detail().startswith(names[-1])
    back = [names[-1]]
    for _ in range(47):
        user.press(Qt.Key.Key_Down)
        back.append(user.detail().split(":")[0])
    assert back == names[::-1]


def test_arrows_read_every_band_at_the_same_volume(user: User) -> None:
    user.go_to(user.plot)
    user.press(Qt.Key.Key_End)
    x, values = read(user)
    for (_, slope_end), value in zip(
        (points[-1] for points in user.lines().values()), values, strict=True
    ):
        assert value == pytest.approx(slope_end, abs=0.06)
    assert x == pytest.approx(user.plot._extent[0], abs=0.06)
    for key, step in ((Qt.Key.Key_Left, -1), (Qt.Key.Key_Left, -1), (Qt.Key.Key_Right, 1)):
        before, _ = read(user)
        user.press(key)
        assert read(user)[0] - before == pytest.approx(step * x / 200, abs=0.11)
    before, _ = read(user)
    user.press(Qt.Key.Key_Left, SHIFT)
    assert read(user)[0] - before == pytest.approx(-x / 20, abs=0.11)
    user.press(Qt.Key.Key_Home)
    assert read(user)[0] == 0
    assert all(value == 0 for value in read(user)[1])
    user.press(Qt.Key.Key_Left)  # there is nothing below
    assert read(user)[0] == 0
    assert user.plot.accessibleDescription() == user.reading()


def read(user: User) -> tuple[float, list[float]]:
    at, _, rest = user.reading().partition(" — ")
    values = [float(part.split(": ")[1].split()[0]) for part in rest.split("   ")]
    return float(at.split()[1]), values


def test_pointing_reads_the_plot_as_the_arrows_do(user: User) -> None:
    QApplication.processEvents()  # the axes take their width when they are painted
    view = user.plot.getPlotItem().getViewBox()
    place = user.plot.mapFromScene(view.mapViewToScene(QPointF(60, 10)))
    event = QMouseEvent(
        QMouseEvent.Type.MouseMove,
        QPointF(place),
        QPointF(user.plot.viewport().mapToGlobal(QPoint(place))),
        Qt.MouseButton.NoButton,
        Qt.MouseButton.NoButton,
        Qt.KeyboardModifier.NoModifier,
    )
    QApplication.sendEvent(user.plot.viewport(), event)
    x, values = read(user)
    assert x == pytest.approx(60, abs=0.5)
    points = user.lines()["30/50 yours"]
    assert values[0] == pytest.approx(x * points[-1][1] / points[-1][0], abs=0.1)


def test_the_place_read_is_the_same_volume_in_other_units(user: User) -> None:
    user.go_to(user.plot)
    for _ in range(10):
        user.press(Qt.Key.Key_Up)
    volume = number(user.rows()[user.chosen_row() or 0][2])
    user.menu("View", "SI units")
    user.press(Qt.Key.Key_Right)
    step = user.plot._extent[0] / 200
    assert read(user)[0] == pytest.approx(volume * 3.785411784 + step, abs=0.11)


# --- orders ---------------------------------------------------------------------------------------

SORTED_BY: dict[str, Callable[[list[str]], object]] = {
    "Volume": lambda row: number(row[2]),
    "Drawdown": lambda row: number(row[3]),
    "Margin": lambda row: number(row[4]),
    "Run": lambda row: number(row[5]),
    "Starts": lambda row: number(row[6]),
    "Price": lambda row: number(row[7]) if row[7] != "—" else float("inf"),
    "Tank": lambda row: row[1],
}


def test_sorting_by_a_header_keeps_those_that_pass_first_and_the_chosen_tank_chosen(
    user: User,
) -> None:
    user.table.selectRow(5)
    name = user.rows()[5][1]
    for column, heading in enumerate(user.headings()):
        for order in (ASCENDING, DESCENDING):
            user.table.sortByColumn(column, order)
            rows = user.rows()
            results = [row[0] for row in rows]
            assert results == sorted(results, reverse=True), f"{heading}: Passes before Fails"
            row = user.column("Tank").index(name)
            assert user.chosen_row() == row, heading
            assert {index.row() for index in user.table.selectedIndexes()} == {row}
            key = SORTED_BY.get(heading.split(",")[0])
            if key is None:
                continue
            for group in ("Passes", "Fails"):
                values = [key(row) for row in rows if row[0] == group]
                priced = [value for value in values if value != float("inf")]
                assert priced == sorted(priced, reverse=order is DESCENDING), heading  # type: ignore[type-var]


def test_a_sort_stays_through_edits_and_ends_with_a_third_click(user: User) -> None:
    ranked = user.rows()
    header = user.table.horizontalHeader()
    place = QPoint(header.sectionViewportPosition(2) + 10, header.height() // 2)
    for order in (ASCENDING, DESCENDING):
        QTest.mouseClick(header.viewport(), LEFT, Qt.KeyboardModifier.NoModifier, place)
        assert header.sortIndicatorOrder() is order
        user.enter("headroom", "73" if order is ASCENDING else "74")
        passing = [number(row[2]) for row in user.rows() if row[0] == "Passes"]
        assert passing == sorted(passing, reverse=order is DESCENDING)
    QTest.mouseClick(header.viewport(), LEFT, Qt.KeyboardModifier.NoModifier, place)
    assert user.rows() == ranked


def test_each_order_of_the_list_puts_its_own_first(user: User) -> None:
    user.table.sortByColumn(2, DESCENDING)
    box = user.page.tanks.order

    def passing() -> list[list[str]]:
        return [row for row in user.rows() if row[0] == "Passes"]

    user.choose(box, "smallest footprint")
    assert user.table.horizontalHeader().sortIndicatorSection() == -1  # the list rules again
    user.choose(box, "longest run")
    runs = [number(row[5]) for row in passing()]
    assert runs == sorted(runs, reverse=True)
    user.choose(box, "in stock first")
    out = ["Not in stock." in row[-1] for row in passing()]
    assert out == sorted(out)
    user.choose(box, "lowest price")
    prices = [number(row[7]) for row in passing() if row[7] != "—"]
    assert prices == sorted(prices)
    assert len(passing()) > 5


# --- taking it along ------------------------------------------------------------------------------


def pasted() -> list[list[str]]:
    text = QApplication.clipboard().text()
    return list(csv.reader(io.StringIO(text), delimiter="\t", quoting=csv.QUOTE_NONE))


def test_the_copied_table_reads_back_with_its_headings(user: User) -> None:
    user.go_to(user.table)
    user.press(Qt.Key.Key_C, CTRL)
    assert pasted() == [user.headings(), *user.rows()]


def test_of_several_chosen_rows_only_these_are_copied(user: User) -> None:
    user.go_to(user.table)
    user.press(Qt.Key.Key_Home, CTRL)
    user.press(Qt.Key.Key_Space)
    user.press(Qt.Key.Key_Down, SHIFT)
    user.press(Qt.Key.Key_Down, SHIFT)
    assert user.detail().startswith(f"{user.rows()[2][1]}: ")
    user.menu("Edit", "Copy the table")
    assert pasted() == [user.headings(), *user.rows()[:3]]


def test_copying_in_a_field_copies_the_fields_text(user: User) -> None:
    user.go_to("cut_in").selectAll()
    user.press(Qt.Key.Key_C, CTRL)
    assert QApplication.clipboard().text() == "30 psi"


def test_the_name_of_several_tanks_on_a_header_is_not_cut(user: User) -> None:
    user.page.inputs.rows["header_tanks"].field.chosen.emit(3)
    names = user.table.columnWidth(1)
    widest = max(user.table.sizeHintForIndex(user.model.index(row, 1)).width() for row in range(20))
    assert names >= widest
