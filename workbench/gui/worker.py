"""Work that takes longer than a frame, beside the window: one run at a time, the newest counts.

A thread of the pool touches nothing of Qt; it leaves what it has to tell in a plain object, and a
timer in the thread of the window looks there. So nothing can be called after its end: when the
widget that asked goes, the timer goes with it, and the work is told to stop.
"""

from __future__ import annotations

import atexit
import weakref
from collections.abc import Callable
from typing import Any

from PySide6.QtCore import QObject, QThreadPool, QTimer, Signal
from shiboken6 import isValid

Progress = Callable[[float], bool]
"""Takes the share that is done, 0 to 1; answers False when the work is no longer wanted."""

_LOOK = 15  # ms
_LAST_PATIENCE = 10_000  # ms that the end of the program waits for work that was told to stop


class Background(QObject):
    """Runs a function in a thread of the pool and hands its result over in the window's thread.

    The function must call its ``progress`` at least some times a second and return soon after it
    has answered False; what it returns then is dropped.
    """

    started = Signal()  # from idle to busy
    progressed = Signal(float)  # 0 to 1
    finished = Signal()  # from busy to idle, after on_done
    cancelled = Signal()  # before finished, when cancel() stopped the work

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._work: _Work | None = None
        self._on_done: Callable[[Any], object] | None = None
        self._on_progress: Callable[[float], object] | None = None
        self._told = 0.0
        self._timer = QTimer(self)
        self._timer.setInterval(_LOOK)
        self._timer.timeout.connect(self._look)

    @property
    def busy(self) -> bool:
        """Whether a result is still to come."""
        return self._work is not None

    def run(
        self,
        function: Callable[[Progress], Any],
        on_done: Callable[[Any], object],
        on_progress: Callable[[float], object] | None = None,
    ) -> None:
        """Start ``function(progress)``; a run that is still going on is told to stop.

        ``on_done(result)`` and ``on_progress(share)`` are called in the window's thread. An error
        in ``function`` is raised there too, where :mod:`workbench.gui.errors` shows it.
        """
        was_busy = self.busy
        if self._work is not None:
            self._work.stop()
        self._work = _Work(function, self)
        self._on_done, self._on_progress, self._told = on_done, on_progress, 0.0
        QThreadPool.globalInstance().start(self._work.do)
        self._timer.start()
        if was_busy:
            self.progressed.emit(0.0)
        else:
            self.started.emit()

    def cancel(self) -> None:
        """Stop the run that is going on; nothing comes of it."""
        if self._work is not None:
            self._work.stop()
            self._rest()
            self.cancelled.emit()
            self.finished.emit()

    def _rest(self) -> None:
        self._timer.stop()
        self._work = self._on_done = self._on_progress = None

    def _look(self) -> None:
        work = self._work
        if work is None:
            return
        is_done = work.is_done  # before the share is read: the last one is told too
        if work.share != self._told:
            self._told = work.share
            self.progressed.emit(self._told)
            if self._on_progress is not None:
                self._on_progress(self._told)
        if is_done and work is self._work:  # who was told of the progress may have run another
            self._finish(work)

    def _finish(self, work: _Work) -> None:
        on_done = self._on_done
        self._rest()
        try:
            if work.error is not None:
                raise work.error
            if on_done is not None:
                on_done(work.result)
        finally:
            if not self.busy:  # on_done may have run another
                self.finished.emit()


class _Work:
    """One run. The thread writes, the window reads; neither waits for the other."""

    def __init__(self, function: Callable[[Progress], Any], owner: Background) -> None:
        self._function = function
        self._owner = weakref.ref(owner)
        self._is_stopped = False
        self.share = 0.0
        self.result: Any = None
        self.error: BaseException | None = None
        self.is_done = False
        _going_on.add(self)

    def stop(self) -> None:
        """Let the function know that nobody waits for it."""
        self._is_stopped = True

    def do(self) -> None:
        """Run the function; called in a thread of the pool."""
        if self._is_wanted():
            try:
                self.result = self._function(self._progress)
            except BaseException as error:  # raised again in the window's thread
                self.error = error
        self.is_done = True
        _going_on.discard(self)

    def _progress(self, share: float) -> bool:
        self.share = share
        return self._is_wanted()

    def _is_wanted(self) -> bool:
        owner = self._owner()
        return not self._is_stopped and owner is not None and isValid(owner)


_going_on: set[_Work] = set()


@atexit.register
def _stop_all() -> None:
    """Before Python ends: a thread that comes back to it later would end the process badly."""
    for work in list(_going_on):
        work.stop()
    if _going_on:
        QThreadPool.globalInstance().waitForDone(_LAST_PATIENCE)
