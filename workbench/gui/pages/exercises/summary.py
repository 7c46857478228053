"""For the trainer: how often each error was made, by the class or in this session."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtWidgets import QWidget

from workbench.gui.pages.grid_table import Cell, GridTable
from workbench.study.exercises.class_summary import Summary, summary
from workbench.study.exercises.results import ResultsFile
from workbench.study.exercises.slip import slips
from workbench.words import tr


class ErrorTable(GridTable):
    """The errors of first answers, the most frequent first; hidden while there are no answers."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(tr("Errors in first answers"), parent)
        self.remark.setProperty("userText", True)  # noqa: FBT003 - it names a file
        self.hide()

    def show_results(self, found: ResultsFile, path: Path | None) -> None:
        """Show what these first answers have in common; ``path`` is where they are kept."""
        self.setVisible(bool(found.rows or found.problems))
        told = summary(found.rows)
        columns = (tr("Error"), tr("Times"), tr("Learners"))
        self.show_table(columns, _rows(told))
        self.remark.setText(" ".join(_remarks(told, found, path)))


def _rows(told: Summary) -> list[list[Cell]]:
    labels = slips()
    rows = [
        [Cell(labels[one.slip].label), Cell(str(one.count)), Cell(str(len(one.names)))]
        for one in told.slips
    ]
    unknown = [one.unknown for one in told.names if one.unknown]
    if unknown:
        name = tr("none of the usual errors")
        rows.append([Cell(name), Cell(str(sum(unknown))), Cell(str(len(unknown)))])
    return rows or [[Cell(tr("none so far")), Cell("0"), Cell("0")]]


def _remarks(told: Summary, found: ResultsFile, path: Path | None) -> list[str]:
    answers = sum(one.answers for one in told.names)
    right = sum(one.right for one in told.names)
    where = path.name if path is not None else tr("this session")
    said = [
        tr(
            "{right} of {answers} first answers right; learners: {learners} ({where}).",
            right=right,
            answers=answers,
            learners=len(told.names),
            where=where,
        )
    ]
    if found.problems:
        said.append(
            tr(
                "Rows that cannot be read: {count}. {first}",
                count=len(found.problems),
                first=found.problems[0],
            )
        )
    return said
