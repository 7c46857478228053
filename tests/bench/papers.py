"""An estimate of the demo's size from its content until its pages are painted in the window.

Compared is typst alone, setting the same number of lines of plain text as pictures of the same
size: no tables, no tags, no check of what the font lacks, no window.
"""

from __future__ import annotations

import os
import tempfile
import time
from collections.abc import Callable
from dataclasses import replace
from itertools import count
from pathlib import Path

from screen import offscreen
from timing import Row, compare, take_turns, timed

TARGET = 300.0  # ms
ITEMS = 66  # of the table, which makes four pages
PART = "A paper of four pages until it is seen"


def measure(rounds: int) -> list[Row]:
    with tempfile.TemporaryDirectory(prefix="bench-") as folder:
        os.environ["QT_QPA_PLATFORM"] = offscreen(Path(folder))
        for name in ("HOME", "USERPROFILE", "XDG_DATA_HOME", "LOCALAPPDATA"):
            os.environ[name] = folder
        return [_measure(rounds)]


def _measure(rounds: int) -> Row:
    from PySide6.QtWidgets import QApplication

    from workbench.gui import theme
    from workbench.gui.paper.preview import PaperPreview

    app = QApplication.instance() or QApplication([])
    theme.apply(app, theme.LIGHT)
    preview = PaperPreview()
    preview.resize(880, 620)  # what the window leaves for it on a small office screen
    preview.show()
    preview.show_content(_estimate(0))
    app.processEvents()
    if preview.page_count != 4:
        raise SystemExit(f"the estimate takes {preview.page_count} pages")
    numbers = count(1)

    def ours() -> float:
        content = _estimate(next(numbers))  # every time another one, as nothing is set twice
        begin = time.perf_counter()
        preview.show_content(content)
        preview._make()
        preview.repaint()
        app.processEvents()
        return (time.perf_counter() - begin) * 1e3

    found = take_turns({"ours": ours, "bare": timed(_bare(preview._device_ppi()))}, rounds)
    preview.close()
    return compare(
        PART, "content to pixels", "ms", found["ours"], found["bare"], target=TARGET, of_ours=True
    )


def _estimate(number: int) -> object:
    from tests.report import samples

    return replace(samples.estimate(items=ITEMS), foot=f"Paper {number}, invented")


def _bare(ppi: float) -> Callable[[], object]:
    import typst

    from workbench import paths

    fonts = typst.Fonts(
        include_system_fonts=False,
        include_embedded_fonts=False,
        font_paths=[paths.resources() / "fonts"],
    )
    numbers = count(1)

    def plain() -> object:
        lines = "\\ \n".join(f"Line {n} of a plain paper" for n in range(150))
        source = f'#set text(font: "Noto Sans", size: 10pt)\nNo. {next(numbers)} \\ \n{lines}'
        return typst.compile(source.encode(), format="png", ppi=ppi, font_paths=fonts)

    return plain
