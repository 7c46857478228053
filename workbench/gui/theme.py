"""How the program looks: colours, type, spacing, the focus ring; nothing outside sets any of them.

``apply(app)`` dresses the whole application and may be called again at any time with another theme.
A widget says what it is, never how it looks: ``set_role(label, "answer")``. What paints by itself
asks ``current()`` for the theme, and asks again in ``changeEvent`` on ``PaletteChange``.

Contrast is measured by WCAG 2.2 (W3C Recommendation, 2024): success criteria 1.4.3 for text
(4.5:1), 1.4.11 for curves, frames of fields and the focus ring (3:1); the tests measure all of it,
in the palette and in the pixels.
"""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import QEvent, QObject, QRectF, Qt
from PySide6.QtGui import (
    QColor,
    QFont,
    QFontDatabase,
    QFontInfo,
    QPainter,
    QPaintEvent,
    QPalette,
    QPen,
)
from PySide6.QtWidgets import (
    QApplication,
    QFocusFrame,
    QLabel,
    QMenu,
    QMenuBar,
    QScrollArea,
    QWidget,
)
from shiboken6 import isValid

from workbench import paths

# Spacing, in device-independent pixels: between words of one line, of one group, between fields,
# between groups, around a page.
TIGHT, CLOSE, NEAR, APART, WIDE = 4, 8, 12, 16, 24

# Type, in multiples of the user's own text size.
BODY, HEADING, TITLE, ANSWER = 1.0, 1.15, 1.5, 2.2

# Smallest side of what can be clicked, in device-independent pixels (WCAG 2.2, 2.5.8).
TARGET = 24

# One pixel lies on the frame of the control and changes little; the other two are the mark.
RING_WIDTH = 3
CURVE_WIDTH, OWN_CURVE_WIDTH = 1.5, 3.0

ROLES = {
    "answer": "the one result a page is about: 2.2 times the text size, bold",
    "title": "what a page is called: 1.5 times, bold",
    "heading": "what a group is called: 1.15 times, bold",
    "muted": "the reason, the source, the unit beside a number: quieter than the text",
    "note": "a remark that asks for nothing: quieter than the text",
    "good": "what passes; always with a word",
    "caution": "what to look at before going on; always with a word",
    "problem": "what is wrong and stops an instruction; always with a word",
    "primary": "on a button: the one step that leads on",
}


@dataclass(frozen=True, slots=True)
class Curve:
    """What tells one curve from the next: colour, dash (in pen widths; empty: solid), marker."""

    colour: str
    dash: tuple[float, ...]
    marker: str  # a symbol's name in pyqtgraph


@dataclass(frozen=True, slots=True)
class Theme:
    """Every colour of the program by what it is for, each as ``#rrggbb``."""

    name: str
    window: str
    base: str
    alternate: str  # every other row of a table
    button: str
    text: str
    muted: str
    disabled: str
    accent: str
    on_accent: str
    visited: str
    good: str
    caution: str
    stop: str
    frame: str  # around fields and buttons
    axis: str
    grid: str
    selection: str  # behind the row that is the user's own
    curves: tuple[Curve, ...]


def _curves(*colours: str) -> tuple[Curve, ...]:
    dashes: tuple[tuple[float, ...], ...] = ((), (6, 3), (2, 2), (8, 3, 2, 3))
    return tuple(Curve(*parts) for parts in zip(colours, dashes, "ostd", strict=True))


LIGHT = Theme(
    name="light",
    window="#F6F5F1",
    base="#FFFFFF",
    alternate="#F6F5F1",
    button="#ECEAE4",
    text="#1C2126",
    muted="#59636E",
    disabled="#8D949B",
    accent="#0A5F73",
    on_accent="#FFFFFF",
    visited="#5E4B8B",
    good="#1B6E45",
    caution="#8A5200",
    stop="#A8261C",
    frame="#767C83",
    axis="#59636E",
    grid="#DCDAD3",
    selection="#D9EAEE",
    curves=_curves("#0072B2", "#D55E00", "#009E73", "#B0578D"),
)

DARK = Theme(
    name="dark",
    window="#15191C",
    base="#1D2226",
    alternate="#232A2F",
    button="#2B3338",
    text="#E9ECEE",
    muted="#A4AEB6",
    disabled="#6C757C",
    accent="#6EC3D6",
    on_accent="#0E1214",
    visited="#B9A6E8",
    good="#74C79A",
    caution="#E6B45C",
    stop="#FF8F84",
    frame="#7C858C",
    axis="#A4AEB6",
    grid="#343C42",
    selection="#1F3F48",
    curves=_curves("#4FA3DE", "#F08A4B", "#3FBF97", "#D98BBE"),
)


def apply(app: QApplication, theme: Theme | None = None) -> None:
    """Dress ``app``, at start or later; without ``theme`` follow the system's light or dark."""
    keeper = app.findChild(_Keeper) or _Keeper(app)
    keeper.dress(theme)


