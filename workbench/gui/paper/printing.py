"""A paper to a printer: the same pages as in the PDF, as pictures of 300 to the inch."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from PySide6.QtCore import QRectF, QSizeF, Qt
from PySide6.QtGui import QImage, QPageLayout, QPageSize, QPainter
from PySide6.QtWidgets import QDialog, QWidget

from workbench.gui.boxes import tell
from workbench.report.blocks import PaperContent
from workbench.words import tr

if TYPE_CHECKING:
    from PySide6.QtPrintSupport import QPrinter

PPI = 300.0
_SHEETS = {"us-letter": QPageSize.PageSizeId.Letter, "a4": QPageSize.PageSizeId.A4}


def print_paper(parent: QWidget, content: PaperContent) -> bool:
    """Ask for a printer and print; False if the user thought better of it, or was told why not."""
    # Loaded at the first print: it looks for printers.
    from PySide6.QtPrintSupport import QPrintDialog, QPrinter

    from workbench.report.typeset import PaperError, images

    title = tr("The paper was not printed")
    try:
        pages = [QImage.fromData(png) for png in images(content, PPI)]
    except PaperError as error:
        tell(parent, title, error.message, error.remedy)
        return False
    printer = QPrinter(QPrinter.PrinterMode.HighResolution)
    prepare(printer, content, pages)
    dialog = QPrintDialog(printer, parent)
    dialog.setMinMax(1, len(pages))
    dialog.finished.connect(dialog.deleteLater)
    if dialog.exec() != QDialog.DialogCode.Accepted:
        return False
    if not print_pages(printer, chosen_pages(printer, pages)):
        remedy = tr("See whether it is switched on and has paper, or choose another one.")
        tell(parent, title, tr("The printer did not take it."), remedy)
        return False
    return True


def prepare(printer: QPrinter, content: PaperContent, pages: Sequence[QImage]) -> None:
    """Set sheet, direction and name as the paper needs them."""
    printer.setDocName(content.title)
    printer.setPageSize(QPageSize(_SHEETS[content.sheet]))
    is_wide = pages[0].width() > pages[0].height()
    printer.setPageOrientation(
        QPageLayout.Orientation.Landscape if is_wide else QPageLayout.Orientation.Portrait
    )
    printer.setFullPage(True)  # the pages have margins of their own


def chosen_pages(printer: QPrinter, pages: Sequence[QImage]) -> list[QImage]:
    """The pages that were asked for in the dialog; all if none were named."""
    first, last = printer.fromPage() or 1, printer.toPage() or len(pages)
    return list(pages[first - 1 : last])


def print_pages(printer: QPrinter, pages: Sequence[QImage]) -> bool:
    """Paint each picture on a page as large as fits it; False if the printer refuses."""
    painter = QPainter()
    if not painter.begin(printer):
        return False
    try:
        painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
        for number, page in enumerate(pages):
            if number and not printer.newPage():
                return False
            painter.drawImage(place_of(page, QRectF(painter.viewport())), page)
    finally:
        painter.end()
    return True


def place_of(page: QImage, sheet: QRectF) -> QRectF:
    """Where a page lies on a sheet: in its middle, as large as fits."""
    fitted = QRectF(sheet)
    fitted.setSize(QSizeF(page.size()).scaled(sheet.size(), Qt.AspectRatioMode.KeepAspectRatio))
    fitted.moveCenter(sheet.center())
    return fitted
