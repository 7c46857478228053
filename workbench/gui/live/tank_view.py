"""The live tank as a widget: paints the picture, and lets hold of its handles be taken."""

from __future__ import annotations

from dataclasses import replace

from PySide6.QtCore import QEvent, QPointF, QSize, Qt, Signal
from PySide6.QtGui import (
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QPixmap,
    QResizeEvent,
)
from PySide6.QtWidgets import QSizePolicy, QWidget

from workbench.gui import theme
from workbench.gui.fields.entry_field import new_episode
from workbench.gui.live.arranged import least_size, places_for, wide_width
from workbench.gui.live.handles import MANY, ORDER, Handle
from workbench.gui.live.places import Places
from workbench.gui.live.scene import Scene
from workbench.gui.live.tank_moving import draw_moving, grip_size
from workbench.gui.live.tank_still import draw_still
from workbench.gui.marks import painting
from workbench.study.live.rig import Rig
from workbench.units import Quantity
from workbench.words import tr

_UP = {Qt.Key.Key_Up: 1, Qt.Key.Key_Plus: 1, Qt.Key.Key_Down: -1, Qt.Key.Key_Minus: -1}


class TankView(QWidget):
    """Emits ``moved(entry, quantity, episode)`` while a handle is moved, ``chose()`` when another
    is taken, ``played()`` when Space asks for play or pause."""

    moved = Signal(str, object, int)
    chose = Signal()
    played = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.scene: Scene | None = None
        self._places: Places | None = None
        self._still: QPixmap | None = None
        self._held: tuple[Handle, float] | None = None  # as it was, and the value under the pointer
        self._episode = -1
        self._keys_move = ""  # the handle that an episode of keys moves
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setMouseTracking(True)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.setAttribute(Qt.WidgetAttribute.WA_OpaquePaintEvent)
        self.setAccessibleName(tr("Live tank"))
        self.setWhatsThis(
            tr("Keys: 1 to 7 or Left and Right choose a handle, Up and Down move it a step, with"
               " Shift ten steps; Space plays and pauses.")
        )  # fmt: skip
        self.setToolTip(self.whatsThis())

    def tell(self, text: str) -> None:
        """Describe the state to a screen reader, here and where the focus is."""
        self.setAccessibleDescription(text)
        proxy = self.focusProxy()
        if proxy is not None:
            proxy.setAccessibleDescription(text)

    # --- what is shown ---

    def show_scene(self, scene: Scene) -> None:
        """Show another rig, other units or other values of the handles."""
        if self.scene is not None:
            scene.chosen, scene.turn, scene.flowed = (
                self.scene.chosen,
                self.scene.turn,
                self.scene.flowed,
            )
        self.scene = scene
        self._forget()

    def show_rig(self, rig: Rig) -> None:
        """Show another rig that is set as the one before, as after a loss of charge."""
        if self.scene is not None:
            self.scene.rig = rig
            self._forget()

    def clear(self) -> None:
        """Show nothing."""
        self.scene = None
        self._forget()

    def places(self) -> Places:
        """Where everything lies now; while a handle is held its scales stay.

        Raises:
            ValueError: nothing is shown.
        """
        if self.scene is None:
            raise ValueError("no scene")
        if self._places is None:
            self._places = places_for(self.scene, self.width(), self.height())
        return self._places

    @property
    def is_held(self) -> bool:
        """Whether the pointer holds a handle."""
        return self._held is not None

    def _forget(self) -> None:
        """Lay out and draw anew; scales stay while a handle is held."""
        before = self._places
        self._still = self._places = None
        if self._held is not None and before is not None and self.scene is not None:
            new = places_for(self.scene, self.width(), self.height())
            self._places = replace(new, dial=before.dial, scale=before.scale, flow=before.flow)
        self.updateGeometry()
        self.update()

    def minimumSizeHint(self) -> QSize:
        """So large that no text lies on another, at the width that it has."""
        if self.scene is None:
            return QSize()
        width, height = least_size(self.scene, self.width())
        return QSize(round(width + 0.5), round(height + 0.5))

    @property
    def wide_width(self) -> int:
        """The least width at which gauge and switch stand beside the tank."""
        return 0 if self.scene is None else round(wide_width(self.scene) + 0.5)

    def sizeHint(self) -> QSize:
        """No larger: what room there is, it takes."""
        return self.minimumSizeHint()

    def paintEvent(self, _event: QPaintEvent) -> None:
        """What stands still from a picture of it, then what moves."""
        with painting(self) as painter:
            if self.scene is None:
                painter.fillRect(self.rect(), self.palette().window())
                return
            look, places = theme.current(), self.places()
            if self._still is None:
                self._still = self._draw_still(places)
            painter.drawPixmap(0, 0, self._still)
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            draw_moving(painter, places, self.scene, look)

    def _draw_still(self, places: Places) -> QPixmap:
        assert self.scene is not None  # noqa: S101 - paintEvent has asked
        scale = self.devicePixelRatioF()
        still = QPixmap(self.size() * scale)
        still.setDevicePixelRatio(scale)
        still.fill(theme.current().window)
        with painting(still) as painter:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            draw_still(painter, places, self.scene, theme.current())
        return still

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Lay out anew; the height that it needs may be another one."""
        super().resizeEvent(event)
        self._still = self._places = None
        if event.oldSize().width() != event.size().width():
            self.updateGeometry()

    def changeEvent(self, event: QEvent) -> None:
        """Take the colours and the font that are shown now."""
        super().changeEvent(event)
        if event.type() in (QEvent.Type.PaletteChange, QEvent.Type.FontChange):
            self._still = self._places = None
            self.updateGeometry()
            self.update()

    # --- pointer ---

    def handle_at(self, point: QPointF) -> Handle | None:
        """The handle nearest to a point, if it can be hit from there."""
        if self.scene is None or not self.scene.grips:
            return None
        places, reach = self.places(), max(0.5 * theme.TARGET, grip_size(self.places()))
        found = None
        for handle in self.scene.handles:
            away = point - places.place_of(handle.entry, handle.value, handle.low, handle.high)
            distance = (away.x() ** 2 + away.y() ** 2) ** 0.5
            if distance <= reach:
                found, reach = handle, distance
        return found

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Take hold of a handle."""
        handle = self.handle_at(event.position())
        if event.button() != Qt.MouseButton.LeftButton or handle is None:
            super().mousePressEvent(event)
            return
        self._choose(handle.entry)
        self._episode = new_episode()
        self._held = (handle, self._under(handle, event.position()))

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Move what is held by as much as the pointer has moved."""
        if self._held is None or self.scene is None:
            shape = Qt.CursorShape
            is_grip = self.handle_at(event.position()) is not None
            self.setCursor(shape.OpenHandCursor if is_grip else shape.ArrowCursor)
            return
        handle, start = self._held
        value = handle.value + self._under(handle, event.position()) - start
        # Its range may have changed since; another handle's step may have moved its ends.
        now = self.scene.handle(handle.entry)
        self.moved.emit(handle.entry, now.at(value, self.scene.display), self._episode)

    def mouseReleaseEvent(self, _event: QMouseEvent) -> None:
        """Let go; scales may now follow what has changed."""
        if self._held is not None:
            self._held = None
            self._forget()

    def _under(self, handle: Handle, point: QPointF) -> float:
        return self.places().value_at(handle.entry, point, handle.low, handle.high)

    # --- keys ---

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Choose a handle, move it, play."""
        event.accept()
        key = Qt.Key(event.key())
        steps = _UP.get(key)
        if self.scene is None:
            event.ignore()
        elif steps is not None and self.scene.chosen:
            shift = event.modifiers() & Qt.KeyboardModifier.ShiftModifier
            self._move(steps * (MANY if shift else 1))
        elif Qt.Key.Key_1 <= key < Qt.Key.Key_1 + len(ORDER):
            self._choose(ORDER[key - Qt.Key.Key_1])
        elif key in (Qt.Key.Key_Left, Qt.Key.Key_Right):
            self._choose_next(1 if key == Qt.Key.Key_Right else -1)
        elif key == Qt.Key.Key_Space:
            self.played.emit()
        else:
            event.ignore()

    def begin_visit(self) -> None:
        """What the keys move from now on becomes a step of its own."""
        self._keys_move = ""

    def _choose_next(self, by: int) -> None:
        assert self.scene is not None  # noqa: S101 - keyPressEvent has asked
        if self.scene.chosen:
            self._choose(ORDER[(ORDER.index(self.scene.chosen) + by) % len(ORDER)])
        else:
            self._choose(ORDER[0 if by > 0 else -1])

    def _choose(self, entry: str) -> None:
        assert self.scene is not None  # noqa: S101 - its callers have asked
        self.scene.chosen = entry
        self._keys_move = ""
        self.update()
        self.chose.emit()

    def _move(self, steps: int) -> None:
        assert self.scene is not None  # noqa: S101 - keyPressEvent has asked
        handle = self.scene.handle(self.scene.chosen)
        if self._keys_move != handle.entry:
            self._keys_move, self._episode = handle.entry, new_episode()
        quantity: Quantity = handle.moved(steps, self.scene.display)
        self.moved.emit(handle.entry, quantity, self._episode)