def current() -> Theme:
    """The theme that the application wears."""
    # Not a widget's palette: a style sheet may have put other colours into that.
    base = QApplication.palette().color(QPalette.ColorRole.Base)
    return DARK if base.lightnessF() < 0.5 else LIGHT


def system_theme(app: QApplication) -> Theme:
    """The theme that the system asks for; light where it does not say."""
    return DARK if app.styleHints().colorScheme() == Qt.ColorScheme.Dark else LIGHT


def set_role(widget: QWidget, role: str) -> None:
    """Say what ``widget`` is, one of :data:`ROLES`; may be called again when that changes.

    An empty role makes it plain text again.

    Raises:
        ValueError: There is no such role.
    """
    if role and role not in ROLES:
        raise ValueError(f"no role '{role}'; there are {', '.join(ROLES)}")
    if (widget.property("role") or "") == role:
        return
    widget.setProperty("role", role)
    if widget.testAttribute(Qt.WidgetAttribute.WA_WState_Polished):
        widget.style().unpolish(widget)
        widget.style().polish(widget)


def font(step: float = BODY, *, bold: bool = False) -> QFont:
    """The program's font at ``step`` times the user's text size, for what paints by itself."""
    scaled = QFont(QApplication.font())
    scaled.setPointSizeF(scaled.pointSizeF() * step)
    scaled.setBold(bold)
    return scaled


def width_of(widget: QWidget, characters: float) -> int:
    """The width of so many digits in the widget's font; grows with the text, as pixels do not."""
    return round(widget.fontMetrics().horizontalAdvance("0") * characters)


def palette_of(theme: Theme) -> QPalette:
    """Every role of a palette for all three groups."""
    palette = QPalette()
    role, group = QPalette.ColorRole, QPalette.ColorGroup
    colours = {
        role.Window: theme.window,
        role.WindowText: theme.text,
        role.Base: theme.base,
        role.AlternateBase: theme.alternate,
        role.Text: theme.text,
        role.PlaceholderText: theme.muted,
        role.Button: theme.button,
        role.ButtonText: theme.text,
        role.BrightText: theme.stop,
        role.ToolTipBase: theme.base,
        role.ToolTipText: theme.text,
        role.Highlight: theme.accent,
        role.HighlightedText: theme.on_accent,
        role.Accent: theme.accent,
        role.Link: theme.accent,
        role.LinkVisited: theme.visited,
        role.Light: theme.base,
        role.Midlight: theme.alternate,
        role.Mid: theme.grid,
        role.Dark: theme.frame,
        role.Shadow: theme.frame,
    }
    for where, colour in colours.items():
        palette.setColor(where, QColor(colour))
    for where in (role.WindowText, role.Text, role.ButtonText, role.PlaceholderText):
        palette.setColor(group.Disabled, where, QColor(theme.disabled))
    palette.setColor(group.Disabled, role.Base, QColor(theme.window))
    palette.setColor(group.Disabled, role.Highlight, QColor(theme.grid))
    palette.setColor(group.Disabled, role.HighlightedText, QColor(theme.text))
    return palette


# What Fusion frames with a line of Window.darker(140); with the plain palette that line has 2:1.
_FRAMED = (
    "QAbstractButton",
    "QAbstractSpinBox",
    "QComboBox",
    "QLineEdit",
    "QPlainTextEdit",
    "QTextEdit",
)


def _framed(palette: QPalette, theme: Theme) -> QPalette:
    framed = QPalette(palette)
    framed.setColor(QPalette.ColorRole.Window, QColor(theme.frame).lighter(140))
    return framed


def _style_sheet(theme: Theme, size: float) -> str:
    """What a palette cannot say; kept short, for each rule is tried on each widget."""

    def type_(step: float) -> str:
        return f"font-size: {size * step:.2f}pt; font-weight: bold;"

    return f"""
    *[role="answer"] {{ {type_(ANSWER)} }}
    *[role="title"] {{ {type_(TITLE)} }}
    *[role="heading"] {{ {type_(HEADING)} }}
    *[role="muted"], *[role="note"] {{ color: {theme.muted}; }}
    *[role="good"] {{ color: {theme.good}; }}
    *[role="caution"] {{ color: {theme.caution}; }}
    *[role="problem"] {{ color: {theme.stop}; }}
    QPushButton[role="primary"] {{
        background: {theme.accent}; color: {theme.on_accent}; font-weight: bold;
        border: 1px solid {theme.accent}; border-radius: 3px; padding: {TIGHT}px {APART}px;
    }}
    QPushButton[role="primary"]:pressed {{ background: {theme.muted}; }}
    QPushButton[role="primary"]:disabled {{
        background: {theme.grid}; color: {theme.disabled}; border-color: {theme.grid};
    }}
    QTableView, PageList {{
        selection-background-color: {theme.selection}; selection-color: {theme.text};
    }}
    QCheckBox, QRadioButton {{ padding: {TIGHT}px; }}
    QSlider {{ min-height: {TARGET}px; }}
    QAbstractSpinBox {{ min-height: {TARGET - 3}px; }}  /* Fusion adds 3 */
    """


