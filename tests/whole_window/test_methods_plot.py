"""The plot of the demand methods in little room: nothing is cut, and no figure is lost."""

from __future__ import annotations

import pytest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from tests.whole_window.test_demand_page import STATES, in_state, opened, view_of
from workbench.job.house_choices import demand_methods
from workbench.units import FLOW, Display, System


@pytest.mark.parametrize("state", STATES)
def test_without_room_for_its_unit_each_flow_still_stands_in_its_name(
    qtbot: QtBot, state: str
) -> None:
    window, page = opened(qtbot, in_state(state))
    display = Display(System.METRIC, ",")
    window.store.set_display(display)
    plot, view = page.plot, view_of(window)
    plot.setParent(None)
    qtbot.addWidget(plot)
    plot.show()
    for wide in (True, False):
        plot.resize(1200 if wide else plot.minimumSizeHint().width(), plot.height())
        QApplication.processEvents()
        plot.grab()  # texts find their place while they are drawn
        if not wide and plot.flows():
            assert all("L/min" not in name for name in plot.flows())
        picture = plot.box.sceneBoundingRect()
        for label in plot._labels:
            place = label.mapRectToScene(label.boundingRect())
            assert picture.left() - 1 <= place.left(), label.toPlainText()
            assert place.right() <= picture.right() + 1, label.toPlainText()
        for one in view.estimates:
            label = demand_methods()[one.method].label
            (name,) = (text for text in plot.texts() if text.startswith(label))
            if one.flow is not None:
                written = display.text(one.flow, FLOW) if wide else display.number(one.flow, FLOW)
                assert name == f"{label}: {written}"
            else:
                assert name == f"{label}: " + ("cannot be used" if wide else "—")
