"""A paper to a file that the user names."""

from __future__ import annotations

import re
from pathlib import Path

from PySide6.QtWidgets import QFileDialog, QWidget

from workbench import safe_file
from workbench.gui.boxes import may_replace, tell
from workbench.report.blocks import PaperContent
from workbench.words import tr

SUFFIX = ".pdf"
_NOT_IN_NAMES = re.compile(r'[<>:"/\\|?*\x00-\x1f]+')
_LONGEST = 80


def suggested_name(*parts: str) -> str:
    """A file name of the first lines of some texts, without what a system does not allow in names.

    >>> suggested_name("Estimate", "Sam Example\\n3 Lake Lane", "")
    'Estimate - Sam Example.pdf'
    """
    lines = (part.strip().split("\n")[0] for part in parts)
    name = " - ".join(_NOT_IN_NAMES.sub(" ", line).strip(" .") for line in lines if line)
    return (name[:_LONGEST].strip(" .") or tr("paper")) + SUFFIX


def save_pdf(parent: QWidget, content: PaperContent, folder: Path, name: str) -> Path | None:
    """Ask where to, and write the PDF there; None if the user thought better of it, or was told."""
    from workbench.report.typeset import PaperError, pdf

    chosen, _ = QFileDialog.getSaveFileName(
        parent, tr("Save the paper"), str(folder / name), tr("PDF files") + f" (*{SUFFIX})"
    )
    if not chosen:
        return None
    path = Path(chosen)
    if path.suffix.lower() != SUFFIX:
        path = path.with_name(path.name + SUFFIX)
        # The dialog has asked about the name as typed, not about this one.
        if path.exists() and not may_replace(parent, tr("Save the paper"), path):
            return None
    try:
        safe_file.write_atomic(path, pdf(content))
    except (safe_file.SaveError, PaperError) as error:
        tell(parent, tr("The paper was not saved"), error.message, error.remedy)
        return None
    return path
