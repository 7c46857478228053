"""The controls beneath the live tank: play, step, speed, time, tap."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QSignalBlocker, QSize, Qt, Signal
from PySide6.QtGui import QWheelEvent
from PySide6.QtWidgets import QHBoxLayout, QLabel, QPushButton, QSlider, QWidget

from workbench.gui import theme
from workbench.gui.fields.choice_field import ChoiceField
from workbench.gui.live.player import SPEEDS
from workbench.gui.live.wrapped import Wrapped
from workbench.words import tr

_TENTHS = 10  # of a second are a step of the slider
_SLIDER = 22  # digits: how wide it is


class TimeSlider(QSlider):
    """The recorded past, in tenths of a second; deaf to the wheel until it has the focus."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(Qt.Orientation.Horizontal, parent)
        self.setSingleStep(_TENTHS)
        self.setPageStep(10 * _TENTHS)
        self.setAccessibleName(tr("Time"))

    def sizeHint(self) -> QSize:
        """Wide enough to find a moment."""
        return QSize(theme.width_of(self, _SLIDER), max(super().sizeHint().height(), theme.TARGET))

    def minimumSizeHint(self) -> QSize:
        """Half of that."""
        return QSize(theme.width_of(self, 0.5 * _SLIDER), self.sizeHint().height())

    def wheelEvent(self, event: QWheelEvent) -> None:
        """Scroll the page, not the time, unless this is where the person works."""
        if self.hasFocus():
            super().wheelEvent(event)
        else:
            event.ignore()


class Transport(Wrapped):
    """Buttons, speed and time. Emits what is wanted, and shows what is."""

    played = Signal()
    stepped = Signal()
    stepped_back = Signal()
    restarted = Signal()
    tapped = Signal()
    saved = Signal()
    printed = Signal()
    speed_chosen = Signal(float)
    sought = Signal(float)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.play = self._button(tr("Play"), self._on_play)
        theme.set_role(self.play, "primary")
        self.back = self._button(tr("One back"), self._on_back)
        self.step = self._button(tr("Next event"), self._on_step)
        self.tap = self._button(tr("Shut the tap"), self._on_tap)
        labels = {place: _speed_label(speed) for place, speed in enumerate(SPEEDS)}
        self.speed = ChoiceField(labels)
        self.speed.setAccessibleName(tr("Speed"))
        self.speed.chosen.connect(self._on_speed)
        self.speed.show_value(SPEEDS.index(1.0))
        self._named(tr("Speed:"), self.speed)
        self.slider = TimeSlider()
        self.slider.valueChanged.connect(self._on_slider)
        self._named(tr("Time:"), self.slider)
        self.again = self._button(tr("Start again"), self._on_again)
        self.save = self._button(tr("Save picture …"), self._on_save)
        self.print = self._button(tr("Print …"), self._on_print)

    def _button(self, text: str, does: Callable[[], None]) -> QPushButton:
        button = QPushButton(text, self)
        button.clicked.connect(does)
        self.add(button)
        return button

    def _named(self, text: str, control: QWidget) -> None:
        """A label and its control, which stay together."""
        pair = QWidget(self)
        row = QHBoxLayout(pair)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(theme.TIGHT)
        label = QLabel(text, pair)
        label.setBuddy(control)
        row.addWidget(label)
        row.addWidget(control)
        self.add(pair)

    # --- showing ---

    def show_playing(self, plays: bool) -> None:
        """Whether it plays."""
        self.play.setText(tr("Pause") if plays else tr("Play"))

    def show_tap(self, is_open: bool) -> None:
        """Whether the tap is open."""
        self.tap.setText(tr("Shut the tap") if is_open else tr("Open the tap"))

    def show_time(self, beginning: float, now: float, shown: float) -> None:
        """The past that is remembered, and the moment that is shown [s]."""
        with QSignalBlocker(self.slider):
            self.slider.setRange(int(beginning * _TENTHS), int(now * _TENTHS))
            self.slider.setValue(int(shown * _TENTHS))

    def tell_time(self, now: float, shown: float) -> None:
        """Say the moment in words, for the slider alone counts in tenths of a second."""
        text = tr("{shown} s of {now} s", shown=f"{shown:.1f}", now=f"{now:.1f}")
        self.slider.setAccessibleDescription(text)

    # --- wanted ---

    def _on_play(self) -> None:
        self.played.emit()

    def _on_back(self) -> None:
        self.stepped_back.emit()

    def _on_step(self) -> None:
        self.stepped.emit()

    def _on_tap(self) -> None:
        self.tapped.emit()

    def _on_again(self) -> None:
        self.restarted.emit()

    def _on_save(self) -> None:
        self.saved.emit()

    def _on_print(self) -> None:
        self.printed.emit()

    def _on_speed(self, place: object) -> None:
        assert isinstance(place, int)  # noqa: S101 - a key of the labels
        self.speed_chosen.emit(SPEEDS[place])

    def _on_slider(self, value: int) -> None:
        is_last = value >= self.slider.maximum()
        self.sought.emit(float("inf") if is_last else value / _TENTHS)


def _speed_label(speed: float) -> str:
    if speed < 1.0:
        return tr("slow, 1/4")
    if speed == 1.0:
        return tr("true speed")
    return tr("{times} times", times=f"{speed:g}")
