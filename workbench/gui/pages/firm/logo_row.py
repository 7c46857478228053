"""The firm's logo: how it will look on paper, where to choose another, why one was refused."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import QByteArray, QRect, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QColor, QDragEnterEvent, QDropEvent, QImage, QPainter, QPixmap
from PySide6.QtWidgets import (
    QFileDialog,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QSizePolicy,
    QVBoxLayout,
    QWidget,
)

from workbench import safe_file
from workbench.gui import theme
from workbench.gui.fields.field_row import ROLES, told
from workbench.job.job import Job
from workbench.job.labels import label_of
from workbench.study.firm.logo import LARGEST_BYTES, Logo, LogoError, logo_from, logo_of
from workbench.study.firm.trial import must_print
from workbench.study.firm.view import logo_findings
from workbench.units import Display
from workbench.words import tr

_WIDE, _HIGH = 24, 8  # digits of the text: room for the picture


class LogoRow(QWidget):
    """``chosen(text)`` is emitted with the logo as it stands in a job, "" for none.

    A picture is chosen by the button or dropped here.
    """

    chosen = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._text: str | None = None
        self._folder = Path.home()
        self.setAcceptDrops(True)
        heading = QLabel(label_of("firm_logo"), self)
        theme.set_role(heading, "heading")
        self.picture = QLabel(self)
        self.what = QLabel(self)
        theme.set_role(self.what, "muted")
        self.choose_button = QPushButton(tr("Choose &logo …"), self)
        self.choose_button.setToolTip(
            tr("A PNG, JPEG or SVG picture of {most} kB at most, or drop one here. It stands at the"
               " head of every paper.", most=LARGEST_BYTES // 1024)
        )  # fmt: skip
        self.remove_button = QPushButton(tr("Re&move"), self)
        self.remove_button.setAccessibleName(tr("Remove the logo"))
        self.message = QLabel(self)
        for label in (self.what, self.message):
            label.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
            label.setWordWrap(True)
        self.message.setTextFormat(Qt.TextFormat.PlainText)
        self.message.hide()
        self.choose_button.clicked.connect(self._on_choose)
        self.remove_button.clicked.connect(self._on_remove)
        buttons = QHBoxLayout()
        for button in (self.choose_button, self.remove_button):
            buttons.addWidget(button)
        buttons.addStretch(1)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(theme.TIGHT)
        for label in (heading, self.picture, self.what):
            column.addWidget(label)
        column.addLayout(buttons)
        column.addWidget(self.message)

    # --- showing ---

    def show_job(self, job: Job, display: Display) -> None:
        """Show a job's logo; nothing is read or drawn anew while it stays the same."""
        text = job.firm_logo
        if text == self._text:
            return
        self._text = text
        self._say("", "muted")
        for finding in logo_findings(job):
            self._say(told(finding, display), ROLES[finding.level])
        try:
            logo = logo_of(text)
        except LogoError:
            logo = None
        self.what.setText(_described(logo) if logo else "" if text else tr("none"))
        self.what.setVisible(bool(self.what.text()))
        self.picture.setVisible(logo is not None)
        self.picture.setPixmap(QPixmap() if logo is None else self._drawn(logo))
        self.picture.setAccessibleName(tr("Logo: {what}", what=self.what.text()))
        self.remove_button.setEnabled(bool(text))

    def _drawn(self, logo: Logo) -> QPixmap:
        """On white, as on paper, whatever the theme."""
        room = QSize(theme.width_of(self, _WIDE), theme.width_of(self, _HIGH))
        ratio = self.devicePixelRatioF()
        image, vector = QImage(), None
        if logo.kind == "svg":
            from PySide6.QtSvg import QSvgRenderer  # not needed before the first drawing

            vector = QSvgRenderer(QByteArray(logo.data))
            size = vector.defaultSize().scaled(room, Qt.AspectRatioMode.KeepAspectRatio)
        else:
            image = QImage.fromData(logo.data)
            size = image.size().scaled(room, Qt.AspectRatioMode.KeepAspectRatio)
        if size.isEmpty():
            return QPixmap()
        pixmap = QPixmap(size * ratio)
        pixmap.fill(QColor(theme.LIGHT.base))
        painter = QPainter(pixmap)
        painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
        if vector is not None:
            vector.render(painter, QRectF(pixmap.rect()))
        else:
            painter.drawImage(QRect(pixmap.rect()), image)
        painter.end()
        pixmap.setDevicePixelRatio(ratio)
        return pixmap

    def _say(self, text: str, role: str) -> None:
        theme.set_role(self.message, role)
        self.message.setText(text)
        self.message.setVisible(bool(text))
        self.choose_button.setAccessibleDescription(text)

    # --- what a person does ---

    def take_file(self, path: Path) -> None:
        """Make the picture of a file the logo, or say why it cannot be."""
        try:
            # Far more than may be used, so that the refusal can say how large it is.
            data = safe_file.read_bytes(path, LARGEST_BYTES * 100)
            logo = logo_from(data)
            must_print(logo)
        except safe_file.ReadError as error:
            self._refuse(str(error))
        except LogoError as error:
            self._refuse(f"{error} {error.remedy}")
        else:
            self._folder = path.parent
            self._say("", "muted")
            self.chosen.emit(logo.text)

    def _refuse(self, why: str) -> None:
        self._say(tr("Not taken: {why}", why=why), "problem")

    def _on_choose(self) -> None:
        name, _ = QFileDialog.getOpenFileName(
            self,
            tr("Choose the logo"),
            str(self._folder),
            tr("Pictures") + " (*.png *.jpg *.jpeg *.svg);;" + tr("All files") + " (*)",
        )
        if name:
            self.take_file(Path(name))

    def _on_remove(self) -> None:
        self.chosen.emit("")
        self.choose_button.setFocus(Qt.FocusReason.OtherFocusReason)  # the other one is barred now

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        """Take one file; jobs and catalogues are left to the window."""
        path = _dropped(event)
        if path is not None and path.suffix.lower() not in (".csv", ".json"):
            event.acceptProposedAction()
        else:
            event.ignore()

    def dropEvent(self, event: QDropEvent) -> None:
        """Make the dropped picture the logo."""
        path = _dropped(event)
        if path is not None:
            self.take_file(path)


def _dropped(event: QDropEvent) -> Path | None:
    urls = event.mimeData().urls()
    return Path(urls[0].toLocalFile()) if len(urls) == 1 and urls[0].isLocalFile() else None


def _described(logo: Logo) -> str:
    kind = {"png": "PNG", "jpg": "JPEG", "svg": "SVG"}[logo.kind]
    size = -(-len(logo.data) // 1024)
    if logo.pixels is None:
        return tr("{kind}, {size} kB", kind=kind, size=size)
    width, height = logo.pixels
    return tr(
        "{kind}, {width} × {height} pixels, {size} kB",
        kind=kind, width=width, height=height, size=size,
    )  # fmt: skip
