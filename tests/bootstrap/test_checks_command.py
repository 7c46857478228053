"""``python3 tests``: order, naming, status and last line, with stand-ins for the checkers."""

from __future__ import annotations


def headings(output: str) -> list[str]:
    return [line.strip("= ") for line in output.splitlines() if line.startswith("=== ")]


def test_every_check_is_named_and_run_and_pytest_is_last(small):
    status, output, _ = small.run("tests", "tests/physics", "-k", "two words")
    assert status == 0
    assert headings(output) == ["ruff check", "ruff format", "mypy", "import contracts", "pytest"]
    lines = output.splitlines()
    assert lines[-1].startswith("RAN pytest ['-n', 'auto', ")  # several at a time
    assert lines[-1].endswith(", 'tests/physics', '-k', 'two words'] offscreen")
    assert "RAN ruff ['check', '.'] offscreen" in lines
    assert "RAN ruff ['format', '--check', '.'] offscreen" in lines
    assert "Before pytest: 4 of 4 checks passed." in lines


def test_a_failed_check_stops_no_other_and_fails_the_run(small):
    small.environment["FAILING"] = "mypy importlinter"
    status, output, _ = small.run("tests")
    assert status == 1
    assert len(headings(output)) == 5
    lines = output.splitlines()
    summary = "FAILED: mypy, import contracts. The whole run will count as failed."
    assert lines.index(summary) < lines.index("=== pytest ===")
    assert lines[-1].startswith("RAN pytest")


def test_a_failed_test_fails_the_run(small):
    small.environment["FAILING"] = "pytest"
    status, output, _ = small.run("tests")
    assert status == 1
    assert "FAILED" not in output


def test_the_display_that_the_desktop_has_set_is_not_used(small):
    small.environment["QT_QPA_PLATFORM"] = "xcb"
    assert small.run("tests")[1].splitlines()[-1].endswith("offscreen")


def test_the_checks_run_on_the_python_that_was_called(small):
    small.run("tests")
    stamp = small.root / ".venv/set-up-stamp.txt"
    lines = stamp.read_text(encoding="ascii").splitlines()
    other = ["python 3.0" if line.startswith("python ") else line for line in lines]
    stamp.write_text("\n".join(other) + "\n", encoding="ascii")
    assert small.run("workbench", "size")[2] == ""  # any Python that works will do for the program
    assert "for another Python: making it afresh" in small.run("tests")[2]
