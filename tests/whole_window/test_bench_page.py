"""The bench as a page: it keeps all page rules in both themes, and a closed window is gone."""

from __future__ import annotations

import gc
import weakref

from PySide6.QtCore import QEvent
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from tests.whole_window.at_page import is_said_by_a_file, unread, window_with
from tests.whole_window.page_checks import check_page
from tests.whole_window.user import at_window, demo_job, own_catalog
from workbench.gui.window import MainWindow
from workbench.job.choices import PrechargeRule
from workbench.units import ALTITUDE, FLOW, PRESSURE, TIME, parse


def build() -> QWidget:
    """The whole window with the demo job, as it stands after its first frame."""
    return window_with(demo_job())


def build_with_problems() -> QWidget:
    """The same in SI, with much to tell: cautions, stops, an echo and a row that is unusable."""
    window = build()
    assert isinstance(window, MainWindow)
    window.show()  # as when the program starts: what is wrong comes to the page later
    QApplication.processEvents()
    window._view._use_metric(True)
    job = demo_job().changed(
        pump_flow=parse("300 L/min", FLOW),
        run_time=parse("0.1 min", TIME),
        cut_out=parse("90 psi", PRESSURE),
        bands=unread("20/40, x"),
        precharge_rule=PrechargeRule.TYPED,
        precharge=parse("3 bar", PRESSURE),
        altitude=parse("12 km", ALTITUDE),
        headroom=unread("1,500"),
        door_width=unread("wide"),
    )
    window.store.open_job(job, None)
    return window


def test_the_bench_keeps_every_page_rule(qtbot: QtBot) -> None:
    check_page(qtbot, build, untranslated=is_said_by_a_file)


def test_the_bench_keeps_them_while_much_is_wrong(qtbot: QtBot) -> None:
    sound = own_catalog().read_text(encoding="utf-8")
    own_catalog().write_text(sound.replace(",125,", ",lots,", 1), encoding="utf-8")
    check_page(qtbot, build_with_problems, untranslated=is_said_by_a_file)


def test_a_closed_window_is_freed(qtbot: QtBot) -> None:
    user = at_window(qtbot, demo_job())
    user.enter("cut_in", "35")
    user.table.selectRow(2)
    user.menu("View", "SI units")
    held = [
        weakref.ref(part)
        for part in (user.window, user.page, user.plot, user.model, user.store, user.window.source)
    ]
    window = user.window
    user.leave()
    window.close()
    window.deleteLater()
    del user, window
    QApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete.value)
    gc.collect()
    assert [reference() for reference in held if reference() is not None] == []
