"""Where resources and catalogues lie, in a checkout or a wheel; and the user's folder."""

from __future__ import annotations

import os
import sys
from pathlib import Path

_PACKAGE = Path(__file__).resolve().parent
_DEMO_CATALOG = "demo-tanks.csv"


def _shipped(name: str) -> Path:
    in_checkout = _PACKAGE.parent / name
    in_wheel = _PACKAGE / "_data" / name
    return in_wheel if in_wheel.is_dir() else in_checkout


def resources() -> Path:
    """The folder of fonts, styles, help texts and the demo job; read only."""
    return _shipped("resources")


def shipped_catalogs() -> Path:
    """The folder of the catalogues that come with the program."""
    return _shipped("catalogs")


def user_data() -> Path:
    """The folder for what the user keeps and did not place elsewhere. It may not exist yet."""
    if sys.platform == "win32":
        base = Path(os.environ.get("LOCALAPPDATA") or Path.home() / "AppData" / "Local")
    elif sys.platform == "darwin":
        base = Path.home() / "Library" / "Application Support"
    else:
        base = Path(os.environ.get("XDG_DATA_HOME") or Path.home() / ".local" / "share")
    return base / "tank-workbench"


def default_catalog() -> Path:
    """The demo catalogue that is ranked until the user chooses a file of their own.

    In an installed wheel that is the user's copy, once there is one: what lies in the wheel is
    replaced by the next version, and edits with it.
    """
    own = user_data() / "catalogs" / _DEMO_CATALOG
    return own if is_installed() and own.exists() else shipped_catalogs() / _DEMO_CATALOG


def is_installed() -> bool:
    """Whether this runs from an installed wheel, not from a checkout."""
    return (_PACKAGE / "_data").is_dir()


def own_catalog() -> Path:
    """As :func:`default_catalog`, but in a wheel the user is first given their copy.

    Raises:
        OSError: the copy could not be made.
    """
    if is_installed():
        import shutil

        own = user_data() / "catalogs"
        for source in shipped_catalogs().iterdir():
            if not (own / source.name).exists():
                own.mkdir(parents=True, exist_ok=True)
                shutil.copyfile(source, own / source.name)
    return default_catalog()


def demo_job() -> Path:
    """The job that opens on first start."""
    return resources() / "demo-job.json"
