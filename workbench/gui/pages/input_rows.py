"""Makes the row of any entry of the job: the field that fits it, its label and its help."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, NamedTuple

from PySide6.QtWidgets import QGridLayout

from workbench.gui.fields.choice_field import ChoiceField, TickField
from workbench.gui.fields.entry_field import TextField
from workbench.gui.fields.field_row import FieldRow
from workbench.gui.fields.lines_field import WordsField
from workbench.gui.fields.pairs_field import PairsField
from workbench.gui.fields.quantity_field import QuantityField
from workbench.gui.fields.tank_field import TankField, tank_help
from workbench.job.fields import fields
from workbench.job.labels import label_of
from workbench.job.options import option
from workbench.job.texts import LONGEST_TEXT, TextEntry, texts
from workbench.units import Display
from workbench.words import tr

TANKS = ("first_tank", "second_tank", "offer_a_tank", "offer_b_tank", "offer_c_tank")
"""The entries that name a tank."""
_MAY_NAME_NONE = ("second_tank", "offer_b_tank", "offer_c_tank")
BANDS = ("bands", "offer_a_band", "offer_b_band", "offer_c_band")
"""The entries that hold switch bands; only the first may hold several and none of them no one."""
_LONG_CHOICE = 25  # characters from which a list stands beneath its label, not beside it


class Doors(NamedTuple):
    """Where a person's change goes: what was typed (with its episode), and what was chosen."""

    entered: Callable[[Any, int], None]
    chosen: Callable[[Any], None]


def make_row(grid: QGridLayout, name: str, display: Display, doors: Doors) -> FieldRow:
    """The row of an entry at the end of the grid. Raises KeyError: there is none of that name."""
    if name in TANKS:
        return _tank_row(grid, name, doors)
    if name in texts() or name == "title":
        return _words_row(grid, name, doors)
    if name in BANDS or name in fields():
        return _typed_row(grid, name, display, doors)
    return _option_row(grid, name, doors)


def _words_row(grid: QGridLayout, name: str, doors: Doors) -> FieldRow:
    title = TextEntry("title", tr("Job"), tr("What this job is about, in your own words."),
                      tr("customer, place"))  # fmt: skip
    entry = texts().get(name, title)
    field: TextField | WordsField
    if entry.lines > 1:
        field = WordsField(entry.lines, LONGEST_TEXT, entry.hint)
    else:
        field = TextField(LONGEST_TEXT, entry.hint)
    field.setObjectName(name)
    field.setProperty("userText", True)  # noqa: FBT003 - Qt's own signature
    field.entered.connect(doors.entered)
    return FieldRow(grid, entry.label, field, entry.help, wide=entry.lines > 1)


def _option_row(grid: QGridLayout, name: str, doors: Doors) -> FieldRow:
    known = option(name)
    control: ChoiceField | TickField
    wide = False
    if known.labels:
        control = ChoiceField(known.labels)
        wide = max(map(len, known.labels.values())) > _LONG_CHOICE
    else:
        control = TickField(known.tick)
    control.setObjectName(name)
    control.chosen.connect(doors.chosen)
    return FieldRow(grid, known.label, control, known.help, wide=wide)


def _tank_row(grid: QGridLayout, name: str, doors: Doors) -> FieldRow:
    control = TankField(optional=name in _MAY_NAME_NONE)
    control.setObjectName(name)
    control.chosen.connect(doors.chosen)
    return FieldRow(grid, label_of(name), control, tank_help(name), wide=True)


def _typed_row(grid: QGridLayout, name: str, display: Display, doors: Doors) -> FieldRow:
    field = fields().get(name)
    control: QuantityField | PairsField
    if field is None:
        control = QuantityField(None, "" if name == "bands" else tr("as the job's"))
        label, help_text = label_of(name), _band_help(name)
    else:
        label, help_text = field.label, field.help
        if isinstance(field.kind, tuple):
            control = PairsField(field.kind, field.empty)
        else:
            control = QuantityField(field.kind, field.empty)
    control.setObjectName(name)
    control.entered.connect(doors.entered)
    row = FieldRow(grid, label, control, help_text, wide=isinstance(control, PairsField))
    row.show_unit(control.unit_text(display))
    return row


def _band_help(name: str) -> str:
    if name == "bands":
        return tr("The switch bands drawn beside your own, for example “20/40, 30/50, 40/60 psi”.")
    return tr("The switch band of this option, for example “40/60 psi”.")
