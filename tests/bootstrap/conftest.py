"""A small checkout that sets itself up for real, but quickly and without a network.

Its ``uv`` is a script of ours: it makes a true environment (without pip) and puts empty modules
where the true tool would put packages. It writes down what it was asked and can be told to stop
in the middle or to fail, so that a set-up can be killed where we want.
"""

from __future__ import annotations

import os
import shutil
import signal
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from pathlib import Path

import pytest

SOURCE = Path(__file__).resolve().parents[2]
BASE_PYTHON = getattr(sys, "_base_executable", None) or sys.executable
PATIENCE = 60  # seconds until a test that waits for another process gives up

PYPROJECT = """
[build-system]
requires = []
build-backend = "backend"
backend-path = ["."]
[project]
name = "small"
version = "1"
optional-dependencies.test = []
"""
CLI = """
import os, sys
def main(argv):
    print("ran", argv, os.getcwd(), sys.prefix)
    return 7
"""
MODULES = ("pydantic", "numpy", "pint", "babel", "typst", "PySide6", "pyqtgraph")
CHECKER = """
import os, sys
print("RAN", os.path.basename(__file__)[:-3], sys.argv[1:], os.environ.get("QT_QPA_PLATFORM"))
name = os.path.basename(__file__)[:-3]
if __name__ == "__main__": sys.exit(int(name in os.environ.get("FAILING", "").split()))
def lint_imports_command(): sys.exit(int("importlinter" in os.environ.get("FAILING", "").split()))
"""
# What both installers, the uv below and the build backend, lay down beside the project's path.
FILES = {name + ".py": "" for name in (*MODULES, "pypdf")}
FILES |= {name + ".py": CHECKER for name in ("pytest", "xdist", "mypy", "ruff")}
FILES |= {"importlinter/__init__.py": "", "importlinter/cli.py": CHECKER}

FAKE_UV = """
import json, pathlib, subprocess, sys, time
home = pathlib.Path(__file__).parent
words = sys.argv[1:]
step = "make" if words[0] == "venv" else "install"
with (home / "log").open("a") as log: log.write(step + " " + words[-1] + chr(10))
(home / "reached").write_text(step)
while (home / ("hold-" + step)).exists(): time.sleep(0.02)
if (home / ("fail-" + step)).exists(): sys.exit("the tool says why")
print("noise of the tool")
if step == "make":
    python = words[words.index("--python") + 1]
    sys.exit(subprocess.call([python, "-m", "venv", "--without-pip", words[-1]]))
python = words[words.index("--python") + 1]
ask = "import sysconfig; print(sysconfig.get_path('purelib'))"
place = pathlib.Path(subprocess.check_output([python, "-c", ask], text=True).strip())
for name, text in json.loads((home / "files.json").read_text()).items():
    (place / name).parent.mkdir(exist_ok=True)
    (place / name).write_text(text)
(place / "small.pth").write_text(str(pathlib.Path.cwd()))
"""

BACKEND = """
import json, os, zipfile
def get_requires_for_build_editable(settings=None): return []
def build_editable(folder, settings=None, metadata=None):
    files = json.load(open("files.json"))
    info = "small-1.dist-info/"
    files["small.pth"] = os.getcwd()
    lines = "Metadata-Version: 2.1", "Name: small", "Version: 1", "Provides-Extra: test", ""
    files[info + "METADATA"] = chr(10).join(lines)
    files[info + "WHEEL"] = "Wheel-Version: 1.0\\nRoot-Is-Purelib: true\\nTag: py3-none-any\\n"
    files[info + "RECORD"] = "".join(name + ",,\\n" for name in files)
    with zipfile.ZipFile(os.path.join(folder, "small-1-py3-none-any.whl"), "w") as wheel:
        for name, text in files.items(): wheel.writestr(name, text)
    return "small-1-py3-none-any.whl"
"""


# What a shell runs in the background ignores interrupts, and what that starts inherits it.
_HEEDING = (
    "import os, signal, sys; signal.signal(signal.SIGINT, signal.SIG_DFL);"
    " os.execv(sys.argv[1], sys.argv[1:])"
)


