"""An office screen that is not there, as large as the one the tests have."""

from __future__ import annotations

import json
import os
import sys
from pathlib import Path

WIDTH, HEIGHT = 1366, 768


def offscreen(folder: Path) -> str:
    """The value of QT_QPA_PLATFORM for it; the file that describes it lies in ``folder``."""
    screen = {"name": "office", "x": 0, "y": 0, "width": WIDTH, "height": HEIGHT,
              "logicalDpi": 96, "logicalBaseDpi": 96, "dpr": 1.0}  # fmt: skip
    file = folder / "screen.json"
    content = {"windowFrameMargins": True, "screens": [screen]}
    file.write_text(json.dumps(content), encoding="utf-8")
    # Qt splits the platform's name at colons, so a drive letter must not stand in it.
    place = os.path.relpath(file) if sys.platform == "win32" else str(file)
    return f"offscreen:configfile={place}"
