"""Estimate: what the paper says, its options and prices, and what was sent of it."""

from __future__ import annotations

import datetime
from collections.abc import Iterable, Set
from itertools import pairwise

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel, QSizePolicy, QWidget

from workbench.gui import theme
from workbench.gui.explain.figure import Figure
from workbench.gui.pages.abreast import Abreast
from workbench.gui.pages.answer import Answer
from workbench.gui.pages.estimate import words
from workbench.gui.pages.estimate.flow import FlowRow, Remaining
from workbench.gui.pages.estimate.sent import SentDialog
from workbench.gui.pages.inputs import Groups
from workbench.gui.pages.messages import Messages
from workbench.gui.pages.paper_page import PaperPage
from workbench.gui.pages.stops import untold
from workbench.gui.paper.saving import save_pdf, suggested_name
from workbench.gui.store import Store
from workbench.report.blocks import PaperContent
from workbench.report.estimate import estimate_content
from workbench.report.revisions import issue, since_last
from workbench.study.estimate.offers import LETTERS, entry_of
from workbench.study.estimate.proposal import propose
from workbench.study.evaluate import Results
from workbench.study.findings import Finding
from workbench.units import Display
from workbench.words import tr


def _groups() -> Groups:
    return (
        (tr("Customer and site"), ("customer_name", "customer_address", "customer_contact",
                                   "site_address", "prepared_by")),
        (tr("Paper"), ("estimate_number", "estimate_date", "valid_days", "copy_for", "paper")),
        (tr("Found on site"), ("found_cut_in", "found_cut_out", "found_precharge",
                               "found_drawdown", "found_refill", "found_note")),
        (tr("Work"), ("problem", "scope", "work_kind", "permit", "licence", "permit_note")),
        *((tr("Option {letter}", letter=letter),
           tuple(f"{entry_of(letter)}_{part}" for part in ("tank", "band", "label")))
          for letter in LETTERS),
        (tr("Parts of the paper"), (
            "with_readings", "with_plot", "with_lines", "with_allowances", "with_assumptions",
            "with_exclusions", "with_schedule", "with_payment", "with_warranty", "with_permit",
            "with_acceptance", "with_working")),
    )  # fmt: skip


