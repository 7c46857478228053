"""Rules that the sources keep, each also seen to catch a sample that breaks it."""

from __future__ import annotations

import ast
import re
import string
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from workbench.gui import theme

ROOT = Path(__file__).resolve().parents[2]
SOURCES = sorted((ROOT / "workbench").rglob("*.py"))
LONGEST_FILE, LONGEST_FUNCTION = 400, 50

Faults = Iterator[tuple[int, str]]

TEXT_CALLS = {
    *("setText", "setTitle", "setWindowTitle", "setToolTip", "setStatusTip", "setWhatsThis"),
    *("setPlaceholderText", "setAccessibleName", "setAccessibleDescription", "setLabelText"),
    *("setTabText", "setItemText", "setHeaderLabels", "setHorizontalHeaderLabels", "setSuffix"),
    *("setPrefix", "setSpecialValueText", "setInformativeText", "setDetailedText", "setHtml"),
    *("setPlainText", "setIconText", "showMessage", "addRow", "addTab", "addItem", "addItems"),
    *("addAction", "addMenu", "addToolBar", "addButton", "insertItem", "insertTab", "beginMacro"),
    *("QLabel", "QAction", "QPushButton", "QToolButton", "QCheckBox", "QRadioButton", "QMenu"),
    *("QGroupBox", "QDockWidget", "QTableWidgetItem", "QStandardItem", "QUndoCommand"),
    *("QMessageBox", "QProgressDialog", "QAccessibleAnnouncementEvent"),
    *("information", "warning", "question", "critical"),
    *("getOpenFileName", "getSaveFileName", "getExistingDirectory", "getText"),
}
LOOK_CALLS = {"QFont", "setStyleSheet", "setPointSize", "setPointSizeF", "setPixelSize"}
SIZE_CALLS = {
    *("setFixedSize", "setFixedWidth", "setFixedHeight", "setMinimumSize", "setMinimumWidth"),
    *("setMinimumHeight", "setMaximumSize", "setMaximumWidth", "setMaximumHeight", "setSpacing"),
    *("setHorizontalSpacing", "setVerticalSpacing", "setContentsMargins", "addSpacing"),
}
LOOK_TEXT = re.compile(
    r"#(?:[0-9a-f]{3,4}|[0-9a-f]{6}|[0-9a-f]{8})\b(?![\w-])|font-(?:size|family|weight)\s*:"
    r"|(?<![\w-])(?:background-)?color\s*:|<font\b",
    re.IGNORECASE,
)

NO_WORDS = re.compile(r"</?[a-z]+>|\*\.\w+|\btank-workbench\b")  # tags, file patterns, our name


def called(call: ast.Call) -> str:
    """The last name of what is called: "setText" in ``self.label.setText(...)``."""
    function = call.func
    if isinstance(function, ast.Attribute):
        return function.attr
    return function.id if isinstance(function, ast.Name) else ""


def calls(tree: ast.AST) -> Iterator[tuple[ast.Call, str]]:
    for node in ast.walk(tree):
        if isinstance(node, ast.Call):
            yield node, called(node)


def docstrings(tree: ast.AST) -> set[ast.AST]:
    """The nodes of all texts that stand alone as statements."""
    alone = (node.value for node in ast.walk(tree) if isinstance(node, ast.Expr))
    return {value for value in alone if isinstance(value, ast.Constant)}


def literal_texts(node: ast.expr) -> Iterator[str]:
    """The texts written out in an argument, outside any call in it such as ``tr(...)``."""
    if isinstance(node, ast.Constant) and isinstance(node.value, str):
        yield node.value
    elif isinstance(node, ast.JoinedStr | ast.List | ast.Tuple):
        for part in node.values if isinstance(node, ast.JoinedStr) else node.elts:
            yield from literal_texts(part)
    elif isinstance(node, ast.BinOp):
        yield from literal_texts(node.left)
        yield from literal_texts(node.right)
    elif isinstance(node, ast.IfExp):
        yield from literal_texts(node.body)
        yield from literal_texts(node.orelse)


# -- the rules -----------------------------------------------------------------------------------


def messages_can_be_collected(tree: ast.Module) -> Faults:
    """``tr`` takes one plain literal, and exactly the values that stand in it.

    The texts of a ``Finding`` have their values put in when they are shown, in the units of then.
    """
    later = {part for call, name in calls(tree) if name == "Finding" for part in call.args}
    for call, name in calls(tree):
        if name != "tr":
            continue
        message = call.args[0] if call.args else None
        if not (isinstance(message, ast.Constant) and isinstance(message.value, str)):
            yield call.lineno, "tr() takes a plain literal, so that translators find it"
            continue
        given = {keyword.arg for keyword in call.keywords}
        fields = {field for _, field, _, _ in string.Formatter().parse(message.value) if field}
        if None not in given and fields != given and not (call in later and not given):
            yield call.lineno, f"tr() has places {sorted(fields)} and values {sorted(given)}"


