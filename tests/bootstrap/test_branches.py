"""The branches that this machine does not take by itself: other systems, other rights."""

from __future__ import annotations

import ast
import os
import subprocess
import sys
from pathlib import Path
from types import SimpleNamespace

import pytest

from workbench import bootstrap, set_up

ROOT = Path(__file__).resolve().parents[2]
READ_BY_OLD_PYTHONS = ("workbench/bootstrap.py", "workbench/__main__.py", "tests/__main__.py")
MISSING = "Something is missing."


@pytest.mark.parametrize("name", [*READ_BY_OLD_PYTHONS, "workbench/__init__.py"])
def test_python_3_6_can_read_what_refuses_it(name):
    tree = ast.parse((ROOT / name).read_text(encoding="utf-8"), feature_version=(3, 6))
    functions = [node for node in ast.walk(tree) if isinstance(node, ast.FunctionDef)]
    for function in functions:  # these would be evaluated: names and texts only, no list[str]
        arguments = [*function.args.args, *function.args.kwonlyargs]
        for annotation in (function.returns, *(argument.annotation for argument in arguments)):
            assert isinstance(annotation, ast.Name | ast.Constant | None), ast.unparse(function)
    imports = {
        alias.name if isinstance(node, ast.Import) else f"{node.module}.{alias.name}"
        for node in ast.walk(tree)
        if isinstance(node, ast.Import | ast.ImportFrom)
        for alias in node.names
    }
    assert "__future__.annotations" not in imports


