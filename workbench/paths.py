"""Where resources and catalogues lie, in a checkout or a wheel; and the user's folder."""

from __future__ import annotations

import os
import sys
from pathlib import Path

_PACKAGE = Path(__file__).resolve().parent


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
    """The demo catalogue that is ranked until the user chooses a file of their own."""
    return shipped_catalogs() / "demo-tanks.csv"


def demo_job() -> Path:
    """The job that opens on first start."""
    return resources() / "demo-job.json"
