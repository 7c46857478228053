"""``python3 tests [pytest's arguments]``: every check of the project, each named before it runs.

Sets itself up from a fresh checkout. All checks run even if one fails; pytest runs last, so that
its closing line is the last one printed. Everything runs in the checkout's own folder, and the
arguments are meant from there. Like the bootstrap, this file must be readable for an old Python.
"""

import os
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
sys.path[0] = str(ROOT)

from workbench import bootstrap  # noqa: E402

_LINT_IMPORTS = (
    "import sys; from importlinter.cli import lint_imports_command as run; sys.exit(run())"
)
# On as many processors as there are, up to four; "-n0" after the command runs them one by one.
_SIDE_BY_SIDE = ["-n", "auto", "--maxprocesses", "4", "--dist", "worksteal"]
CHECKS = {
    "ruff check": ["-m", "ruff", "check", "."],
    "ruff format": ["-m", "ruff", "format", "--check", "."],
    "mypy": ["-m", "mypy"],
    "import contracts": ["-c", _LINT_IMPORTS],
}


def run(name: str, arguments: "list[str]") -> int:
    """Name a check, run it with this interpreter in the checkout, and return its exit status."""
    print(f"\n=== {name} ===", flush=True)
    return subprocess.call([sys.executable, *arguments], cwd=str(ROOT), stdin=subprocess.DEVNULL)


def main(arguments: "list[str]") -> int:
    """Run all checks; return pytest's status if it failed, else 1 if another check did."""
    try:
        bootstrap.enter("tests", "test", arguments)
        from workbench import qt_libraries

        os.environ["QT_QPA_PLATFORM"] = "offscreen"  # whatever the desktop has set
        if sys.platform.startswith("linux"):
            qt_libraries.ensure_libraries("offscreen")
    except bootstrap.Refusal as refusal:
        bootstrap.say(str(refusal))
        return bootstrap.REFUSED
    try:
        failed = [name for name, check in CHECKS.items() if run(name, check) != 0]
        print(f"\nBefore pytest: {len(CHECKS) - len(failed)} of {len(CHECKS)} checks passed.")
        if failed:
            print(f"FAILED: {', '.join(failed)}. The whole run will count as failed.")
        status = run("pytest", ["-m", "pytest", *_SIDE_BY_SIDE, *arguments])
    except KeyboardInterrupt:
        return 130
    return status or int(bool(failed))


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