def test_a_ready_start_loads_nothing_slow():
    slow = {"subprocess", "shutil", "json", "hashlib", "typing", "workbench.set_up"}
    code = f"import sys; from workbench import bootstrap; print({slow} & set(sys.modules))"
    start = [sys.executable, "-S", "-c", code]
    done = subprocess.run(start, cwd=ROOT, capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "set()"


def test_half_written_stamp_counts_as_unfinished(tmp_path):
    (tmp_path / "pyproject.toml").write_text("", encoding="utf-8")
    (tmp_path / ".venv").mkdir()
    assert bootstrap.state_of(tmp_path, "run") == bootstrap.ABSENT  # an empty folder is no loss
    for text in ("level", "level \n", "lev", "level unfinished\n", "level ru"):
        (tmp_path / ".venv" / bootstrap.STAMP).write_text(text, encoding="ascii")
        assert bootstrap.state_of(tmp_path, "run") in (bootstrap.UNFINISHED, bootstrap.FOREIGN)


def test_a_file_in_place_of_the_environment_is_kept(tmp_path):
    (tmp_path / ".venv").write_text("mine", encoding="utf-8")
    assert bootstrap.state_of(tmp_path, "run") == bootstrap.FOREIGN


class TestWindows:
    @pytest.fixture(autouse=True)
    def _on_windows(self, monkeypatch):
        monkeypatch.setattr(bootstrap, "ON_WINDOWS", True)
        monkeypatch.setattr(set_up, "ON_WINDOWS", True)

    def test_interpreter_lies_in_scripts(self, tmp_path):
        expected = tmp_path / ".venv" / "Scripts" / "python.exe"
        assert bootstrap.environment_python(tmp_path) == expected

    @pytest.mark.parametrize("separator", ["\n", "\r\n"])
    def test_base_python_is_the_one_that_the_environment_names(self, tmp_path, separator):
        home, environment = tmp_path / "Python 3", tmp_path / ".venv"
        for file in (home / "python.exe", environment / "Scripts/python.exe"):
            file.parent.mkdir(parents=True)
            file.touch()
        lines = (f"home = {home}", "include-system-site-packages = false", "version = 3.12.1")
        (environment / "pyvenv.cfg").write_text(separator.join(lines), "utf-8", newline="")
        assert bootstrap.base_python(tmp_path) == ascii(str(home / "python.exe"))
        (home / "python.exe").unlink()
        assert bootstrap.base_python(tmp_path) == ""

    def test_environment_without_its_configuration_is_dead(self, tmp_path):
        assert bootstrap.base_python(tmp_path) == ""

    def test_hand_over_waits_and_hands_on_the_status(self):
        with pytest.raises(SystemExit) as end:
            bootstrap.hand_over(sys.executable, ["-c", "raise SystemExit(5)"])
        assert end.value.code == 5

    def test_ctrl_c_is_left_to_the_program(self, monkeypatch):
        answers = iter([KeyboardInterrupt, KeyboardInterrupt, 4])

        def wait():
            answer = next(answers)
            if answer is KeyboardInterrupt:
                raise KeyboardInterrupt
            return answer

        monkeypatch.setattr(subprocess, "Popen", lambda _command: SimpleNamespace(wait=wait))
        with pytest.raises(SystemExit) as end:
            bootstrap.hand_over("python", [])
        assert end.value.code == 4

    def test_lock_is_tried_with_the_means_of_windows(self, monkeypatch):
        taken = []

        def locking(descriptor, mode, length):
            if taken:
                raise PermissionError(13, "Permission denied")
            taken.append((descriptor, mode, length))

        monkeypatch.setattr(sys, "platform", "win32")
        module = SimpleNamespace(locking=locking, LK_NBLCK=2)
        monkeypatch.setitem(sys.modules, "msvcrt", module)
        assert set_up._try_lock(9) is True
        assert taken == [(9, 2, 1)]
        assert set_up._try_lock(9) is False

    def test_tools_inherit_no_descriptors(self, monkeypatch, tmp_path):
        given = {}
        monkeypatch.setattr(subprocess, "call", lambda _command, **options: given.update(options))
        set_up._Tools(tmp_path, 9).run("tool")
        assert given["pass_fds"] == ()


class TestSystemPackages:
    @pytest.fixture
    def apt(self, tmp_path, monkeypatch):
        """Stand-ins for apt-get and dpkg that write down how they were called."""
        log = tmp_path / "log"
        for name in ("apt-get", "dpkg"):
            script = tmp_path / name
            script.write_text(
                f'#!/bin/sh\necho "{name} $* $DEBIAN_FRONTEND" >> "{log}"\n'
                f'case "$*" in *refused*) exit 100;; esac\n',
                encoding="utf-8",
            )
            script.chmod(0o755)
        monkeypatch.setenv("PATH", str(tmp_path))
        monkeypatch.setattr(os, "geteuid", lambda: 0, raising=False)
        monkeypatch.setattr(sys, "stderr", sys.__stderr__)  # a real file, for the child
        return log

    @pytest.mark.skipif(os.name == "nt", reason="the stand-ins are shell scripts")
    def test_root_installs_after_updating_without_questions(self, apt):
        set_up.install_system_packages(["liba", "libb"], MISSING)
        calls = apt.read_text(encoding="utf-8").splitlines()
        assert calls[0] == "dpkg --configure -a noninteractive"
        assert calls[1].endswith(" update noninteractive")
        assert calls[2].endswith(" install -y --no-install-recommends liba libb noninteractive")

    @pytest.mark.skipif(os.name == "nt", reason="the stand-ins are shell scripts")
    @pytest.mark.usefixtures("apt")
    def test_failed_installation_is_refused_with_the_line(self):
        with pytest.raises(bootstrap.Refusal, match="apt-get install -y refused"):
            set_up.install_system_packages(["refused"], MISSING)

    def test_others_than_root_get_one_line_to_run(self, apt, monkeypatch):
        monkeypatch.setattr(os, "geteuid", lambda: 1000, raising=False)
        with pytest.raises(bootstrap.Refusal) as refusal:
            set_up.install_system_packages(["liba", "libb"], MISSING)
        why, _, line = str(refusal.value).splitlines()
        assert why == MISSING
        assert line.strip() == "sudo apt-get install -y liba libb"
        assert not apt.exists()

    def test_without_apt_the_names_are_told(self, monkeypatch):
        monkeypatch.setenv("PATH", "")
        with pytest.raises(bootstrap.Refusal, match=r"own means.*liba, libb"):
            set_up.install_system_packages(["liba", "libb"], MISSING)

    @pytest.mark.usefixtures("apt")
    def test_python_that_cannot_make_environments_loses_nothing(self, monkeypatch, tmp_path):
        monkeypatch.setattr(os, "geteuid", lambda: 1000, raising=False)
        monkeypatch.setattr(set_up, "missing", list)
        root = tmp_path / "checkout"
        (root / ".venv").mkdir(parents=True)
        (root / ".venv/mine").touch()
        (root / "pyproject.toml").touch()
        package = f"python3.{sys.version_info.minor}-venv"
        with pytest.raises(bootstrap.Refusal, match="sudo apt-get install -y " + package):
            set_up.set_up(root, "run")
        assert (root / ".venv/mine").exists()


def test_messages_are_dropped_where_there_is_no_terminal(monkeypatch):
    monkeypatch.setattr(sys, "stderr", None)
    bootstrap.say("text")
