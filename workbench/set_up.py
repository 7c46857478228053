"""What :mod:`workbench.bootstrap` calls when the environment is not ready: the slow, rare part.

Standard library only. Every line here may be the last one before we are killed: the stamp says
*unfinished* while the environment is being changed, old environments are renamed before they are
deleted, and a lock keeps two set-ups of one folder apart.
"""

import os
import shutil
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from workbench.bootstrap import (
    ABSENT,
    ENVIRONMENT,
    FOREIGN,
    INCOMPLETE,
    LEVELS,
    ON_WINDOWS,
    READY,
    STALE,
    UNFINISHED,
    Refusal,
    base_python,
    environment_python,
    missing,
    project_sum,
    read_stamp,
    say,
    state_of,
    write_stamp,
)

INTERRUPTED = 130  # the shell's own status for Ctrl+C
WORKSHOP = ".venv-setup"  # holds the lock, and what is being thrown away

_WHY = {
    ABSENT: "First start in this folder: setting up. This needs the network and some minutes.",
    UNFINISHED: "The last set-up was not finished: starting it again.",
    FOREIGN: "The folder .venv was not made by this program: keeping it under another name.",
    STALE: "The environment was made in another folder or for another Python: making it afresh.",
    INCOMPLETE: "What is installed is not all that is needed now: adding it.",
}
_INSTALL_FAILED = (
    "The packages could not be installed; the reason stands above. Most often the network is "
    "missing, or the disk is full. Mend that and run the same command again; nothing has to be "
    "deleted before."
)


def set_up(root: Path, level: str, python: str = "") -> None:
    """Bring the environment to ``level``, whatever state it is in.

    Raises:
        Refusal: It cannot be done now. What was begun is known as unfinished.
        SystemExit: Ctrl+C, with status ``INTERRUPTED``.
    """
    began = time.monotonic()
    try:
        with _only_set_up(root) as lock:
            state = state_of(root, level, python)
            if state == READY:  # another set-up did it while we waited
                return
            say(_WHY[state])
            facts = _bring_to(root, level, state, _Tools(root, lock))
            write_stamp(root, **facts)
            say(f"Set-up finished after {time.monotonic() - began:.0f} s.")
    except OSError as error:
        raise Refusal(
            f"Set-up cannot work in this folder: {error}.\nYou must be allowed to write there, its "
            "disk must have 1 GB free, and no window of the program may be open."
        ) from error
    except KeyboardInterrupt:
        say("Set-up was interrupted. Run the same command again to finish it.")
        raise SystemExit(INTERRUPTED) from None


@contextmanager
def _only_set_up(root: Path) -> Iterator[int]:
    """Hold the lock of this folder's set-up; the operating system drops it when we die.

    Yields the lock's descriptor. The tools that we start inherit it: should we be killed, they
    still write into the environment, and the next set-up waits until they are done.
    """
    workshop = root / WORKSHOP
    workshop.mkdir(exist_ok=True)
    with (workshop / "lock").open("a+b") as lock:
        if not _try_lock(lock.fileno()):
            say("Waiting for another set-up of this folder to finish ...")
            while not _try_lock(lock.fileno()):
                time.sleep(0.2)
        yield lock.fileno()


