"""Set-up as a person sees it: the two commands, started, killed and started again."""

from __future__ import annotations

import os
import signal
import subprocess

import pytest


def test_first_start_sets_up_and_runs_the_command_in_the_persons_own_folder(small):
    status, output, messages = small.run("workbench", "size", "a file.json")
    assert status == 7  # the stand-in's own status is handed on
    environment = small.root / ".venv"
    assert output == f"ran ['size', 'a file.json'] {small.work} {environment}\n"
    for words in ("First start in this folder", "Making the environment", "Installing", "finished"):
        assert words in messages
    assert [line.split()[0] for line in small.log()] == ["make", "install"]


def test_second_start_does_nothing_and_says_nothing(small):
    small.run("workbench", "size")
    done = small.log()
    status, _, messages = small.run("workbench", "size")
    assert (status, messages) == (7, "")
    assert small.log() == done


def test_set_up_with_pip_where_there_is_no_uv(small):
    small.use_pip()
    status, output, messages = small.run("workbench", "size")
    assert status == 7, messages
    assert output.startswith("ran ['size']")
    assert "with Python" in messages
    assert "and pip." in messages
    assert small.run("tests", "-q")[0] == 0
    assert small.level() == "test"


def test_goes_on_with_pip_where_uv_fails(small):
    uv = (small.tools / "uv").read_text(encoding="utf-8")
    small.use_pip()
    (small.tools / "uv").write_text(uv, encoding="utf-8")
    (small.tools / "uv").chmod(0o755)
    small.tell("fail-install")
    status, _, messages = small.run("workbench", "size")
    assert status == 7
    assert "the tool says why" in messages
    assert "trying again with Python's own venv and pip" in messages


def test_the_checks_add_to_what_the_program_has_and_later_starts_need_nothing(small):
    small.run("workbench", "size")
    status, _, messages = small.run("tests")
    assert status == 0
    assert "adding it" in messages
    assert [line.split()[0] for line in small.log()] == ["make", "install", "install"]
    assert small.log()[-1] == "install .[test]"
    assert small.run("workbench", "size")[2] == ""
    assert small.run("tests")[2] == ""


def test_changed_requirements_are_installed_and_nothing_installed_is_given_up(small):
    small.run("tests")
    project = small.root / "pyproject.toml"
    project.write_text(project.read_text(encoding="utf-8") + "# more\n", encoding="utf-8")
    assert "adding it" in small.run("workbench", "size")[2]
    assert small.log()[-1] == "install .[test]"
    assert small.level() == "test"


def test_a_failed_addition_leaves_the_environment_for_the_next_try(small):
    small.run("workbench", "size")
    small.tell("fail-install")
    status, output, messages = small.run("tests")
    assert (status, output) == (3, "")
    assert "the tool says why" in messages
    assert "run the same command again" in messages
    assert small.run("workbench", "size")[0] == 7
    small.take_back("fail-install")
    assert small.run("tests")[0] == 0
    assert [line.split()[0] for line in small.log()].count("make") == 1


def test_moved_checkout_is_set_up_afresh(small):
    small.run("workbench", "size")
    small.root = small.root.rename(small.root.with_name("moved"))
    status, output, messages = small.run("workbench", "size")
    assert status == 7
    assert output.endswith(f"{small.root}/.venv\n")
    assert "made in another folder" in messages


def test_environment_whose_python_is_gone_is_made_afresh(small):
    small.run("workbench", "size")
    python = small.root / ".venv/bin/python"
    python.unlink()
    python.symlink_to("/no/longer/there")
    status, _, messages = small.run("workbench", "size")
    assert status == 7
    assert "afresh" in messages


def test_environment_that_lost_a_package_is_made_afresh(small):
    small.run("workbench", "size")
    next(small.root.glob(".venv/lib/python*/site-packages/pydantic.py")).unlink()
    status, _, messages = small.run("workbench", "size")
    assert status == 7
    assert "was not finished" in messages
    assert small.run("workbench", "size")[2] == ""


def test_environment_made_by_someone_else_is_kept_under_another_name(small):
    (small.root / ".venv").mkdir()
    (small.root / ".venv/mine").write_text("precious", encoding="utf-8")
    status, _, messages = small.run("workbench", "size")
    assert status == 7
    assert ".venv-before-1" in messages
    assert (small.root / ".venv-before-1/mine").read_text(encoding="utf-8") == "precious"


@pytest.mark.parametrize("step", ["make", "install"])
def test_killed_set_up_is_finished_by_the_next_start(small, step):
    small.tell(f"hold-{step}")
    killed = small.start("workbench", "size")
    small.wait_until_tool_reaches(step)
    os.killpg(killed.pid, signal.SIGKILL)
    killed.communicate()
    small.take_back(f"hold-{step}")
    status, _, messages = small.run("workbench", "size")
    assert status == 7
    assert "not finished: starting it again" in messages
    assert small.run("workbench", "size")[2] == ""


