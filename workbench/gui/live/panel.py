"""The live tank with trace and path, its controls, and what happens in words."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import TYPE_CHECKING

from PySide6.QtCore import QElapsedTimer, Qt, QTimer, Signal
from PySide6.QtGui import QAccessible, QAccessibleAnnouncementEvent, QHideEvent, QShowEvent
from PySide6.QtWidgets import QLabel, QSizePolicy, QVBoxLayout, QWidget

from workbench.gui import theme
from workbench.gui.explain.figure import Figure
from workbench.gui.explain.painted import PaintedFigures
from workbench.gui.live.beside import Beside
from workbench.gui.live.handles import MANY, changes, handles_of
from workbench.gui.live.path_view import PathView
from workbench.gui.live.places import dial_end
from workbench.gui.live.player import Player
from workbench.gui.live.said import Said
from workbench.gui.live.scene import Scene
from workbench.gui.live.still import give_to_printer, save_still
from workbench.gui.live.tank_view import TankView
from workbench.gui.live.trace_view import TraceView
from workbench.gui.live.transport import Transport
from workbench.gui.pages.fitted import Fitted
from workbench.gui.store import Store
from workbench.study.live.view import kept_tank
from workbench.study.live.words import state_text, what_happens
from workbench.units import Quantity
from workbench.words import tr

if TYPE_CHECKING:
    from workbench.study.evaluate import Results
    from workbench.study.explain.watching import Watching
    from workbench.study.live.rig import Rig

FRAME = 16
"""Milliseconds between two frames."""
_LONGEST = 1.0  # s that pass at once at most: after a machine's sleep it does not race
_TURNS = 0.9  # of the pump's wheel in a second of ours
_SLIDER_EVERY = 0.25  # s of ours between two moves of the slider


class LivePanel(Fitted):
    """Shows the rig that ``rig_of`` makes of the store's results, and plays it.

    ``rig_of(results)`` gives the rig (None: there is none), what the tap draws [m³/s] and why there
    is no rig. It stands still until Play is pressed, and runs only while it is seen. What is moved
    in the picture goes into the job through the store. ``with_handles``: whether there is anything
    to take hold of. ``moved`` tells that another moment stands there: at each frame, step and
    search. ``settled`` tells that it stands there to be read: at a pause, a step, or another rig,
    not while it plays.
    """

    moved = Signal()
    settled = Signal()

    def __init__(
        self,
        store: Store,
        rig_of: Callable[[Results], tuple[Rig | None, float | None, str]],
        parent: QWidget | None = None,
        *,
        with_handles: bool = True,
    ) -> None:
        super().__init__(parent)
        self.store = store
        self._rig_of = rig_of
        self._with_handles = with_handles
        self._results: Results | None = None
        self._draw: float | None = None
        self.player = Player()
        self._told = ""
        self._since_slider = 0.0
        self._clock = QElapsedTimer()
        self.timer = QTimer(self)
        self.timer.setTimerType(Qt.TimerType.PreciseTimer)
        self.timer.setInterval(FRAME)
        self.timer.timeout.connect(self._on_frame)
        self._build()
        self._connect()

    def _build(self) -> None:
        self.words = Said(self)
        self.tank = TankView()
        PaintedFigures(self.tank, self._figures)
        self.trace = TraceView()
        self.path = PathView()
        plots = QWidget()
        column = QVBoxLayout(plots)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(theme.CLOSE)
        column.addWidget(self.trace, 1)
        column.addWidget(self.path, 1)
        self.pictures = Beside(self.tank, plots, self)
        self.hint = QLabel(self)
        self.hint.setWordWrap(True)
        theme.set_role(self.hint, "muted")
        self.transport = Transport(self)
        self.done = QLabel(self)
        self.done.setWordWrap(True)
        self.done.setProperty("userText", True)  # noqa: FBT003 - Qt's own signature
        theme.set_role(self.done, "note")
        self.done.hide()
        for label in (self.hint, self.done):
            label.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Minimum)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(theme.CLOSE)
        layout.addWidget(self.words)
        layout.addWidget(self.pictures, 1)
        for widget in (self.hint, self.transport, self.done):
            layout.addWidget(widget)

    def _connect(self) -> None:
        self.tank.moved.connect(self._on_moved)
        self.tank.chose.connect(self._show_hint)
        self.tank.played.connect(self.play_or_pause)
        self.trace.moved.connect(self._on_moved)
        self.trace.released.connect(self.refresh)
        self.trace.sought.connect(self.seek)
        moves = self.transport
        moves.played.connect(self.play_or_pause)
        moves.stepped.connect(self.step)
        moves.stepped_back.connect(self.step_back)
        moves.restarted.connect(self.start_again)
        moves.tapped.connect(self.turn_tap)
        moves.speed_chosen.connect(self.set_speed)
        moves.sought.connect(self.seek)
        moves.saved.connect(self.save_picture)
        moves.printed.connect(self.print_picture)

    # --- showing what the store holds ---

    def refresh(self) -> None:
        """Show the rig of the present results; what plays goes on from the same pressure."""
        results = self.store.results
        if results is None:
            return
        rig, draw, why = self._rig_of(results)
        is_held = self.tank.is_held or self.trace.is_held
        for widget in (self.pictures, self.hint, self.transport):
            widget.setVisible(rig is not None or is_held)
        if rig is None:
            self.pause()
            self._results = None
            self._say(why, "problem")
            return
        if results is not self._results:
            self._results, self._draw = results, draw
            self.player.set_rig(rig, draw or 0.0)
            self.done.hide()
        theme.set_role(self.words, "heading")
        self._show_rig()
        self._sync()

    @property
    def results(self) -> Results | None:
        """The results that are shown; None while they make no rig."""
        return self._results

    def watching(self) -> Watching | None:
        """The moment that is shown, for its figures to be explained; None without a rig."""
        from workbench.study.explain.watching import Watching

        player, recording = self.player, self.player.recording
        if self._results is None or recording is None:
            return None
        rig = player.rig
        return Watching(self._results, rig, player.moment, player.drawn)

    def _figures(self) -> Iterable[Figure]:
        from workbench.gui.live.figures import figures_of

        own = self.watching()
        return () if own is None else figures_of(own, self.store.display)

    def _show_rig(self) -> None:
        """Hand the rig, its handles and the units to the views."""
        recording, display = self.player.recording, self.store.display
        if recording is None:
            return
        rig, moment = self.player.rig, self.player.moment
        handles = handles_of(self.store.job, rig, dial_end(rig, display))
        scene = Scene(rig, moment, handles, display, grips=self._with_handles)
        self.tank.show_scene(scene)
        self.trace.moment = moment
        self.trace.show_recording(recording, handles if self._with_handles else (), display)
        self.path.show_moment(moment)
        self.path.show_rig(rig, display)
        self._show_hint()
        self._show_moment(tell=True)

    def _show_moment(self, *, tell: bool = False) -> None:
        """Show the player's moment; its words too where something has happened."""
        player, scene = self.player, self.tank.scene
        recording = player.recording
        if recording is None or scene is None:
            return
        rig = player.rig
        if rig is not scene.rig:  # charge was lost, or it was another one then
            self.tank.show_rig(rig)
            self.trace.rig = rig
            self.path.show_rig(rig, self.store.display)
            self.trace.forget()
        moment = scene.moment = player.moment
        self.tank.update()
        self.trace.show_moment(moment)
        self.path.show_moment(moment)
        what = (rig, moment, player.drawn, player.last_event, self.store.display)
        said = what_happens(*what)
        if tell or said != self._told:
            self._told = said
            self._say(said, "heading")
            self.tank.tell(state_text(*what))
            if QAccessible.isActive():
                QAccessible.updateAccessibility(
                    QAccessibleAnnouncementEvent(self.tank.focusProxy() or self.tank, said)
                )
        if tell:
            self.transport.show_time(recording.beginning, recording.time, player.time)
            self.transport.tell_time(recording.time, player.time)
            self.settled.emit()

    def _say(self, text: str, role: str) -> None:
        theme.set_role(self.words, role)
        self.words.setText(text)

    def _show_hint(self) -> None:
        """How the keys move what is chosen."""
        self.hint.setVisible(self._with_handles and self.pictures.isVisibleTo(self))
        scene = self.tank.scene
        if scene is None or not scene.chosen:
            self.hint.setText(self.tank.whatsThis())
            return
        handle = scene.handle(scene.chosen)
        text = tr(
            "{number} {handle}: Up and Down move it, with Shift {many} steps at once; Left and"
            " Right choose another.",
            number=handle.number,
            handle=handle.told(scene.display),
            many=MANY,
        )
        self.hint.setText(text)

    # --- playing ---

    def play_or_pause(self) -> None:
        """Play if it stands still, else pause."""
        self.player.plays = not self.player.plays
        self._sync()
        self._show_moment(tell=True)

    def pause(self) -> None:
        """Stand still."""
        self.player.plays = False
        self._sync()

    def step(self) -> None:
        """Go to the next thing that happens, and stand still there."""
        self._to(self.player.step)

    def step_back(self) -> None:
        """Go back to what happened before, and stand still there."""
        self._to(self.player.step_back)

    def seek(self, time: float) -> None:
        """Show a moment of the past, and stand still there."""
        self.player.plays = False
        self.player.seek(time)
        self._sync()
        self._show_moment(tell=True)
        self.moved.emit()

    def _to(self, go: Callable[[], object]) -> None:
        self.player.plays = False
        if self.player.recording is not None:
            go()
        self.trace.add_new()
        self._sync()
        self._show_moment(tell=True)
        self.moved.emit()

    def start_again(self) -> None:
        """Forget all, and stand still at cut-out."""
        self.player.start_again()
        self._sync()
        self._show_rig()
        self.moved.emit()

    def set_speed(self, speed: float) -> None:
        """How many seconds of the tank pass in one of ours."""
        self.player.speed = speed

    def turn_tap(self) -> None:
        """Open the tap if it is shut, else shut it."""
        self.player.open_tap(not self.player.tap_is_open)
        self._sync()
        self._show_rig()

    def _sync(self) -> None:
        """Let frames come while there is something to be seen moving, and show the buttons."""
        player = self.player
        runs = player.plays and self.isVisible() and not player.is_still
        if runs and not self.timer.isActive():
            self._clock.start()
            self.timer.start()
        elif not runs:
            self.timer.stop()
        self.transport.show_playing(player.plays)
        self.transport.show_tap(player.tap_is_open)

    def _on_frame(self) -> None:
        passed = self._clock.nsecsElapsed() * 1e-9
        self._clock.restart()
        self.go_on(min(passed, _LONGEST))

    def go_on(self, seconds: float) -> None:
        """One frame: so many seconds of ours have passed."""
        player, scene = self.player, self.tank.scene
        if player.recording is None or scene is None:
            return
        scene.flow_on(seconds * min(player.speed, 5.0), seconds * _TURNS)
        player.go_on(seconds)
        self.trace.add_new()
        self._show_moment()
        self._since_slider += seconds
        if self._since_slider >= _SLIDER_EVERY:
            self._since_slider = 0.0
            recording = player.recording
            self.transport.show_time(recording.beginning, recording.time, player.time)
        if player.is_still:
            self._sync()
        self.moved.emit()

    def showEvent(self, event: QShowEvent) -> None:
        """Go on."""
        super().showEvent(event)
        self._sync()

    def hideEvent(self, event: QHideEvent) -> None:
        """Rest while nobody looks."""
        super().hideEvent(event)
        self.timer.stop()

    # --- what a person moves, keeps and prints ---

    def _on_moved(self, entry: str, quantity: Quantity, episode: int) -> None:
        from workbench.job.labels import label_of

        text = tr("change {label}", label=label_of(entry))
        results = self.store.results
        kept = {} if results is None else kept_tank(results, entry)
        self.store.edit({**kept, **changes(entry, quantity)}, text, episode)

    def save_picture(self) -> None:
        """Ask for a file and write the picture as a paper."""
        self._tell(save_still(self))

    def print_picture(self) -> None:
        """Ask for a printer and print the picture."""
        self._tell(give_to_printer(self))

    def _tell(self, text: str) -> None:
        self.done.setText(text)
        self.done.setVisible(bool(text))