class _Keeper(QObject):
    """Holds the theme of one application, and follows its font, its focus and the system."""

    def __init__(self, app: QApplication) -> None:
        super().__init__(app)
        self._app = app
        self._chosen: Theme | None = None
        self._ring: _FocusRing | None = None
        app.setStyle("Fusion")
        app.setFont(_own_font(app.font()))
        app.fontChanged.connect(self._on_font_changed)
        app.focusChanged.connect(self._on_focus_changed)
        app.styleHints().colorSchemeChanged.connect(self._on_scheme_changed)

    def dress(self, chosen: Theme | None) -> None:
        self._chosen = chosen
        theme = self._shown()
        palette = palette_of(theme)
        self._app.setPalette(palette)
        framed = _framed(palette, theme)
        for name in _FRAMED:
            self._app.setPalette(framed, name)  # type: ignore[arg-type]  # takes str only
        self._app.setStyleSheet(_style_sheet(theme, self._app.font().pointSizeF()))
        _recolour_links(self._app)

    def _on_font_changed(self, _font: QFont) -> None:
        # The type scale stands in the style sheet in points: Qt's style sheets know
        # no size relative to the application's font.
        self._app.setStyleSheet(_style_sheet(self._shown(), self._app.font().pointSizeF()))

    def _on_scheme_changed(self, _scheme: Qt.ColorScheme) -> None:
        if self._chosen is None:
            self.dress(None)

    def _on_focus_changed(self, _old: QWidget | None, now: QWidget | None) -> None:
        if self._ring is not None and isValid(self._ring):  # its owner may be gone, and it with it
            self._ring.hide()
            self._ring.deleteLater()
        self._ring = _FocusRing(now) if now is not None and _takes_ring(now) else None
        if now is not None and QApplication.mouseButtons() == Qt.MouseButton.NoButton:
            _bring_into_sight(now)

    def _shown(self) -> Theme:
        return self._chosen or system_theme(self._app)


def _recolour_links(app: QApplication) -> None:
    """A label keeps the colour that links had when its text was set, so set it again."""
    for widget in app.allWidgets():
        if isinstance(widget, QLabel) and "<a " in widget.text():
            text = widget.text()
            widget.clear()
            widget.setText(text)


def _bring_into_sight(widget: QWidget) -> None:
    """Scroll to what the keyboard has come to; Qt does so only when it stays in one scroll area."""
    area = widget.parentWidget()
    while area is not None:
        if isinstance(area, QScrollArea):
            area.ensureWidgetVisible(widget, 0, APART)
        area = area.parentWidget()


def _takes_ring(widget: QWidget) -> bool:
    return not (widget.isWindow() or isinstance(widget, QMenu | QMenuBar))


class _FocusRing(QFocusFrame):
    """A ring just inside the edge of the widget that has the focus.

    Fusion's own mark changes too few pixels to be seen. A style sheet that draws a border makes Qt
    give up the native drawing of combo boxes, buttons and check boxes; a proxy style in Python is
    called several times for each widget painted. This is one small widget. It lies inside its
    owner, so that no parent's edge, splitter or scroll area cuts it off; as a QFocusFrame (whose
    own way of following a widget is not used) it is left out of the tree for screen readers.
    """

    def __init__(self, owner: QWidget) -> None:
        super().__init__(owner)
        self._owner = owner
        self.setObjectName("qt_focus_ring")
        self.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        owner.installEventFilter(self)
        self.setGeometry(owner.rect())
        self.show()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Keep the owner's size."""
        if watched is self._owner and event.type() == QEvent.Type.Resize:
            self.setGeometry(self._owner.rect())
        return False

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Draw the ring; on a filled button in the colour of its text."""
        theme = current()
        filled = self._owner.property("role") == "primary"
        pen = QPen(QColor(theme.on_accent if filled else theme.accent), RING_WIDTH)
        pen.setJoinStyle(Qt.PenJoinStyle.MiterJoin)
        painter = QPainter(self)
        painter.setPen(pen)
        half = RING_WIDTH / 2
        painter.drawRect(QRectF(self.rect()).adjusted(half, half, -half, -half))
        painter.end()


def _own_font(system: QFont) -> QFont:
    """The bundled typeface at the system's text size, with the system's own behind it."""
    for name in ("NotoSans-Regular.ttf", "NotoSans-Bold.ttf"):
        QFontDatabase.addApplicationFont(str(paths.resources() / "fonts" / name))
    own = QFont(system)
    own.setFamilies(["Noto Sans", *system.families()])
    own.setPointSizeF(QFontInfo(system).pointSizeF())
    return own
