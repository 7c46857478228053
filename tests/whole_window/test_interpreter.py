"""The Qt binding keeps count of Python's constants.

PySide6 6.12.0 with CPython 3.11 gave back one reference too many to None, True or False on common
calls; after some hundred of them the interpreter ends without a word.
"""

from __future__ import annotations

import sys
from collections.abc import Callable

import pytest
from PySide6.QtCore import QObject, Signal
from PySide6.QtGui import QUndoCommand, QUndoStack

CONSTANTS = (None, True, False)
NOISE = 100  # references that other code may take or give back meanwhile
IMMORTAL = 1 << 28  # CPython 3.12 and later: the count says "never freed" (PEP 683)
# With so many references to spare, for good, a fault is counted and does not end the interpreter.
SPARE = [[constant] * 50_000 for constant in CONSTANTS]
COUNTED = sys.version_info < (3, 12)


class Sender(QObject):
    sent = Signal(object)


class Step(QUndoCommand):
    def redo(self) -> None:
        pass

    def undo(self) -> None:
        pass


def emit() -> None:
    sender, heard = Sender(), []
    sender.sent.connect(heard.append)
    for number in range(10_000):
        sender.sent.emit(CONSTANTS[number % 3])
    assert len(heard) == 10_000


def push_and_undo() -> None:
    stack = QUndoStack()
    for _ in range(2_000):
        stack.push(Step())
        stack.undo()
    assert not stack.canUndo()


@pytest.mark.parametrize("work", [emit, push_and_undo])
def test_common_calls_lose_no_reference_to_a_constant(qapp, work: Callable[[], None]):
    before = [sys.getrefcount(constant) for constant in CONSTANTS]
    work()
    after = [sys.getrefcount(constant) for constant in CONSTANTS]
    if COUNTED:
        lost = [b - a for a, b in zip(after, before, strict=True)]
        assert max(lost) < NOISE, f"lost references to None, True, False: {lost}"
    else:
        assert min(after) >= IMMORTAL