def looks_come_from_the_theme(tree: ast.Module) -> Faults:
    """No colour, font, size or distance is written out."""
    skipped = docstrings(tree)
    for node in ast.walk(tree):
        if isinstance(node, ast.Constant) and isinstance(node.value, str) and node not in skipped:
            found = LOOK_TEXT.search(node.value)
            if found:
                yield node.lineno, f"'{found[0]}' belongs in the theme"
        named_colour = isinstance(node, ast.Attribute) and "GlobalColor." in ast.unparse(node)
        if named_colour and node.attr != "transparent":
            yield node.lineno, f"the colour {node.attr} belongs in the theme"
    for call, name in calls(tree):
        if name in LOOK_CALLS:
            yield call.lineno, f"{name} belongs in the theme"
        literal = [a for a in call.args if isinstance(a, ast.Constant) and a.value != 0]
        if name in SIZE_CALLS | {"QColor"} and literal:
            yield call.lineno, f"{name} takes what the theme or the font gives, no literal"


def connections_let_go(tree: ast.Module) -> Faults:
    """Signals are connected to methods: a lambda or a partial keeps its widgets alive."""
    for call, name in calls(tree):
        if name != "connect" or not call.args:
            continue
        slot = call.args[0]
        if isinstance(slot, ast.Lambda):
            yield call.lineno, "connect a method, no lambda"
        if isinstance(slot, ast.Call) and called(slot) == "partial":
            yield call.lineno, "connect a method, no partial"


def qt_is_not_imported(tree: ast.Module) -> Faults:
    """Outside the window nothing needs Qt."""
    for node in ast.walk(tree):
        modules = []
        if isinstance(node, ast.Import):
            modules = [alias.name for alias in node.names]
        elif isinstance(node, ast.ImportFrom):
            modules = [node.module or ""]
        for module in modules:
            if module.split(".")[0] in ("PySide6", "shiboken6", "pyqtgraph"):
                yield node.lineno, f"{module} may be imported under gui only"


def shown_texts_are_translated(tree: ast.Module) -> Faults:
    """A text with a letter in it that a person reads goes through ``tr``."""
    for call, name in calls(tree):
        if name not in TEXT_CALLS:
            continue
        for argument in call.args:
            for text in literal_texts(argument):
                if re.search(r"[^\W\d_]", NO_WORDS.sub("", text)):
                    yield call.lineno, f"{name}: {text!r} does not go through tr()"


def roles_exist(tree: ast.Module) -> Faults:
    """A role is one that the theme knows."""
    for call, name in calls(tree):
        role = call.args[1] if len(call.args) == 2 else None
        if not (isinstance(role, ast.Constant) and isinstance(role.value, str)):
            continue
        key = call.args[0]
        sets_role = name == "setProperty" and isinstance(key, ast.Constant) and key.value == "role"
        if (name == "set_role" or sets_role) and role.value not in theme.ROLES:
            yield call.lineno, f"the theme has no role '{role.value}'"


def functions_are_short(tree: ast.Module) -> Faults:
    """A function has at most fifty lines, its docstring aside."""
    for node in ast.walk(tree):
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef) and node.end_lineno:
            first = node.body[0]
            lines = node.end_lineno - node.lineno + 1
            if ast.get_docstring(node) and first.end_lineno:
                lines -= first.end_lineno - first.lineno + 1
            if lines > LONGEST_FUNCTION:
                yield node.lineno, f"{node.name} has {lines} lines, {LONGEST_FUNCTION} at most"


def files_are_short(source: str) -> Faults:
    """A file has at most four hundred lines."""
    count = len(source.splitlines())
    if count > LONGEST_FILE:
        yield count, f"the file has {count} lines, {LONGEST_FILE} at most"


# -- where each holds ----------------------------------------------------------------------------


def _in_gui(file: Path) -> bool:
    return "gui" in file.relative_to(ROOT).parts


def _is_theme(file: Path) -> bool:
    """The window's looks, and those of what is drawn on paper, which is the same in every theme."""
    if file == ROOT / "workbench" / "report" / "svg.py":
        return True
    return _in_gui(file) and file.relative_to(ROOT / "workbench" / "gui").parts[0].startswith(
        "theme"
    )


def _anywhere(_file: Path) -> bool:
    return True


Rule = Callable[[ast.Module], Faults]
RULES: dict[Rule, Callable[[Path], bool]] = {
    messages_can_be_collected: _anywhere,
    looks_come_from_the_theme: lambda file: not _is_theme(file),
    connections_let_go: _in_gui,
    qt_is_not_imported: lambda file: not _in_gui(file),
    shown_texts_are_translated: _in_gui,
    roles_exist: _in_gui,
    functions_are_short: _anywhere,
}


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.__name__)
def test_the_sources_keep_the_rule(rule):
    broken = [
        f"{file.relative_to(ROOT)}:{line}: {fault}"
        for file in SOURCES
        if RULES[rule](file)
        for line, fault in rule(ast.parse(file.read_text(encoding="utf-8")))
    ]
    assert not broken, "\n" + "\n".join(broken)


