"""A page with a paper: its pages are seen as they are printed, saved, printed, copied."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest
from PySide6.QtCore import QEvent, QRectF, Qt
from PySide6.QtGui import QImage
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from tests.report import samples
from tests.report.reading import reader
from tests.whole_window.page_checks import check_page
from tests.whole_window.user import Answers
from workbench.gui import theme
from workbench.gui.pages.paper_page import PaperPage
from workbench.gui.paper.preview import DELAY, ZOOMS, PaperPreview
from workbench.gui.paper.printing import chosen_pages, place_of, prepare, print_pages
from workbench.gui.paper.saving import suggested_name
from workbench.gui.store import Store
from workbench.job.job import Job
from workbench.report import typeset
from workbench.report.blocks import PaperContent
from workbench.report.plain_text import plain_text
from workbench.report.typeset import images, own_templates, pdf
from workbench.study.evaluate import Results
from workbench.units import Display
from workbench.words import tr

CTRL = Qt.KeyboardModifier.ControlModifier
PATIENCE = 20 * DELAY


def is_the_samples_own(text: str) -> bool:
    """Whether it is the paper of these tests, read out as a whole."""
    return samples.FIRM in text and "Setting card" in text


class SamplePaper(PaperPage):
    """A card that names the site, or words while there is none."""

    made: Callable[[], PaperContent] = staticmethod(samples.card)

    def __init__(self, store: Store, parent: QWidget | None = None) -> None:
        super().__init__(store, ((tr("Site"), ("site_address", "altitude")),), parent)

    def content(self, results: Results, display: Display) -> PaperContent | str:
        if results.job.site_address == "none":
            return tr("Mend first: {name}.", name=display.mark)
        site = ("Site", results.job.site_address)
        return replace(type(self).made(), facts=(site,))


class SampleEstimate(SamplePaper):
    made = staticmethod(samples.estimate)


def build(kind: type[SamplePaper] = SamplePaper, site: str = "Shore Road 7") -> SamplePaper:
    store = Store(Display())
    store.job = Job().changed(site_address=site)
    page = kind(store)
    store.setParent(page)
    store.wake()
    return page


def shown(
    qtbot: QtBot, kind: type[SamplePaper] = SamplePaper, site: str = "Shore Road 7"
) -> SamplePaper:
    page = build(kind, site)
    qtbot.addWidget(page)
    page.resize(1100, 700)
    with qtbot.waitExposed(page):
        page.show()
    page.activateWindow()
    settle(qtbot, page.preview)
    return page


def settle(qtbot: QtBot, preview: PaperPreview) -> None:
    qtbot.waitUntil(lambda: not preview._timer.isActive(), timeout=PATIENCE)


def enter_site(page: SamplePaper, text: str) -> None:
    page.store.edit({"site_address": text}, "edit")


@pytest.mark.parametrize("site", ["Shore Road 7", "none", "日"])
def test_a_page_with_a_paper_keeps_every_page_rule(qtbot: QtBot, site: str) -> None:
    check_page(qtbot, lambda: build(site=site), untranslated=is_the_samples_own)


def test_what_is_shown_is_what_is_printed(qtbot: QtBot) -> None:
    page = shown(qtbot, SampleEstimate)
    preview = page.preview
    assert page._content is not None
    assert preview.page_count == len(reader(pdf(page._content)).pages) == 3
    (place, *_) = preview.sheets.places()
    printed = QImage.fromData(images(page._content, preview._device_ppi())[0])
    smooth = printed.scaled(
        place.size(), Qt.AspectRatioMode.IgnoreAspectRatio,
        Qt.TransformationMode.SmoothTransformation,
    )  # fmt: skip
    seen = preview.sheets.grab(place).toImage()
    inner = QRectF(0, 0, place.width(), 300).toRect().adjusted(1, 1, -1, -1)
    form = QImage.Format.Format_RGB32
    assert seen.convertToFormat(form).copy(inner) == smooth.convertToFormat(form).copy(inner)


def test_the_paper_is_told_to_who_does_not_see_it(qtbot: QtBot) -> None:
    page = shown(qtbot)
    assert page._content is not None
    assert page.preview.area.accessibleDescription() == plain_text(page._content)


def test_a_change_is_shown_after_a_moment_and_only_the_last_of_several(
    qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    page = shown(qtbot)
    made: list[PaperContent] = []

    def counted(content: PaperContent, ppi: float) -> tuple[bytes, ...]:
        made.append(content)
        return images(content, ppi)

    monkeypatch.setattr(typeset, "images", counted)
    for number in range(5):
        enter_site(page, f"Lane {number}")
    assert made == []
    settle(qtbot, page.preview)
    assert [one.facts[0][1] for one in made] == ["Lane 4"]
    page.store.edit({"firm_name": "nothing that this paper shows"}, "edit")
    assert not page.preview._timer.isActive()


def test_what_is_not_seen_is_made_when_it_is(qtbot: QtBot) -> None:
    page = shown(qtbot)
    page.hide()
    enter_site(page, "Hidden Lane")
    assert not page.preview._timer.isActive()
    page.show()
    settle(qtbot, page.preview)
    assert "Hidden Lane" in page.preview.area.accessibleDescription()


def test_words_stand_in_the_place_of_a_paper_that_cannot_be(qtbot: QtBot) -> None:
    page = shown(qtbot)
    enter_site(page, "none")
    assert page.preview.page_count == 0
    assert page.preview.words.text() == "Mend first: .."
    assert page.preview.words.isVisible()
    for button in (page.save_button, page.print_button, page.copy_button):
        assert not button.isEnabled()
        assert button.accessibleDescription() == "Mend first: .."
    enter_site(page, "Shore Road 7")
    settle(qtbot, page.preview)
    assert page.preview.page_count == 1
    assert all(b.isEnabled() and not b.accessibleDescription() for b in page._buttons)


def test_a_paper_that_cannot_be_set_says_why_and_what_to_do(qtbot: QtBot) -> None:
    page = shown(qtbot)
    enter_site(page, "In 日")
    settle(qtbot, page.preview)
    assert page.preview.page_count == 0
    assert "U+65E5" in page.preview.words.text()
    assert "Write it in other characters" in page.preview.words.text()
    assert not page.save_button.isEnabled()
    enter_site(page, "In town")
    settle(qtbot, page.preview)
    assert page.preview.page_count == 1
    assert page.save_button.isEnabled()


def test_a_mended_template_is_used_with_the_next_change(qtbot: QtBot) -> None:
    own_templates().mkdir(parents=True)
    template = own_templates() / "card.typ"
    template.write_text("#nonsense", encoding="utf-8")
    page = shown(qtbot)
    assert str(template) in page.preview.words.text()
    template.unlink()
    page.refresh()
    settle(qtbot, page.preview)
    assert page.preview.page_count == 1


# --- sizes and places ---


def test_pages_are_as_wide_as_there_is_room(qtbot: QtBot) -> None:
    page = shown(qtbot, SampleEstimate)
    area = page.preview.area
    assert area.horizontalScrollBar().maximum() == 0
    (first, *_) = page.preview.sheets.places()
    assert area.viewport().width() - 2 * theme.APART - 10 < first.width() <= area.viewport().width()
    page.resize(1300, 700)
    settle(qtbot, page.preview)
    (wider, *_) = page.preview.sheets.places()
    assert first.width() + 150 < wider.width() <= area.viewport().width()


def test_zoom_by_buttons_and_keys(qtbot: QtBot) -> None:
    page = shown(qtbot)
    preview = page.preview
    fitted = preview._ppi()
    QTest.keyClick(page, Qt.Key.Key_Plus, CTRL)
    larger = preview._ppi()
    assert larger > fitted
    assert preview.zoom_label.text() == f"{larger / 96 * 100:.0f} %"
    QTest.keyClick(page, Qt.Key.Key_Equal, CTRL)
    assert preview._ppi() > larger
    QTest.keyClick(page, Qt.Key.Key_Minus, CTRL)
    assert preview._ppi() == larger
    QTest.keyClick(page, Qt.Key.Key_0, CTRL)
    assert preview._ppi() == fitted
    for _ in ZOOMS:
        preview.larger.trigger()
    assert preview._ppi() == ZOOMS[-1] * 96
    assert not preview.larger.isEnabled()
    for _ in ZOOMS:
        preview.smaller.trigger()
    assert preview._ppi() == ZOOMS[0] * 96
    assert not preview.smaller.isEnabled()
    settle(qtbot, preview)
    assert preview._wanted_ppi == preview._device_ppi()


def test_keys_leaf_through_the_pages_and_the_place_is_told(qtbot: QtBot) -> None:
    page = shown(qtbot, SampleEstimate)
    preview = page.preview
    preview.area.setFocus()
    assert preview.place.text() == "Page 1 of 3"
    for _ in range(2):
        QTest.keyClick(preview.area, Qt.Key.Key_PageDown)
    assert preview.place.text() == "Page 2 of 3"
    for _ in range(6):
        QTest.keyClick(preview.area, Qt.Key.Key_PageDown)
    assert preview.place.text() == "Page 3 of 3"
    for _ in range(9):
        QTest.keyClick(preview.area, Qt.Key.Key_PageUp)
    assert preview.place.text() == "Page 1 of 3"


def test_the_desk_follows_the_theme_and_the_paper_stays_white(
    qtbot: QtBot, qapp: QApplication
) -> None:
    page = shown(qtbot)
    (place,) = page.preview.sheets.places()
    for look in (theme.DARK, theme.LIGHT):
        theme.apply(qapp, look)
        qapp.sendPostedEvents(None, QEvent.Type.PaletteChange.value)
        seen = page.preview.sheets.grab().toImage()
        assert seen.pixelColor(2, 2).name().upper() == look.grid
        assert seen.pixelColor(place.left() + 5, place.top() + 5).name() == "#ffffff"


# --- saving, printing, copying ---


def test_the_paper_is_saved_as_the_pdf_that_is_shown(
    qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    answers = Answers(monkeypatch)
    page = shown(qtbot)
    answers.prepare(files=[tmp_path / "card.pdf"])
    page.save_button.click()
    assert page._content is not None
    assert (tmp_path / "card.pdf").read_bytes() == pdf(page._content)
    assert page.done.text() == "Saved as card.pdf."
    assert page.done.isVisible()
    enter_site(page, "Another Lane")
    assert page.done.isHidden()  # that file is of another paper
    settle(qtbot, page.preview)


def test_a_name_without_a_suffix_gets_one_and_no_file_is_lost(
    qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    answers = Answers(monkeypatch)
    page = shown(qtbot)
    there = tmp_path / "card.pdf"
    there.write_bytes(b"mine")
    answers.prepare("Keep it", files=[tmp_path / "card"])
    page.save_button.click()
    assert there.read_bytes() == b"mine"
    answers.prepare("Replace", files=[tmp_path / "card"])
    page.save_button.click()
    assert there.read_bytes().startswith(b"%PDF")
    assert answers.told() == ["Save the paper card.pdf exists already. Replace it?"] * 2
    answers.prepare(files=[None])
    page.save_button.click()
    assert list(tmp_path.iterdir()) == [there]


def test_what_stops_the_saving_is_told(
    qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    answers = Answers(monkeypatch)
    page = shown(qtbot)
    answers.prepare("OK", files=[tmp_path / "nowhere" / "card.pdf"])
    page.save_button.click()
    (told,) = answers.told()
    assert told.startswith("The paper was not saved")
    assert "card.pdf" in told
    enter_site(page, "日")  # saved before the preview has seen it
    answers.prepare("OK", files=[tmp_path / "card.pdf"])
    page.save()
    (told,) = answers.told()
    assert "U+65E5" in told
    assert list(tmp_path.iterdir()) == []
    settle(qtbot, page.preview)


def test_the_text_is_copied(qtbot: QtBot) -> None:
    page = shown(qtbot)
    page.copy_button.click()
    assert page._content is not None
    assert QApplication.clipboard().text() == plain_text(page._content)
    assert page.done.text() == "Copied; paste it into an e-mail."


@pytest.mark.parametrize(
    ("parts", "name"),
    [
        (("Estimate", "Sam Example\n3 Lake Lane"), "Estimate - Sam Example.pdf"),
        (("Estimate", ""), "Estimate.pdf"),
        (("", ""), "paper.pdf"),
        (("A/B\\C:*?", "<x>|."), "A B C - x.pdf"),
        (("x" * 300,), "x" * 80 + ".pdf"),
    ],
)
def test_a_suggested_name_is_one_that_every_system_takes(parts: tuple[str, ...], name: str) -> None:
    assert suggested_name(*parts) == name


@pytest.mark.parametrize("make", [samples.estimate, samples.chart])
@pytest.mark.parametrize("sheet", ["us-letter", "a4"])
def test_printing_puts_each_page_on_its_sheet(
    qtbot: QtBot, tmp_path: Path, make: Callable[[str], PaperContent], sheet: str
) -> None:
    from PySide6.QtPrintSupport import QPrinter

    content = make(sheet)
    pages = [QImage.fromData(png) for png in images(content, 72.0)]
    printer = QPrinter(QPrinter.PrinterMode.HighResolution)
    printer.setOutputFormat(QPrinter.OutputFormat.PdfFormat)
    printer.setOutputFileName(str(tmp_path / "out.pdf"))
    prepare(printer, content, pages)
    assert print_pages(printer, chosen_pages(printer, pages))
    printed = reader((tmp_path / "out.pdf").read_bytes())
    assert len(printed.pages) == len(pages)
    asked = reader(pdf(content)).pages[0].mediabox
    for page in printed.pages:
        width, height = float(page.mediabox.width), float(page.mediabox.height)
        assert (width, height) == pytest.approx((float(asked.width), float(asked.height)), abs=1.5)
    printer.setFromTo(1, 1)
    assert chosen_pages(printer, [*pages, *pages]) == pages[:1]


def test_a_printer_that_refuses_is_told(
    qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    from PySide6.QtPrintSupport import QPrintDialog, QPrinter

    answers = Answers(monkeypatch)
    page = shown(qtbot)

    def to_file(path: Path) -> Callable[[QPrintDialog], int]:
        def accept(dialog: QPrintDialog) -> int:
            dialog.printer().setOutputFormat(QPrinter.OutputFormat.PdfFormat)
            dialog.printer().setOutputFileName(str(path))
            return 1

        return accept

    monkeypatch.setattr(QPrintDialog, "exec", to_file(tmp_path / "none" / "out.pdf"))
    answers.prepare("OK")
    with monkeypatch.context() as refusing:
        refusing.setattr("workbench.gui.paper.printing.print_pages", lambda *_: False)
        page.print_button.click()
    assert answers.told()[0].startswith("The paper was not printed The printer did not take it.")
    monkeypatch.setattr(QPrintDialog, "exec", to_file(tmp_path / "out.pdf"))
    page.print_button.click()
    assert len(reader((tmp_path / "out.pdf").read_bytes()).pages) == 1
    assert page.done.text() == "Given to the printer."
    monkeypatch.setattr(QPrintDialog, "exec", lambda _dialog: 0)
    page.print_button.click()


def test_a_page_lies_in_the_middle_of_a_sheet_of_another_shape() -> None:
    page = QImage(850, 1100, QImage.Format.Format_RGB32)
    place = place_of(page, QRectF(0, 0, 1700, 1100))
    assert (place.left(), place.top(), place.width(), place.height()) == (425, 0, 850, 1100)
