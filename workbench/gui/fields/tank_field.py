"""A list of the ranking's tanks, of which the job names one; its first row names none."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from PySide6.QtCore import QAbstractListModel, QModelIndex, QPersistentModelIndex, Qt
from PySide6.QtWidgets import QListView, QWidget

from workbench.gui.fields.choice_field import ListField
from workbench.words import tr

if TYPE_CHECKING:
    from workbench.study.ranking import Ranking

Index = QModelIndex | QPersistentModelIndex
_SHOWN = 22  # characters; the list that opens shows whole names


class _Tanks(QAbstractListModel):
    """The first row stands for no name; one for a name that is not offered may follow it."""

    def __init__(self, parent: QWidget, *, optional: bool) -> None:
        super().__init__(parent)
        self._optional = optional
        self.ranking: Ranking | None = None
        self.missing = ""

    def show(self, ranking: Ranking | None, missing: str) -> None:
        """Take another ranking, and the key that it does not know."""
        self.beginResetModel()
        self.ranking, self.missing = ranking, missing
        self.endResetModel()

    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008 - Qt's own default
        """How many there are to choose from."""
        if parent.isValid():
            return 0
        return self.before + (0 if self.ranking is None else len(self.ranking))

    @property
    def before(self) -> int:
        """Rows before the first of the ranking."""
        return 2 if self.missing else 1

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        """The name of a tank, with a word where it does not pass."""
        if not index.isValid():
            return None
        row, ranking = index.row(), self.ranking
        if role != Qt.ItemDataRole.DisplayRole:
            return None
        if row == 0:
            if self._optional:
                return tr("none")
            if ranking is None or not len(ranking):
                return tr("first of the ranking")
            return tr("first of the ranking: {name}", name=ranking.row(0).name)
        if row < self.before:
            return tr("{key} (not offered)", key=self.missing)
        assert ranking is not None  # noqa: S101 - it has the row
        one = ranking.row(row - self.before)
        return one.name if one.passes else tr("{name} (does not pass)", name=one.name)

    def key(self, row: int) -> str:
        """What names the tank of a row in a job; empty for the first of the ranking."""
        if row == 0 or self.ranking is None:
            return ""
        if row < self.before:
            return self.missing
        return self.ranking.candidates.key(int(self.ranking.order[row - self.before]))

    def row_of(self, key: str) -> int:
        """The row of a key that is offered, or of the missing one."""
        if not key:
            return 0
        if key == self.missing or self.ranking is None:
            return 1
        candidate = self.ranking.candidates.by_key[key]
        order = self.ranking.order
        return self.before + int((order == candidate).argmax())


def _same(one: Ranking | None, other: Ranking | None) -> bool:
    """Whether two rankings list the same, so that typing elsewhere leaves the list alone."""
    if one is None or other is None:
        return one is other
    return (
        one.candidates is other.candidates
        and one.passing == other.passing
        and bool((one.order == other.order).all())
    )


class TankField(ListField):
    """A choice among the tanks of a ranking, by their keys.

    The empty key is the first of the ranking, or no tank where the field is ``optional``.
    """

    def __init__(self, parent: QWidget | None = None, *, optional: bool = False) -> None:
        super().__init__(_SHOWN, parent)
        self._tanks = _Tanks(self, optional=optional)
        view = QListView(self)
        view.setUniformItemSizes(True)  # thousands of pairs are not measured one by one
        self.setView(view)
        self.setModel(self._tanks)
        self.setProperty("userText", True)  # noqa: FBT003 - Qt's own signature

    def show_tank(self, key: str, ranking: Ranking | None) -> None:
        """Show the named tank among those of a ranking (None: nothing is ranked now)."""
        known = ranking is not None and key in ranking.candidates.by_key
        missing = key if key and not known else ""
        if missing != self._tanks.missing or not _same(ranking, self._tanks.ranking):
            self._tanks.show(ranking, missing)
        self.setCurrentIndex(self._tanks.row_of(key))

    def value_at(self, row: int) -> object:
        """The key of a row's tank."""
        return self._tanks.key(row)


def tank_help(name: str) -> str:
    """What the field of an entry that names a tank is for."""
    if name == "second_tank":
        return tr("Another tank for the same day, to compare the two.")
    if name.startswith("offer_"):
        return tr("Which tank this option of the estimate offers.")
    return tr(
        "Which tank this page is about. The first of the ranking on the page “Tank”, in the order"
        " chosen there, unless another is named."
    )