class EstimatePage(PaperPage):
    """Shows ``Results.estimate`` and its paper; records what was sent."""

    def __init__(self, store: Store, parent: QWidget | None = None) -> None:
        super().__init__(store, _groups(), parent)
        for letter in LETTERS:
            field = self.inputs.rows[f"{entry_of(letter)}_label"].field
            field.setAccessibleName(tr("Name of option {letter}", letter=letter))
        self.answers = tuple(self._answer(letter) for letter in LETTERS)
        self.messages = Messages(self.results)
        self.since = QLabel(self.results)
        self.since.setWordWrap(True)
        self.since.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Minimum)
        self._lay_out()

    def _lay_out(self) -> None:
        """All buttons in one row, so that the paper has room beneath what the options give."""
        self.propose_button = self._button(tr("Propose options"), self.propose)
        self.date_button = self._button(tr("Date it today"), self.date_today)
        self.record_button = self._button(tr("Record as sent …"), self.record)
        self.sent_button = self._button(tr("What was sent …"), self.show_sent)
        steps = (self.propose_button, self.date_button, self.save_button, self.print_button,
                 self.copy_button, self.record_button, self.sent_button)  # fmt: skip
        left = self.save_button.parentWidget()
        assert left is not None  # noqa: S101 - the row of every paper's buttons
        left.hide()  # it is empty now
        buttons = FlowRow(*steps, parent=self.results)
        last = [*self.inputs.rows.values()][-1].field
        for before, after in pairwise((last, *steps)):
            QWidget.setTabOrder(before, after)
        answers = Abreast(*self.answers, parent=self.results)
        for place, widget in enumerate((answers, self.messages, buttons, self.since)):
            self.column.insertWidget(place, widget)
        self.column.addWidget(Remaining(self.preview, self.results), 1)
        self.column.setSpacing(theme.CLOSE)

    def _answer(self, letter: str) -> Answer:
        key = f"estimate.option:{LETTERS.index(letter)}"
        answer = Answer(tr("Option {letter}", letter=letter), self.results, key=key)
        answer.reason.setTextFormat(Qt.TextFormat.PlainText)  # it repeats what was typed
        answer.reason.setProperty("userText", True)  # noqa: FBT003 - Qt's own signature
        return answer

    @property
    def input_names(self) -> Set[str]:
        """Those that have a row, and what was sent."""
        return {*super().input_names, "revisions"}

    # --- showing ---

    def findings(self, results: Results) -> Iterable[Finding]:
        """Those of the job, of the paper and of every option."""
        return (*results.findings, *results.estimate.every_finding)

    def content(self, results: Results, display: Display) -> PaperContent:
        """The estimate."""
        return estimate_content(results, display)

    def figures(self, results: Results, display: Display) -> Iterable[Figure]:
        """Those of the options and their lines."""
        from workbench.gui.pages.estimate.figures import figures_of

        return figures_of(results, display)

    def present(self, results: Results, display: Display) -> None:
        """Show each option's price and what it does, what is to be mended, and the paper."""
        view = results.estimate
        told = untold(view.every_finding, self.findings(results), self.inputs)
        self.messages.show_findings(told, display)
        offers = {offer.letter: offer for offer in view.offers}
        for letter, answer in zip(LETTERS, self.answers, strict=True):
            answer.setVisible(letter in offers)
            if letter in offers:
                answer.show_answer(*words.offer_answer(offers[letter], results.job, display))
        text, role = words.since_text(since_last(results, display))
        theme.set_role(self.since, role)
        self.since.setText(text)
        self.since.setVisible(bool(text))
        self._bar(self.propose_button, words.why_not_propose(results))
        self._bar(self.record_button, words.why_not_send(results, display))
        nothing = "" if results.job.revisions else tr("Nothing was sent yet.")
        self._bar(self.sent_button, nothing)
        super().present(results, display)

    @staticmethod
    def _bar(button: QWidget, why: str) -> None:
        """Bar a button and say why; "" opens it."""
        button.setEnabled(not why)
        button.setAccessibleDescription(why)
        button.setToolTip(why)

    # --- what the buttons do ---

    def propose(self) -> None:
        """Fill the options with tanks that differ in what they do, as one step of undo."""
        results = self.store.results
        if results is None:
            return
        entries = propose(results)
        self.store.edit(entries, tr("propose options"))
        count = sum(bool(entries[f"{entry_of(letter)}_tank"]) for letter in LETTERS)
        self._tell(words.proposed(count))

    def date_today(self) -> None:
        """Put today's date on the paper."""
        self.store.edit({"estimate_date": _today().isoformat()}, tr("date the estimate today"))

    def record(self) -> None:
        """Write the customer's copy to a file, and keep what it says as a revision of the job."""
        results = self.store.results
        if results is None or words.why_not_send(results, self.store.display):
            return
        sending = issue(results, self.store.display, _today())
        number = sending.revision.number
        name = suggested_name(
            sending.content.title,
            self.store.job.customer_name,
            tr("revision {number}", number=number),
        )
        path = save_pdf(self, sending.content, self._folder(), name)
        if path is None:
            return
        self.store.edit(sending.changes, tr("record revision {number}", number=number))
        self._tell(
            tr(
                "Revision {number} is recorded and saved as {name}. Save the job to keep it.",
                number=number,
                name=path.name,
            )
        )

    def show_sent(self) -> None:
        """Show what was sent, and what has changed since."""
        results = self.store.results
        if results is not None and results.job.revisions:
            SentDialog(results, self.store.display, self).open()


def _today() -> datetime.date:
    """By the machine's own calendar, as a person would write it."""
    return datetime.datetime.now().astimezone().date()