def test_killed_addition_is_finished_by_the_next_start(small):
    small.run("workbench", "size")
    small.tell("hold-install")
    killed = small.start("tests")
    small.wait_until_tool_reaches("install")
    small.wait_until(lambda: len(small.log()) == 3)
    os.killpg(killed.pid, signal.SIGKILL)
    killed.communicate()
    small.take_back("hold-install")
    status, _, messages = small.run("workbench", "size")
    assert status == 7
    assert "not finished: starting it again" in messages


def test_next_start_waits_for_a_tool_that_outlived_its_killed_set_up(small):
    small.tell("hold-install")
    killed = small.start("workbench", "size")
    small.wait_until_tool_reaches("install")
    killed.kill()  # the tool lives on and still writes into the environment
    killed.wait()
    second = small.start("workbench", "size")
    first_line = second.stderr.readline()
    assert "Waiting for another set-up" in first_line
    assert len(small.log()) == 2  # nothing begun meanwhile
    small.take_back("hold-install")
    second.communicate(timeout=60)
    assert second.returncode == 7
    killed.communicate()


def test_both_commands_at_once_do_the_work_once(small):
    small.tell("hold-install")
    checks = small.start("tests", "-q")
    small.wait_until_tool_reaches("install")
    program = small.start("workbench", "size")
    assert "Waiting for another set-up" in program.stderr.readline()
    small.take_back("hold-install")
    output, messages = program.communicate(timeout=60)
    assert program.returncode == 7
    assert messages == ""
    assert output.startswith("ran ['size']")
    checks.communicate(timeout=60)
    assert checks.returncode == 0
    assert [line.split()[0] for line in small.log()] == ["make", "install"]


def test_interrupted_set_up_says_how_to_go_on(small):
    small.tell("hold-install")
    process = small.start("workbench", "size")
    small.wait_until_tool_reaches("install")
    os.killpg(process.pid, signal.SIGINT)
    _, messages = process.communicate(timeout=60)
    assert process.returncode == 130
    assert "Run the same command again" in messages
    assert "Traceback" not in messages.partition("[set-up] Set-up was interrupted")[2]
    small.take_back("hold-install")
    assert small.run("workbench", "size")[0] == 7


def test_folder_that_cannot_be_written_is_refused_with_the_reason(small):
    (small.root / ".venv-setup").write_text("in the way", encoding="utf-8")
    status, output, messages = small.run("workbench", "size")
    assert (status, output) == (3, "")
    assert "cannot work in this folder" in messages
    assert "Traceback" not in messages


def test_started_as_a_package_in_a_python_without_packages_it_sets_itself_up(small):
    done = subprocess.run(
        [small.python, "-S", "-m", "workbench", "size"],
        cwd=small.root,
        env=small.environment,
        capture_output=True,
        text=True,
    )
    assert done.returncode == 7, done.stderr
    assert done.stdout == f"ran ['size'] {small.root} {small.root}/.venv\n"


def test_files_in_the_persons_folder_do_not_hide_modules(small):
    for name in ("numpy.py", "workbench.py", "shutil.py"):
        (small.work / name).write_text("raise SystemExit('wrong one')", encoding="utf-8")
    assert small.run("workbench", "size")[0] == 7


def test_installed_without_its_packages_it_names_them(small):
    (small.root / "pyproject.toml").unlink()  # an installed program is no checkout
    done = subprocess.run(
        [small.python, "-S", str(small.root / "workbench"), "size"],
        env=small.environment,
        capture_output=True,
        text=True,
    )
    assert done.returncode == 3
    assert (
        "packages are missing: pydantic, numpy, pint, babel, typst, PySide6, pyqtgraph."
        in done.stderr
    )
    assert not (small.root / ".venv").exists()


def test_python_too_old_hands_over_to_a_newer_one_that_really_runs(small):
    # Stands for "too old": no Python is as new as this one asks for.
    source = small.root / "workbench/bootstrap.py"
    text = source.read_text(encoding="utf-8")
    assert "OLDEST_PYTHON = (3, 11)" in text
    source.write_text(text.replace("OLDEST_PYTHON = (3, 11)", "OLDEST_PYTHON = (99, 0)"), "utf-8")
    status, _, messages = small.run("workbench", "size")
    assert status == 3
    assert "needs Python 3.11 or newer" in messages
    assert "python3.12 workbench" in messages

    switch, newer = small.tools / "python3.13", small.tools / "python3.12"
    switch.write_text("#!/bin/sh\nexit 127\n", encoding="utf-8")
    newer.write_text('#!/bin/sh\n[ "$1" = -c ] && echo True || echo "newer $@"\n', encoding="utf-8")
    for script in (switch, newer):
        script.chmod(0o755)
    status, output, messages = small.run("workbench", "size", "a b")
    assert status == 0
    assert output == f"newer {small.root}/workbench size a b\n"
    assert f"going on with {newer}" in messages


def test_python_too_old_still_uses_an_environment_that_is_ready(small):
    small.run("workbench", "size")
    source = small.root / "workbench/bootstrap.py"
    text = source.read_text(encoding="utf-8")
    source.write_text(text.replace("OLDEST_PYTHON = (3, 11)", "OLDEST_PYTHON = (99, 0)"), "utf-8")
    assert small.run("workbench", "size")[::2] == (7, "")
