"""``check_page(qtbot, build)``: one line in a page's tests holds it to all our page rules.

``build`` makes the page, a new one each time it is called, in a state worth checking: call it for
each such state (a shown problem, another tab). The page is built four times: as usual (looked at in
both themes, the second by switching while it stands), with text at 150 % and at 200 %, and in a
pseudo-translation that brackets and lengthens every text.

What pages agree on, for the checks to see it:

- a field for a quantity has the property ``unitText``, the unit that it now shows;
- a widget that shows what a person or a file has said (of a table: in its cells) has the property
  ``userText`` = True;
- a label that speaks by colour has a role of ``theme.ROLES``.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Container, Iterable, Iterator, Mapping
from contextlib import contextmanager

import pytest
from PySide6.QtCore import QtMsgType, qInstallMessageHandler
from PySide6.QtGui import QPalette
from PySide6.QtTest import QAbstractItemModelTester
from PySide6.QtWidgets import QAbstractItemView, QApplication, QComboBox, QWidget
from pytestqt.qtbot import QtBot

from tests.whole_window.checks import colour, keyboard, names, size, words
from tests.whole_window.checks.parts import (
    Problems,
    described,
    first_of_each,
    settle,
    visible_widgets,
)
from workbench.gui import theme

_WHERE_IN_QT = re.compile(r"\s*\(\S+\.cpp:\d+\)$")

Build = Callable[[], QWidget]
Check = Callable[[QWidget], Iterable[str]]

CHECKS = {
    "A1": "every control has a name",
    "A2": "names are plain and distinct",
    "A3": "every field has a label, and its unit",
    "A4": "Tab goes in reading order",
    "A5": "Tab is caught nowhere, Shift+Tab goes back",
    "A7": "the focus is seen",
    "A8": "palettes have contrast",
    "A9": "painted texts have contrast",
    "A10": "plots have contrast, and more than colour",
    "A11": "states are told in words",
    "A12": "nothing is cut at twice the text size",
    "A14": "the page fits a small office screen",
    "A15": "Alt keys do not clash",
    "A17": "targets are large enough",
    "A18": "the focus stays in sight",
    "A22": "all words can be translated, and have room",
    "A23": "the wheel changes no field by accident",
    "A25": "models keep Qt's rules",
}


def check_page(
    qtbot: QtBot,
    build: Build,
    *,
    untranslated: Callable[[str], bool] = lambda _text: False,
    without: Mapping[str, str] = {},
) -> None:
    """Fail with every problem found on the page that ``build`` makes.

    ``untranslated`` accepts texts that need no translation (names, say); ``without`` leaves out
    checks, each by its key in :data:`CHECKS` with the reason.
    """
    unknown = set(without) - set(CHECKS)
    assert not unknown, f"no such checks: {sorted(unknown)}"
    assert all(without.values()), "each check left out needs its reason"
    found = [
        f"{key} ({when}): {text}"
        for key, when, text in problems(qtbot, build, untranslated)
        if key not in without
    ]
    if found:
        pytest.fail(f"{len(found)} problems:\n" + "\n".join(first_of_each(found)), pytrace=False)


def problems(
    qtbot: QtBot,
    build: Build,
    accepted: Callable[[str], bool] = lambda _text: False,
    only: Container[str] = CHECKS,
) -> Iterator[tuple[str, str, str]]:
    """Each problem as the check's key, the state in which it was found, and what it is.

    States that none of the checks ``only`` needs are left out; those checks are not the only ones
    run in the others.
    """
    app = QApplication.instance()
    assert isinstance(app, QApplication)
    kept: list[QWidget] = []
    yield from _as_usual(app, qtbot, build, kept)
    if "A14" in only:
        with _text_at(app, 1.5), _standing(qtbot, build, kept) as page:
            yield from _run(page, "text at 150 %", {"A14": size.too_large})
    if "A12" in only:
        with _text_at(app, 2.0), _standing(qtbot, build, kept) as page:
            yield from _run(page, "text at 200 %", {"A12": size.clipped})
    if "A22" in only:
        with words.pseudo_translation(), _standing(qtbot, build, kept) as page:
            yield from _run(page, "pseudo-translation", {"A22": _untranslatable(accepted)})


def _untranslatable(accepted: Callable[[str], bool]) -> Check:
    def check(page: QWidget) -> Problems:
        yield from words.untranslated(page, accepted)
        yield from size.clipped(page)

    return check


ALWAYS: dict[str, Check] = {
    "A1": names.nameless,
    "A2": names.unclear_names,
    "A3": names.unlabelled,
    "A11": names.wordless_colours,
    "A12": size.clipped,
    "A14": size.too_large,
    "A15": names.mnemonic_clashes,
    "A17": size.small_targets,
}
IN_EACH_THEME: dict[str, Check] = {
    "A8": colour.weak_palettes,
    "A9": colour.weak_texts,
    "A10": colour.weak_plots,
    "A7": keyboard.unseen_focus,
}


def _as_usual(
    app: QApplication, qtbot: QtBot, build: Build, kept: list[QWidget]
) -> Iterator[tuple[str, str, str]]:
    with _standing(qtbot, build, kept) as page:
        yield from _run(page, "as built", ALWAYS)
        for look in (theme.LIGHT, theme.DARK):
            if theme.current() is not look:  # as built it may have colours that a change drops
                _wear(app, look)
            shown = page.palette().color(QPalette.ColorRole.Window).name().upper()
            assert shown == look.window, f"the page does not follow the {look.name} theme"
            yield from _run(page, f"{look.name} theme", IN_EACH_THEME)
        _wear(app, theme.LIGHT)
        keys: dict[str, Check] = {
            "A23": keyboard.turned_by_wheel,
            "A18": keyboard.focus_out_of_sight,
            "A25": broken_models,
            # Last, for Tab may have written into a field that catches it.
            "A4": keyboard.wrong_order,
            "A5": keyboard.traps,
        }
        yield from _run(page, "as built", keys)


def _run(page: QWidget, when: str, checks: Mapping[str, Check]) -> Iterator[tuple[str, str, str]]:
    for key, check in checks.items():
        for problem in check(page):
            yield key, when, problem


def _wear(app: QApplication, look: theme.Theme) -> None:
    theme.apply(app, look)
    settle()


@contextmanager
def _standing(qtbot: QtBot, build: Build, kept: list[QWidget]) -> Iterator[QWidget]:
    """A new page, shown and active, as large as it asks but no larger than the screen gives.

    It is kept: Qt restyles all widgets, one after the other, when fonts or themes change, and none
    of them may be collected in the middle of that.
    """
    page = build()
    kept += [page, page.window()]
    qtbot.addWidget(page)
    least = size.least_size(page)
    page.resize(page.sizeHint().boundedTo(size.SCREEN).expandedTo(least))
    with qtbot.waitExposed(page):
        page.show()
    page.activateWindow()
    qtbot.waitUntil(lambda: QApplication.activeWindow() is page)
    settle()
    try:
        yield page
    finally:
        page.hide()


@contextmanager
def _text_at(app: QApplication, factor: float) -> Iterator[None]:
    usual = app.font()
    larger = app.font()
    larger.setPointSizeF(usual.pointSizeF() * factor)
    app.setFont(larger)
    try:
        yield
    finally:
        app.setFont(usual)


def broken_models(page: QWidget) -> Problems:
    """A25: Qt's own tester of models has nothing to say."""
    told: list[str] = []

    def hear(_kind: QtMsgType, _context: object, text: str) -> None:
        told.append(text)

    for widget in visible_widgets(page):
        if not isinstance(widget, QAbstractItemView | QComboBox) or widget.model() is None:
            continue
        told.clear()
        before = qInstallMessageHandler(hear)
        try:
            tester = QAbstractItemModelTester(
                widget.model(), QAbstractItemModelTester.FailureReportingMode.Warning
            )
        finally:
            qInstallMessageHandler(before)
        tester.deleteLater()
        for text in first_of_each(told):
            yield f"model of {described(widget)}: {_WHERE_IN_QT.sub('', text)}"
