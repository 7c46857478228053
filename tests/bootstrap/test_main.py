"""Who answers which arguments, and when set-up is looked for."""

from __future__ import annotations

import getpass
import sys
from pathlib import Path
from types import ModuleType

import pytest

from workbench import __main__ as door
from workbench import bootstrap, qt_libraries


@pytest.fixture
def calls(monkeypatch):
    """Stand-ins for all that the door opens to; the list of who was called with what."""
    made = []

    def answers(name, status):
        def answer(*arguments):
            made.append((name, *arguments))
            return status

        return answer

    monkeypatch.setitem(sys.modules, "workbench.gui", ModuleType("workbench.gui"))
    for module, function, status in (("cli", "main", 5), ("gui.app", "run", 6)):
        stand_in = ModuleType(f"workbench.{module}")
        setattr(stand_in, function, answers(module, status))
        monkeypatch.setitem(sys.modules, stand_in.__name__, stand_in)
    monkeypatch.setattr(bootstrap, "missing", lambda _names: [])
    monkeypatch.setattr(bootstrap, "enter", answers("enter", None))
    monkeypatch.setattr(qt_libraries, "ensure_window_can_open", answers("display", None))
    return made


@pytest.mark.parametrize(
    "arguments",
    [*([name, "x"] for name in door.SUB_COMMANDS), ["drawdown"], ["--help"], ["-h"], ["--version"]],
)
def test_sub_commands_need_no_display_and_no_set_up(calls, arguments):
    assert door.main(arguments) == 5
    assert calls == [("cli", arguments)]


def test_unknown_option_goes_to_the_parser_that_refuses_it(calls):
    assert door.main(["--bogus"]) == 5
    assert calls == [("cli", ["--bogus"])]


@pytest.mark.parametrize("arguments", [[], ["job.json"], ["--reset-settings"]])
@pytest.mark.parametrize("start", [door.main, door.window_main])
def test_window_opens_after_the_display_was_seen_to(calls, arguments, start):
    assert start(arguments) == 6
    assert calls == [("display",), ("gui.app", arguments)]


def test_arguments_come_from_the_command_line_if_none_are_given(calls, monkeypatch):
    monkeypatch.setattr(sys, "argv", ["workbench", "drawdown", "x"])
    assert door.main() == 5
    assert calls == [("cli", ["drawdown", "x"])]


def test_only_the_window_needs_the_windows_packages(calls, monkeypatch):
    monkeypatch.setattr(bootstrap, "missing", lambda names: [n for n in names if n == "PySide6"])
    door.main(["size"])
    assert calls == [("cli", ["size"])]
    calls.clear()
    door.main(["job.json"])
    assert calls[0] == ("enter", "workbench", "run", ["job.json"])


def test_refusal_is_told_and_becomes_the_status(calls, monkeypatch, capsys):
    def refuse():
        raise bootstrap.Refusal("no display\nand what to do")

    monkeypatch.setattr(qt_libraries, "ensure_window_can_open", refuse)
    assert door.main([]) == 3
    assert calls == []
    captured = capsys.readouterr()
    assert captured.out == ""
    assert captured.err == "[set-up] no display\nand what to do\n"


def test_diagnostics_tell_versions_and_neither_user_nor_folder(monkeypatch, capsys):
    monkeypatch.setenv("QT_QPA_PLATFORM", "offscreen")
    assert door.main(["--diagnostics"]) == 0
    output = capsys.readouterr().out
    for word in ("Program: ", "Python: 3.", "numpy: ", "pydantic: 2", "Qt platform: offscreen"):
        assert word in output
    assert str(Path.home()) not in output
    assert "/" not in output
    assert getpass.getuser() not in output.split()


def test_diagnostics_work_where_packages_are_missing(calls, monkeypatch, capsys):
    from importlib import metadata

    def absent(name):
        raise metadata.PackageNotFoundError(name)

    monkeypatch.setattr(bootstrap, "missing", list)
    monkeypatch.setattr(metadata, "version", absent)
    assert door.main(["--diagnostics"]) == 0
    assert "numpy: not installed" in capsys.readouterr().out
    assert calls == []
