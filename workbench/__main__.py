"""The one door: ``python3 workbench``, ``python -m workbench`` and the installed commands.

Started as a folder of a checkout it sets itself up and goes on in ``.venv``; started as a package
it stays where it is if all it needs is there. Like the bootstrap, this file must be readable for a
Python that is too old.
"""

import sys

if not __package__:  # started as a folder, whose files are no top-level modules
    from pathlib import Path

    sys.path[0] = str(Path(__file__).resolve().parent.parent)

from workbench import bootstrap

SUB_COMMANDS = (
    "size", "drawdown", "precharge", "bands", "solve", "pump", "cycle", "day", "demand", "header",
    "drive", "tolerance", "estimate", "card", "chart", "faults", "exercises",
    "check-catalog",
)  # fmt: skip
FOR_THE_WINDOW = ("--reset-settings",)


def main(argv: "list[str] | None" = None) -> int:
    """Run a sub-command, or open the window; return the exit status."""
    arguments = sys.argv[1:] if argv is None else list(argv)
    diagnostics = arguments[:1] == ["--diagnostics"]
    headless = diagnostics or not wants_window(arguments)
    try:
        needed = bootstrap.NEEDED_WITHOUT_WINDOW if headless else bootstrap.NEEDED
        if not __package__ or (bootstrap.missing(needed) and not diagnostics):
            bootstrap.enter("workbench", "run", arguments)
        if diagnostics:
            return print_diagnostics()
        if headless:
            from workbench.cli import main as run_sub_command

            return run_sub_command(arguments)
        return _open_window(arguments)
    except bootstrap.Refusal as refusal:
        bootstrap.say(str(refusal))
        return bootstrap.REFUSED


def window_main(argv: "list[str] | None" = None) -> int:
    """Start from a desktop's menu, without a terminal; same arguments as :func:`main`."""
    return main(argv)


def wants_window(arguments: "list[str]") -> bool:
    """Whether they ask for the window: nothing, a file, or an option that only the window has.

    An unknown option goes to the command line's parser, which refuses it with its usage text.
    """
    if not arguments:
        return True
    first = arguments[0]
    return first in FOR_THE_WINDOW or not (first in SUB_COMMANDS or first.startswith("-"))


def _open_window(arguments: "list[str]") -> int:
    from workbench import qt_libraries

    qt_libraries.ensure_window_can_open()
    import gc

    gc.disable()  # until the window is complete: nothing that a start makes is garbage
    from workbench.gui.app import run

    return run(arguments)


def print_diagnostics() -> int:
    """Print the versions that a report of an error should name; no names of users or folders."""
    import platform
    from importlib import metadata

    from workbench import __version__, qt_libraries
    from workbench.words import tr

    print(tr("Program: {version}", version=__version__))
    print(tr("Python: {version}", version=platform.python_version()))
    print(tr("System: {system}", system=f"{platform.system()} {platform.machine()}"))
    for name in (
        *("numpy", "pint", "pydantic", "babel", "typst", "pyqtgraph", "PySide6-Essentials"),
    ):
        try:
            version = metadata.version(name)
        except metadata.PackageNotFoundError:
            version = tr("not installed")
        print(f"{name}: {version}")
    print(tr("Qt platform: {name}", name=qt_libraries.platform_name() or tr("none, no display")))
    return 0


if __name__ == "__main__":
    sys.exit(main())
