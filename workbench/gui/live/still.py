"""A still of the live tank: the same painting as on the screen, as drawings for paper."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QBuffer, QIODevice, QRect, QSize
from PySide6.QtGui import QPainter
from PySide6.QtWidgets import QApplication

from workbench.gui import theme
from workbench.gui.live.arranged import places_for
from workbench.gui.live.sketch import line_height
from workbench.gui.live.tank_moving import draw_moving
from workbench.gui.live.tank_still import draw_still
from workbench.gui.marks import painting
from workbench.words import tr

if TYPE_CHECKING:
    from workbench.gui.live.panel import LivePanel
    from workbench.gui.live.plot_view import PlotView
    from workbench.gui.live.scene import Scene
    from workbench.report.blocks import PaperContent
    from workbench.units import Display

_TANK = (29.0, 33.0)  # width and height of the picture in heights of a line of its text
_PLOT = (20.0, 16.0)
_LINE = 9.6  # points that a line of the drawings' text is high on paper
_SIZE = re.compile(r'<svg width="[^"]*" height="[^"]*"')


def still_paper(panel: LivePanel) -> PaperContent | None:
    """The paper of what a panel shows now; None while it shows no rig."""
    from workbench.report.paper_display import paper_display
    from workbench.report.still import Still, still_content

    results, player, scene = panel.results, panel.player, panel.tank.scene
    if results is None or scene is None or player.recording is None:
        return None
    display = paper_display(results.job, panel.store.display)
    drawn = Still(
        rig=scene.rig,
        moment=player.moment,
        tap=player.drawn,
        last_event=player.last_event,
        tank=tank_svg(scene, display),
        trace=plot_svg(panel.trace, display),
        path=plot_svg(panel.path, display),
    )
    return still_content(results, drawn, display)


def tank_svg(scene: Scene, display: Display) -> str:
    """The tank, without what is only there to be taken hold of."""
    shown = replace(scene, display=display, grips=False, chosen="")

    def paint(painter: QPainter, width: float, height: float) -> None:
        places = places_for(shown, width, height)
        draw_still(painter, places, shown, theme.LIGHT)
        draw_moving(painter, places, shown, theme.LIGHT)

    return _svg(paint, _TANK)


def plot_svg(view: PlotView, display: Display) -> str:
    """A plot as it is now."""
    before = view.display
    view.display = display

    def paint(painter: QPainter, width: float, height: float) -> None:
        view.draw_all(painter, width, height, theme.LIGHT)

    try:
        return _svg(paint, _PLOT)
    finally:
        view.display = before


def _svg(paint: Callable[[QPainter, float, float], None], lines: tuple[float, float]) -> str:
    """What is painted, as SVG whose size is told in points."""
    from PySide6.QtSvg import QSvgGenerator

    line = line_height()
    width, height = (round(share * line) for share in lines)
    buffer = QBuffer()
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    generator = QSvgGenerator()
    generator.setOutputDevice(buffer)
    generator.setSize(QSize(width, height))
    generator.setViewBox(QRect(0, 0, width, height))
    screen = QApplication.primaryScreen()
    generator.setResolution(round(screen.logicalDotsPerInch()))  # so that text is as wide as there
    with painting(generator) as painter:
        paint(painter, float(width), float(height))
    text = bytes(buffer.data().data()).decode()
    scale = _LINE / line
    size = f'<svg width="{width * scale:.2f}pt" height="{height * scale:.2f}pt"'
    return _SIZE.sub(size, text, count=1)


# --- files and printers ---


def save_still(panel: LivePanel) -> str:
    """Ask for a file and write the still; what was done, "" if nothing."""
    from workbench.gui.paper.saving import save_pdf, suggested_name

    content = still_paper(panel)
    if content is None:
        return ""
    store = panel.store
    folder = store.path.parent if store.path else Path.home()
    path = save_pdf(panel, content, folder, suggested_name(content.title))
    return "" if path is None else tr("Saved as {name}.", name=path.name)


def give_to_printer(panel: LivePanel) -> str:
    """Ask for a printer and print the still; what was done, "" if nothing."""
    from workbench.gui.paper.printing import print_paper

    content = still_paper(panel)
    if content is not None and print_paper(panel, content):
        return tr("Given to the printer.")
    return ""
