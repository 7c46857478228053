"""The main window: menus, the pages, and a line that says which job and catalogue are in use."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import QSize, Qt, QTimer, Signal
from PySide6.QtGui import (
    QAction,
    QActionGroup,
    QCloseEvent,
    QDragEnterEvent,
    QDropEvent,
    QKeySequence,
    QPaintEvent,
)
from PySide6.QtWidgets import (
    QFileDialog,
    QLabel,
    QMainWindow,
    QMenu,
    QMessageBox,
    QSizePolicy,
)

from workbench import __version__
from workbench.gui import theme
from workbench.gui.catalog_source import CatalogSource
from workbench.gui.jobs import JobFiles, name_of
from workbench.gui.menus import Item, add_items
from workbench.gui.own_copies import copy_lessons, copy_templates
from workbench.gui.page_list import shortcut_of
from workbench.gui.page_stack import PageStack
from workbench.gui.pages.bench.page import BenchPage
from workbench.gui.pages.page import LazyPage
from workbench.gui.pages.registry import FIRST, PageEntry, pages
from workbench.gui.plain_imports import plain_imports
from workbench.gui.settings import Settings
from workbench.gui.store import Store
from workbench.gui.view_menu import ViewMenu
from workbench.job import document
from workbench.words import tr

Key = QKeySequence.StandardKey


class MainWindow(QMainWindow):
    """Wires store, pages and menus. ``painted`` is emitted once, after the first frame.

    ``page`` is the bench, with which every start begins; the others are made when visited.
    """

    painted = Signal()

    def __init__(self, settings: Settings) -> None:
        super().__init__()
        self.settings = settings
        self.store = Store(settings.display, self)
        self.jobs = JobFiles(self.store, settings, self)
        self.source = CatalogSource(self.store, settings, self)
        self.entries: tuple[PageEntry, ...] = pages()
        self._stack = PageStack(self.store, self.entries, self)
        self._stack.gone.connect(self._on_gone)
        self._stack.list.setVisible(settings.shows_page_list)
        self.setCentralWidget(self._stack)
        bench = self._stack.page_of(FIRST)
        assert isinstance(bench, BenchPage)  # noqa: S101 - as the registry says
        self.page = bench
        self._painted = False
        self._build_status()
        self._build_menus()
        self.go(FIRST)
        self.setAcceptDrops(True)
        self.resize(QSize(1360, 700))
        self.restoreGeometry(settings.geometry)
        self.store.document_changed.connect(self._show_document)
        self.store.changed.connect(self._show_status)
        self.painted.connect(self._complete)
        self._show_document()

    # --- start ---

    def paintEvent(self, event: QPaintEvent) -> None:
        """Announce the first frame; what needs heavy libraries comes after it."""
        super().paintEvent(event)
        if not self._painted:
            self._painted = True
            QTimer.singleShot(0, self.painted.emit)

    def _complete(self) -> None:
        with plain_imports():
            self.source.start()
            self.page.complete()
            self.store.wake()

    # --- pages ---

    @property
    def shown(self) -> str:
        """The key of the page that is shown."""
        return self._stack.key

    def go(self, key: str) -> None:
        """Show a page by its key, which is made at its first visit. Raises KeyError."""
        self._stack.go(key)

    def page_of(self, key: str) -> LazyPage:
        """The page of that key, made now if it never was. Raises KeyError."""
        return self._stack.page_of(key)

    def _on_gone(self, key: str) -> None:
        self._go_actions[key].setChecked(True)
        self.page.tanks.copy_action.setEnabled(key == FIRST)

    def _on_go(self, action: QAction) -> None:
        self.go(action.data())
        self._stack.enter_page()

    def _show_page_list(self, on: bool) -> None:
        self._stack.list.setVisible(on)
        if on != self.settings.shows_page_list:
            self.settings.shows_page_list = on

    # --- what is always said ---

    def _build_status(self) -> None:
        self._job_label, self._catalog_label = QLabel(), QLabel()
        theme.set_role(self._job_label, "caution")
        theme.set_role(self._catalog_label, "muted")
        self._catalog_label.setTextFormat(Qt.TextFormat.PlainText)  # it repeats a file's name
        bar = self.statusBar()
        bar.addWidget(self._job_label)
        # A long error must not make the window wider than the screen; its tooltip is whole.
        self._catalog_label.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
        self._catalog_label.setAlignment(Qt.AlignmentFlag.AlignRight)
        bar.addPermanentWidget(self._catalog_label, 1)

    def _show_document(self) -> None:
        self.setWindowTitle(f"{name_of(self.store)}[*] — {tr('Tank workbench')}")
        self.setWindowModified(not self.store.is_saved)
        self._show_status()

    def _show_status(self) -> None:
        store = self.store
        self._job_label.setText(
            tr("Demo job: everything in it is invented.") if store.job.demo else ""
        )
        self._job_label.setVisible(store.job.demo)
        role, text, details = self._catalog_status()
        theme.set_role(self._catalog_label, role)
        self._catalog_label.setText(text)
        self._catalog_label.setToolTip(details)
        self._saved_rows_action.setEnabled(store.job.catalog is not None)
        self._saved_rows_action.setChecked(store.use_saved_rows)

    def _catalog_status(self) -> tuple[str, str, str]:
        """In which role what is said about the catalogue, and the details of it."""
        store = self.store
        if store.catalog_error:
            error = store.catalog_error
            return "problem", tr("Catalogue: {error}", error=error), error
        if store.catalog is None:
            return "muted", tr("Reading the catalogue …"), ""
        if store.use_saved_rows and store.job.catalog is not None:
            count = len(store.job.catalog.tanks)
            return "caution", tr("Ranking the {count} tanks saved in this job", count=count), ""
        catalog = store.catalog
        parts = [tr("{file}: {count} tanks", file=catalog.path.name, count=len(catalog.tanks))]
        role = "muted"
        if catalog.problems:
            role = "problem"
            parts.append(str(catalog.problems[0]))
        elif catalog.bad_rows:
            role = "caution"
            parts.append(tr("{count} rows cannot be used", count=len(catalog.bad_rows)))
        changed = store.changed_rows()
        if changed:
            role = "caution"
            parts.append(tr("{count} tanks changed since this job was saved", count=len(changed)))
        return role, " · ".join(parts), "\n".join(changed)

    # --- menus ---

    def _build_menus(self) -> None:
        jobs, bar = self.jobs, self.menuBar()
        file_menu = bar.addMenu(tr("&File"))
        add_items(self, file_menu, (
            Item(tr("&New job"), jobs.new, Key.New),
            Item(tr("&Open …"), jobs.choose_and_open, Key.Open),
        ))  # fmt: skip
        self._recent_menu = file_menu.addMenu(tr("Open &recent"))
        self._recent_menu.aboutToShow.connect(self._fill_recent)
        add_items(self, file_menu, (
            Item(tr("Open the &demo job"), jobs.open_demo),
            None,
            Item(tr("&Save"), jobs.save, Key.Save),
            Item(tr("Save &as …"), jobs.save_as, Key.SaveAs),
            None,
            Item(tr("Copy the paper &templates …"), self._copy_templates),
            Item(tr("Copy the &lessons …"), self._copy_lessons),
            None,
            Item(tr("&Quit"), self.close, Key.Quit),
        ))  # fmt: skip
        self._build_edit_menu(bar.addMenu(tr("&Edit")))
        self._view = ViewMenu(self, self.store, self.settings, self._show_page_list)
        bar.addMenu(self._view)
        self._build_go_menu(bar.addMenu(tr("&Go")))
        self._build_catalog_menu(bar.addMenu(tr("&Catalogue")))
        add_items(self, bar.addMenu(tr("&Help")), (
            Item(tr("&Explain a figure …"), self._explain, "F1"),
            Item(tr("&About"), self._about),
        ))  # fmt: skip

    def _build_edit_menu(self, menu: QMenu) -> None:
        undo = self._stack.history.createUndoAction(self, tr("&Undo"))
        redo = self._stack.history.createRedoAction(self, tr("&Redo"))
        undo.setShortcut(QKeySequence(Key.Undo))
        redo.setShortcut(QKeySequence(Key.Redo))
        menu.addActions([undo, redo])
        menu.addSeparator()
        menu.addAction(self.page.tanks.copy_action)

    def _build_go_menu(self, menu: QMenu) -> None:
        group = QActionGroup(self)
        self._go_actions: dict[str, QAction] = {}
        before = self.entries[0].group
        for number, entry in enumerate(self.entries):
            if entry.group != before:
                menu.addSeparator()
                before = entry.group
            sign = "123456789abcdefghijklmnopqrstuvwxyz"[number]
            title = entry.title.replace("&", "&&")
            action = QAction(f"&{sign} {title}", self)
            action.setShortcut(QKeySequence(shortcut_of(number)))
            action.setData(entry.key)
            action.setCheckable(True)
            group.addAction(action)
            menu.addAction(action)
            self._go_actions[entry.key] = action
        group.triggered.connect(self._on_go)

    def _build_catalog_menu(self, menu: QMenu) -> None:
        add_items(self, menu, (
            Item(tr("&Choose a file …"), self._choose_catalog),
            Item(tr("&Read again"), self.source.reload, Key.Refresh),
            Item(tr("Open its &folder"), self.source.open_folder),
            None,
            Item(tr("&Add a tank …"), self._add_tank),
            Item(tr("C&orrect the chosen tank …"), self._correct_tank),
            None,
        ))  # fmt: skip
        (self._saved_rows_action,) = add_items(
            self, menu, (Item(tr("Rank the rows &saved in this job"), self._rank_saved, tick=True),)
        )

    def _fill_recent(self) -> None:
        self._recent_menu.clear()
        for number, path in enumerate(self.settings.recent, start=1):
            action = QAction(f"&{number} {path.name.replace('&', '&&')}", self._recent_menu)
            action.setData(str(path))
            action.setToolTip(str(path))
            action.setEnabled(path.exists())
            action.triggered.connect(self._open_recent)
            self._recent_menu.addAction(action)
        if not self.settings.recent:
            self._recent_menu.addAction(tr("none yet")).setEnabled(False)

    def _open_recent(self) -> None:
        action = self.sender()
        if isinstance(action, QAction):
            self.jobs.open(Path(action.data()))

    # --- what the menus do ---

    def _copy_templates(self) -> None:
        copy_templates(self)

    def _copy_lessons(self) -> None:
        copy_lessons(self)

    def _choose_catalog(self) -> None:
        name, _ = QFileDialog.getOpenFileName(
            self,
            tr("Choose a catalogue"),
            str(self.source.path.parent),
            tr("Catalogues") + " (*.csv);;" + tr("All files") + " (*)",
        )
        if name:
            self.source.choose(Path(name))

    def _rank_saved(self, on: bool) -> None:
        if on != self.store.use_saved_rows:
            self.store.rank_saved_rows(on)

    def _add_tank(self) -> None:
        self._edit_tank(None)

    def _correct_tank(self) -> None:
        ranking = self.store.results.ranking if self.store.results else None
        if ranking is None or self.store.selection is None:
            self.statusBar().showMessage(tr("Choose a tank in the table first."), 5000)
            return
        self._edit_tank(ranking.judged(self.store.selection).tank.id)

    def _edit_tank(self, tank_id: str | None) -> None:
        if self.store.catalog is None:
            return
        from workbench.gui.tank_form import TankForm

        form = TankForm(self.store.catalog, tank_id, self.store.display, self)
        form.saved.connect(self.source.reload)
        form.saved_elsewhere.connect(self.source.choose)
        form.open()

    def _explain(self) -> None:
        from workbench.gui.explain.opening import explain_page

        explain_page(self.page_of(self.shown))

    def _about(self) -> None:
        QMessageBox.about(self, tr("About"), tr(
            "Tank workbench {version}\n\nChoose, quote, set and explain the pressure tank of a"
            " private water well.\n\nIts figures do not replace local codes, the equipment's own"
            " instructions or licensed practice.", version=__version__))  # fmt: skip

    # --- leaving, dropping ---

    def closeEvent(self, event: QCloseEvent) -> None:
        """Ask only after real changes."""
        if not self.jobs.may_leave():
            event.ignore()
            return
        self.settings.geometry = self.saveGeometry()
        super().closeEvent(event)

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        """Take one job or catalogue file."""
        if _dropped(event) is not None:
            event.acceptProposedAction()

    def dropEvent(self, event: QDropEvent) -> None:
        """Open a dropped job, or rank a dropped catalogue."""
        path = _dropped(event)
        if path is None:
            return
        if path.suffix.lower() == ".csv":
            self.source.choose(path)
        else:
            self.jobs.open(path)


def _dropped(event: QDropEvent) -> Path | None:
    urls = event.mimeData().urls()
    if len(urls) != 1 or not urls[0].isLocalFile():
        return None
    path = Path(urls[0].toLocalFile())
    known = path.suffix.lower() == ".csv" or path.name.endswith(document.SUFFIX)
    return path if known else None
