"""The pictures in README and DEVELOPERS are made here, so that they show the program as it is.

``--update-pictures`` writes them anew; without it each is held against what the program shows now.
"""

from __future__ import annotations

import sys
from pathlib import Path

import numpy as np
import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QImage, QPainter
from PySide6.QtWidgets import QApplication, QGridLayout, QLabel, QLineEdit, QPushButton, QWidget

from workbench import paths
from workbench.gui import theme
from workbench.gui.settings import Settings
from workbench.gui.window import MainWindow
from workbench.job import document
from workbench.report.estimate import estimate_content
from workbench.report.typeset import images
from workbench.units import Display

# Elsewhere the system draws the letters, and each of them a little otherwise.
pytestmark = pytest.mark.skipif(sys.platform != "linux", reason="the pictures are made on Linux")

PICTURES = paths.resources() / "pictures"
# Antialiasing differs between builds of the font engine; a moved or missing part is far above this.
MOST_DIFFERENT = 0.02
READABLE = 96.0  # pixels per inch


def pixels(image: QImage) -> np.ndarray:
    grey = image.convertToFormat(QImage.Format.Format_Grayscale8)
    raw = np.frombuffer(grey.constBits(), dtype=np.uint8)
    return raw.reshape(grey.height(), grey.bytesPerLine())[:, : grey.width()].astype(float)


def hold(image: QImage, path: Path, update: bool) -> None:
    if update:
        path.parent.mkdir(exist_ok=True)
        assert image.save(str(path))
    kept = QImage(str(path))
    assert not kept.isNull(), f"{path.name} is missing: make it with --update-pictures"
    assert kept.size() == image.size()
    different = np.mean(np.abs(pixels(image) - pixels(kept)) > 64)
    assert different < MOST_DIFFERENT, f"{path.name} no longer shows the program"


@pytest.fixture
def update(request: pytest.FixtureRequest) -> bool:
    return bool(request.config.getoption("--update-pictures"))


def demo_window(qtbot) -> MainWindow:
    """The window as it opens the demo job on a small office screen."""
    window = MainWindow(Settings())
    qtbot.addWidget(window)
    window.store.open_job(document.read(paths.demo_job()), None)
    window.resize(1366, 728)
    with qtbot.waitSignal(window.page.completed):
        window.show()
    return window


def test_the_window_in_the_readme_is_the_window(qtbot, update):
    window = demo_window(qtbot)
    window.page.tanks.table.selectRow(2)
    window.page.inputs.rows["pump_flow"].field.clearFocus()
    qtbot.wait(50)
    hold(window.grab().toImage(), PICTURES / "window.png", update)


def test_the_day_in_the_readme_is_the_day(qtbot, update):
    window = demo_window(qtbot)
    window.go("day")
    page = window.page_of("day")
    qtbot.waitUntil(lambda: page.work.year is not None, timeout=60_000)
    page.inputs.rows["first_tank"].field.clearFocus()
    qtbot.wait(50)
    hold(window.grab().toImage(), PICTURES / "day.png", update)


def test_the_bands_in_the_readme_are_the_bands(qtbot, update):
    window = demo_window(qtbot)
    window.go("bands")
    window.page_of("bands").inputs.rows["cut_in"].field.clearFocus()
    qtbot.wait(50)
    hold(window.grab().toImage(), PICTURES / "bands.png", update)


def test_the_live_tank_in_the_readme_is_the_live_tank(qtbot, update):
    window = demo_window(qtbot)
    window.go("live")
    page = window.page_of("live")
    page.inputs.rows["first_tank"].field.clearFocus()
    page.panel.step()  # the pump is switched on
    page.panel.step()  # it gives
    for _ in range(70):
        page.panel.go_on(1.0)
    page.panel.pause()
    qtbot.wait(50)
    hold(window.grab().toImage(), PICTURES / "live.png", update)


def test_the_estimate_in_the_readme_is_the_estimate(qtbot, update):
    window = demo_window(qtbot)
    first, *_ = images(estimate_content(window.store.results, Display()), READABLE)
    hold(QImage.fromData(first), PICTURES / "estimate.png", update)


def sample(chosen: theme.Theme) -> QWidget:
    """Every role, the type steps, a field, a button and the curves of a theme."""
    page = QWidget()
    page.setPalette(theme.palette_of(chosen))
    page.setAutoFillBackground(True)
    grid = QGridLayout(page)
    grid.setContentsMargins(theme.WIDE, theme.WIDE, theme.WIDE, theme.WIDE)
    grid.setSpacing(theme.CLOSE)
    for row, (role, meaning) in enumerate(theme.ROLES.items()):
        label = QPushButton(role) if role == "primary" else QLabel(role)
        theme.set_role(label, role)
        grid.addWidget(label, row, 0)
        grid.addWidget(QLabel(meaning), row, 1)
    row = len(theme.ROLES)
    grid.addWidget(QLineEdit("28.0 psi"), row, 0)
    grid.addWidget(QLabel("a field"), row, 1)
    for place, curve in enumerate(chosen.curves):
        line = QLabel(f"━━━  curve {place + 1}: {curve.colour}, marker {curve.marker}")
        palette = line.palette()
        palette.setColor(line.foregroundRole(), curve.colour)
        line.setPalette(palette)
        grid.addWidget(line, row + 1 + place, 0, 1, 2)
    return page


def test_the_design_picture_shows_the_theme(qtbot, qapp, update):
    sides = []
    for chosen in (theme.LIGHT, theme.DARK):
        theme.apply(qapp, chosen)
        page = sample(chosen)
        qtbot.addWidget(page)
        page.resize(640, 460)
        page.show()
        QApplication.processEvents()
        sides.append(page.grab().toImage())
    theme.apply(qapp, theme.LIGHT)
    both = QImage(
        sides[0].width() * 2,
        max(image.height() for image in sides),
        QImage.Format.Format_RGB32,
    )
    both.fill(Qt.GlobalColor.white)
    painter = QPainter(both)
    try:
        for place, image in enumerate(sides):
            painter.drawImage(place * sides[0].width(), 0, image)
    finally:
        painter.end()
    hold(both, PICTURES / "design.png", update)