@dataclass
class SmallCheckout:
    """The checkout, the folder of its tools, and the processes that a test has started."""

    root: Path
    tools: Path
    work: Path
    environment: dict[str, str]
    python: str = BASE_PYTHON
    running: list[subprocess.Popen[str]] = field(default_factory=list)

    def start(self, program: str = "workbench", *arguments: str) -> subprocess.Popen[str]:
        process = subprocess.Popen(
            [self.python, "-c", _HEEDING, self.python, str(self.root / program), *arguments],
            cwd=self.work,
            env=self.environment,
            stdin=subprocess.DEVNULL,
            stdout=subprocess.PIPE,
            stderr=subprocess.PIPE,
            text=True,
            start_new_session=True,
        )
        self.running.append(process)
        return process

    def run(self, program: str = "workbench", *arguments: str) -> tuple[int, str, str]:
        """Status, output and messages of a start that runs to its end."""
        process = self.start(program, *arguments)
        output, messages = process.communicate(timeout=PATIENCE)
        return process.returncode, output, messages

    def log(self) -> list[str]:
        """What the fake uv has been asked to do so far."""
        log = self.tools / "log"
        return log.read_text(encoding="utf-8").splitlines() if log.exists() else []

    def tell(self, order: str) -> None:
        """Tell the fake uv: ``hold-install``, ``fail-make``, ..."""
        (self.tools / order).touch()

    def take_back(self, order: str) -> None:
        (self.tools / order).unlink()

    def wait_until_tool_reaches(self, step: str) -> None:
        reached = self.tools / "reached"
        wait_until(lambda: reached.exists() and reached.read_text(encoding="utf-8") == step)

    def level(self) -> str:
        """What the stamp says was reached."""
        stamp = (self.root / ".venv" / "set-up-stamp.txt").read_text(encoding="ascii")
        return dict(line.split(" ", 1) for line in stamp.splitlines())["level"]

    def use_pip(self) -> None:
        """Take uv away; pip then builds with a backend that lies in the checkout."""
        pytest.importorskip("ensurepip", reason="this Python cannot make environments with pip")
        (self.tools / "uv").unlink()
        (self.root / "backend.py").write_text(BACKEND, encoding="utf-8")
        shutil.copy(self.tools / "files.json", self.root)

    @staticmethod
    def wait_until(true: Callable[[], bool]) -> None:
        wait_until(true)


def wait_until(true: Callable[[], bool]) -> None:
    for _ in range(PATIENCE * 50):
        if true():
            return
        time.sleep(0.02)
    pytest.fail("what the test waits for did not come")


@pytest.fixture
def small(tmp_path: Path) -> Iterator[SmallCheckout]:
    if os.name == "nt":
        pytest.skip("the stand-in for uv is a shell script")
    import json

    root, tools = tmp_path / "a small checkout", tmp_path / "tools"
    for folder in (root / "workbench", root / "tests", tools, tmp_path / "work", tmp_path / "home"):
        folder.mkdir(parents=True)
    for name in ("__init__", "__main__", "bootstrap", "set_up", "qt_libraries", "words"):
        shutil.copy(SOURCE / "workbench" / (name + ".py"), root / "workbench")
    shutil.copy(SOURCE / "tests" / "__main__.py", root / "tests")
    (root / "workbench" / "cli").mkdir()
    (root / "workbench" / "cli" / "__init__.py").write_text(CLI, encoding="utf-8")
    (root / "pyproject.toml").write_text(PYPROJECT, encoding="utf-8")
    (tools / "uv.py").write_text(FAKE_UV, encoding="utf-8")
    (tools / "files.json").write_text(json.dumps(FILES), encoding="utf-8")
    uv = tools / "uv"
    uv.write_text(f'#!/bin/sh\nexec "{BASE_PYTHON}" "{tools}/uv.py" "$@"\n', encoding="utf-8")
    uv.chmod(0o755)
    environment = {
        **{
            key: value for key, value in os.environ.items() if not key.startswith(("PYTHON", "QT_"))
        },
        "PATH": f"{tools}{os.pathsep}{os.environ['PATH']}",
        "HOME": str(tmp_path / "home"),
        "PIP_NO_INDEX": "1",
    }
    checkout = SmallCheckout(root, tools, tmp_path / "work", environment)
    yield checkout
    for process in checkout.running:  # whatever a failed test has left
        if process.poll() is None:
            os.killpg(process.pid, signal.SIGKILL)
            process.communicate()
