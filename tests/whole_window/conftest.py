"""Who answers the boxes, and who sits in front of a window with a few tanks."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

if TYPE_CHECKING:  # Qt is first imported when a test asks for it
    from pytestqt.qtbot import QtBot

    from tests.whole_window.user import Answers, User


@pytest.fixture
def answers(monkeypatch: pytest.MonkeyPatch) -> Answers:
    """Answers what was prepared; any other box or dialog fails the test."""
    from tests.whole_window.user import Answers

    return Answers(monkeypatch)


@pytest.fixture
def user(qtbot: QtBot, answers: Answers) -> User:
    """A person in front of the empty job and a catalogue of fourteen tanks."""
    from tests.whole_window.user import at_window, few_tanks

    return at_window(qtbot, catalog=few_tanks(14))