def _try_lock(descriptor: int) -> bool:
    try:
        if sys.platform == "win32":
            import msvcrt

            msvcrt.locking(descriptor, msvcrt.LK_NBLCK, 1)
        else:
            import fcntl

            fcntl.flock(descriptor, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except (BlockingIOError, PermissionError):
        return False
    return True


class _Tools:
    """Runs the programs that do the work, inside the checkout and under its lock."""

    def __init__(self, root: Path, lock: int) -> None:
        self.root = root
        self.lock = lock
        self.python = str(environment_python(root))
        # Not the link inside an environment that is about to go, but the Python it stands on.
        self.base = getattr(sys, "_base_executable", None) or sys.executable

    def run(self, *command: str) -> bool:
        status = subprocess.call(  # noqa: S603 - our own words only
            command,
            cwd=self.root,
            env={**os.environ, "PIP_USER": "0"},  # a person's habit that no environment allows
            stdin=subprocess.DEVNULL,
            stdout=sys.stderr,  # the program's own output stays clean
            pass_fds=() if ON_WINDOWS else (self.lock,),
        )
        return status == 0

    def make(self, maker: str) -> bool:
        version = ".".join(str(part) for part in sys.version_info[:3])
        say(f"Making the environment .venv with Python {version} and {maker}.")
        folder = str(self.root / ENVIRONMENT)
        if maker == "pip":
            return self.run(self.base, "-I", "-m", "venv", folder)
        return self.run("uv", "venv", "-q", "--allow-existing", "--python", self.base, folder)

    def install(self, maker: str, level: str) -> bool:
        whose = "the program needs" if level == "run" else "the program and its checks need"
        say(f"Installing what {whose}.")
        command = ["uv", "pip", "install", "--python", self.python, "-e"]
        if maker == "pip":
            command = [self.python, "-I", "-m", "pip", "--disable-pip-version-check", "install"]
            command += ["--no-input", "-e"]
        check = (
            "import sys; from importlib.util import find_spec as has; "
            "sys.exit(', '.join(n for n in sys.argv[1:] if not has(n)) or 0)"
        )
        return self.run(*command, "." if level == "run" else ".[test]") and self.run(
            self.python, "-I", "-c", check, "workbench", *LEVELS[level]
        )


def _bring_to(root: Path, level: str, state: str, tools: _Tools) -> dict[str, str]:
    """Do what ``state`` asks for, and return the facts for the stamp."""
    before = read_stamp(root)
    maker = before.get("maker", "")
    reached = "test" if "test" in (level, before.get("level")) else "run"  # never back to run
    if state == INCOMPLETE and (maker == "pip" or shutil.which("uv")):
        python = before["python"]
        write_stamp(root, level="unfinished")
        if not tools.install(maker, reached):
            write_stamp(root, **before)  # as good as it was: the next start tries again
            raise Refusal(_INSTALL_FAILED)
    else:
        maker = _make_afresh(root, reached, state, tools)
        python = f"{sys.version_info[0]}.{sys.version_info[1]}"
    return {
        "level": reached,
        "maker": maker,
        "python": python,
        "base": base_python(root),
        "project": project_sum(root),
        "checkout": ascii(str(root)),
    }


def _make_afresh(root: Path, level: str, state: str, tools: _Tools) -> str:
    """Make and fill the environment; with uv where it is and works, else with venv and pip."""
    if shutil.which("uv"):
        _clear_the_place(root, state)
        if tools.make("uv") and tools.install("uv", level):
            return "uv"
        say("uv could not do it: trying again with Python's own venv and pip.")
        state = UNFINISHED
    if missing(("ensurepip",)):  # Debian keeps it in a package of its own
        install_system_packages(
            [f"python{sys.version_info[0]}.{sys.version_info[1]}-venv"],
            "This Python cannot make environments: a package of the system is missing.",
        )
    _clear_the_place(root, state)
    if not tools.make("pip"):
        raise Refusal("The environment could not be made; the reason stands above.")
    if not tools.install("pip", level):
        raise Refusal(_INSTALL_FAILED)
    return "pip"


def _clear_the_place(root: Path, state: str) -> None:
    """Leave a ``.venv`` that holds nothing but a stamp that says *unfinished*."""
    folder, discarded = root / ENVIRONMENT, root / WORKSHOP / "discarded"
    shutil.rmtree(discarded, ignore_errors=True)  # of a set-up that was killed while deleting
    if state == FOREIGN:
        kept = next(
            name
            for name in (f"{ENVIRONMENT}-before-{count}" for count in range(1, 1000))
            if not os.path.lexists(root / name)
        )
        folder.rename(root / kept)
        say(f"It is now {kept}.")
    elif os.path.lexists(folder):
        folder.rename(discarded)  # first out of the way in one step: no half-deleted one is met
        shutil.rmtree(discarded, ignore_errors=True)
    folder.mkdir()
    write_stamp(root, level="unfinished")


def install_system_packages(packages: list[str], why: str) -> None:
    """Install packages of Debian, or of a system like it, as root.

    Raises:
        Refusal: There is no apt-get; or we are not root, and the text holds the one line to run;
            or apt-get failed.
    """
    line = f"apt-get install -y {' '.join(packages)}"
    if not shutil.which("apt-get"):
        raise Refusal(
            f"{why}\nInstall what is missing with your system's own means, then start again. "
            f"Debian's packages for it are: {', '.join(packages)}."
        )
    if ON_WINDOWS or os.geteuid() != 0:
        raise Refusal(f"{why}\nRun this line once, then start again:\n    sudo {line}")
    say(f"{why}\nInstalling as root: {line}")
    options = ["-q", "-o", "DPkg::Lock::Timeout=300"]  # another apt-get may be at work
    install = ["install", "-y", "--no-install-recommends", *packages]
    # A dpkg that was killed refuses all work until it has been told to finish.
    for command in (["dpkg", "--configure", "-a"], ["apt-get", *options, "update"]):
        _run_quietly(command)
    if _run_quietly(["apt-get", *options, *install]) != 0:
        raise Refusal(
            f"apt-get could not do it; the reason stands above. The line was:\n    {line}"
        )


def _run_quietly(command: list[str]) -> int:
    return subprocess.call(  # noqa: S603 - our own words only
        command,
        env={**os.environ, "DEBIAN_FRONTEND": "noninteractive"},
        stdin=subprocess.DEVNULL,
        stdout=sys.stderr,
    )