def test_no_file_is_long():
    broken = [
        f"{file.relative_to(ROOT)}: {fault}"
        for file in SOURCES
        for _, fault in files_are_short(file.read_text(encoding="utf-8"))
    ]
    assert not broken, "\n" + "\n".join(broken)


# -- each rule catches what it is for ------------------------------------------------------------

LONG_FUNCTION = "def long():\n" + "    pass\n" * LONGEST_FUNCTION
LONG_DOCSTRING = 'def short():\n    """' + "Words.\n" * 60 + '"""\n    pass\n'
BAD = {
    messages_can_be_collected: (
        'tr(f"Bad {n}")',
        "tr(message)",
        'tr("one" + other)',
        'tr("{count} tanks", number=3)',
        'tr("{count} tanks")',
        "words.tr()",
    ),
    looks_come_from_the_theme: (
        'colour = "#A8261C"',
        'colour = "#fff"',
        'QColor("red")',
        "QColor(10, 20, 30)",
        "pen = Qt.GlobalColor.red",
        "font = QFont()",
        "label.setStyleSheet(sheet)",
        "html = \"<b style='font-size: 12pt'>\"",
        "html = f\"<span style='color: {x}'>\"",
        "label.setFixedSize(20, 30)",
        "label.setMinimumWidth(200)",
        "layout.setContentsMargins(0, 9, 0, 9)",
        "font.setPointSizeF(size)",
    ),
    connections_let_go: (
        "button.clicked.connect(lambda: self.go())",
        "button.clicked.connect(partial(self.go, 1))",
        "button.clicked.connect(functools.partial(self.go, 1))",
    ),
    qt_is_not_imported: (
        "from PySide6.QtCore import Qt",
        "import pyqtgraph as pg",
        "def late():\n    import shiboken6",
    ),
    shown_texts_are_translated: (
        'label.setText("Stop")',
        'QLabel("Stop")',
        'form.addRow("Cut-in:", field)',
        'label.setText(f"{n} tanks")',
        'label.setText("Stop" if bad else tr("Go"))',
        'label.setText(tr("Stop") + " now")',
        'box.addItems(["Bladder", tr("Diaphragm")])',
        'QAction("Open", self)',
        'field.setAccessibleName("Cut-in")',
    ),
    roles_exist: ('theme.set_role(label, "shouting")', 'label.setProperty("role", "shouting")'),
    functions_are_short: (LONG_FUNCTION,),
}
GOOD = {
    messages_can_be_collected: (
        'tr("{count} tanks", count=3)',
        'tr("long "\n"text")',
        'tr("{a}", **values)',
        'Finding(level, tr("{gap} too long"), tr("Mend it."), (("gap", gap, PRESSURE),))',
    ),
    looks_come_from_the_theme: (
        '"""A docstring may say #A8261C."""',
        "QColor(theme.current().stop)",
        "label.setMinimumWidth(theme.width_of(label, 8))",
        "layout.setContentsMargins(0, 0, 0, 0)",
        'text = "see #12"',
        "pixmap.fill(Qt.GlobalColor.transparent)",
    ),
    connections_let_go: ("button.clicked.connect(self._on_clicked)", "sorted(x, key=lambda a: a)"),
    qt_is_not_imported: ("import math", "from workbench.physics import tank"),
    shown_texts_are_translated: (
        'label.setText(tr("Stop"))',
        'label.setText("")',
        'label.setText("30/50")',
        'label.setObjectName("stop")',
        "label.setText(shown)",
        'getOpenFileName(self, tr("Open"), folder, tr("Tables") + " (*.csv)")',
        'label.setText(f"{value} {unit}")',
    ),
    roles_exist: ('theme.set_role(label, "answer")', "theme.set_role(label, role)"),
    functions_are_short: (LONG_DOCSTRING, "def short():\n    pass"),
}


@pytest.mark.parametrize(
    ("rule", "sample"), [(rule, sample) for rule in BAD for sample in BAD[rule]]
)
def test_a_rule_catches_what_breaks_it(rule, sample):
    assert list(rule(ast.parse(sample)))


@pytest.mark.parametrize(
    ("rule", "sample"), [(rule, sample) for rule in GOOD for sample in GOOD[rule]]
)
def test_a_rule_lets_pass_what_keeps_it(rule, sample):
    assert not list(rule(ast.parse(sample)))


def test_each_rule_has_its_samples():
    assert set(BAD) == set(GOOD) == set(RULES)


def test_a_long_file_is_caught():
    assert list(files_are_short("pass\n" * (LONGEST_FILE + 1)))
    assert not list(files_are_short("pass\n" * LONGEST_FILE))
