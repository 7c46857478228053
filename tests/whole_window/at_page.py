"""A person at one page of the window: comes to it with a job, types over fields, takes a step back.

:func:`at_page` opens the window as a person sees it; :func:`check_page_at` holds the page to our
page rules. :class:`Unreadable` texts among a state's entries are read by
:func:`demo_with`, so that in a translation what is said of them is translated.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Protocol, TypeVar

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeySequence
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QAbstractButton, QApplication, QWidget
from pytestqt.qtbot import QtBot

from tests.whole_window.page_checks import check_page
from tests.whole_window.user import CTRL, at_window, demo_job, own_catalog, strike_standard
from workbench import paths
from workbench.catalog.table import read_catalog
from workbench.gui.pages.page import LazyPage, Page
from workbench.gui.settings import Settings
from workbench.gui.store import Store
from workbench.gui.window import MainWindow
from workbench.job.job import Job
from workbench.study.evaluate import Results
from workbench.units import Display, System, Unread
from workbench.words import tr

METRIC = Display(System.METRIC, ",")
TANKS = read_catalog(paths.default_catalog()).tanks

SomePage = TypeVar("SomePage", bound=LazyPage)


class WithStore(Protocol):
    """A window, a page or a user."""

    store: Store


# --- jobs ---


@dataclass(frozen=True)
class Unreadable:
    """A text for an entry that cannot be read; :func:`demo_with` makes the entry of it."""

    text: str


def unread(text: str) -> Unread:
    """What a field makes of a text that it cannot read, in the language of this moment."""
    return Unread(text, tr("“{text}” could not be read.", text=text), tr("Type it again."))


def demo_with(**entries: Any) -> Job:
    """The demo job with other entries, read now, so that in a translation reasons are translated.

    An :class:`Unreadable` becomes an entry that could not be read.
    """
    read = {
        name: unread(value.text) if isinstance(value, Unreadable) else value
        for name, value in entries.items()
    }
    return demo_job().changed(**read)


# --- coming to a page ---


def window_with(job: Job) -> MainWindow:
    """The whole window with ``job`` as it stands after its first frame, but not shown."""
    settings = Settings()
    settings.catalog = own_catalog()
    window = MainWindow(settings)
    window.store.open_job(job, None)
    window._painted = True
    window._complete()
    return window


def window_at(key: str, job: Job, *, metric: bool = False) -> MainWindow:
    """The same at the page ``key``."""
    window = window_with(job)
    if metric:
        window.store.set_display(METRIC)
    window.go(key)
    return window


def check_page_at(qtbot: QtBot, key: str, job: Callable[[], Job], *, metric: bool = False) -> None:
    """Fail with every page rule that the page ``key`` breaks.

    ``job`` is called for each window that is looked at, so that one of them is in a translation.
    """

    def build() -> QWidget:
        return window_at(key, job(), metric=metric)

    check_page(qtbot, build, untranslated=is_said_by_a_file)


def at_page(
    qtbot: QtBot, key: str, kind: type[SomePage], job: Job, catalog: Path | None = None
) -> tuple[MainWindow, SomePage]:
    """The window with ``job``, seen at the page ``key``, and the page, which must be a ``kind``."""
    window = at_window(qtbot, job, catalog).window
    window.go(key)
    page = window.page_of(key)
    assert isinstance(page, kind)
    return window, page


def page_alone(kind: type[SomePage], job: Job, display: Display, catalog: Path | None) -> SomePage:
    """A page without a window, with the tanks of a catalogue if there is one, evaluated."""
    store = Store(display)
    store.job = job
    page = kind(store)
    store.setParent(page)
    if catalog is not None:
        store.set_catalog(read_catalog(catalog))
    store.wake()
    return page


def shown_alone(qtbot: QtBot, page: SomePage) -> SomePage:
    """Show a page that has no window, with room for all of it."""
    qtbot.addWidget(page)
    page.resize(1200, 900)
    with qtbot.waitExposed(page):
        page.show()
    return page


def results_of(place: WithStore) -> Results:
    """All that follows from the present job."""
    assert place.store.results is not None
    return place.store.results


# --- keys ---


def type_over(page: Page, name: str, text: str) -> None:
    """Come to an input and type over what it holds."""
    field = page.inputs.rows[name].field
    field.setFocus(Qt.FocusReason.TabFocusReason)
    QTest.keyClick(field, Qt.Key.Key_A, CTRL)
    QTest.keyClicks(field, text)


def undo(where: QWidget | None = None) -> None:
    """Strike the keys for undo on a widget, or where the focus is."""
    strike_standard(where or QApplication.focusWidget(), QKeySequence.StandardKey.Undo)


def press(button: QAbstractButton) -> None:
    """Come to a button, which must be enabled, and strike Space."""
    assert button.isEnabled()
    button.setFocus(Qt.FocusReason.TabFocusReason)
    QTest.keyClick(button, Qt.Key.Key_Space)


# --- reading ---


def is_said_by_a_file(text: str) -> bool:
    """Whether a tank's name, the currency of its price or a bad cell stands in it."""
    said = {"lots", *(tank.name for tank in TANKS), *(tank.currency for tank in TANKS)}
    return any(word in text for word in said)
