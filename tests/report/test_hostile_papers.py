"""Whatever stands in a free text: it is printed as it stands, or refused by name; never a crash.

Each text is put into every entry in free words, into the price list and into the catalogue.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest

from tests.cli.conftest import Ran
from tests.report import tagged
from tests.report.reading import packed, reader, text_of
from workbench import cli, paths
from workbench.catalog.table import read_catalog
from workbench.job import document
from workbench.job.job import CatalogSnapshot, Job
from workbench.job.prices import PriceItem
from workbench.job.texts import texts
from workbench.study.card import LONGEST, MOST_LINES

DATES = ("estimate_date", "set_date", "class_date")
ON_THE_CARD = ("set_by", "card_note", "firm_name", "firm_contact")
FREE = [name for name in texts() if name not in DATES]
ON_THE_ESTIMATE = [name for name in FREE if name not in ("set_by", "card_note", "class_name")]
ITEMS = ("tee", "labour_tank", "travel")
PRINTED = {
    "markup": '#panic("x") #set page(fill: red) *b* _i_ `r` $x^2$ <a> @b = c // d /* e */ \\u{41}',
    "lines": "- one\n+ two\n/ three: four\n= five\n#for six",
    "quotes": '"a" \'b\' ”c’ «d» \\" ` ´',
    "brackets": '{"a": [1]} ]]> </text> <!-- b --> &#65; %s {0} {{c}} ${d}',
    "one long word": "https://example.com/?a=b&c=%20../../etc/passwd\\\\server\\" * 5,
    "breaks": "one\r\ntwo\rthree\n\n\nfour\tfive   six\u00a0seven",
    "unseen": "z\u0301 a\u0300 zero\u200bwidth soft\u00adhyphen",
    "letters and signs": "≥ ≤ − × √ ≈ → ½ Ω € … ☐ ✓ – — Ünï Ελληνικά Кириллица Ə ğ ş ı ł đ ø",
    "blanks": " \t \n \u00a0 ",
}
RIGHT_TO_LEFT = ("שלום 30/50 (נבל) עולם", "turn \u202e 30/50 and back \u202c here")
REFUSED = {
    "emoji": ("No water \U0001f4a7 here", "U+1F4A7 DROPLET"),
    "letters of the East": ("水压 here", "U+6C34"),
    "bell": ("ring \a here", "U+0007 a control character"),
    "nothing": ("nul \0 here", "U+0000 a control character"),
    "escape": ("red \x1b[31m here", "U+001B a control character"),
    "private": ("own \ue000 here", "U+E000"),
}

Runs = Callable[..., Ran]


@pytest.fixture
def runs(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Runs:
    """Save a job, and make one of its papers at the command line, in this process."""
    saved = tmp_path / "job.tankjob.json"

    def run(job: Job, name: str, *more: str) -> Ran:
        document.write(job, saved)
        capsys.readouterr()
        status = cli.main([name, str(saved), *more])
        return Ran(status, *capsys.readouterr())

    return run


def demo(**entries: object) -> Job:
    return document.read(paths.demo_job()).changed(**entries)


def everywhere(text: str) -> Job:
    """The demo with the text in every entry in free words, behind the entry's name."""
    job = demo(first_tank="birch-60-v")
    entries = {name: f"{name} {text}" for name in FREE}
    for name, most in LONGEST.items():
        entries[name] = "\n".join(entries[name].splitlines()[:MOST_LINES])[:most]
    prices = [
        replace(item, name=f"{item.code} {text}", unit=text[:9]) if item.code in ITEMS else item
        for item in job.prices
    ]
    return job.changed(**entries, prices=tuple(prices))


def pdf_of(runs: Runs, job: Job, name: str, out: Path) -> bytes:
    ran = runs(job, name, "-o", str(out))
    assert (ran.status, ran.err) == (0, ""), ran.err
    return out.read_bytes()


@pytest.mark.parametrize("kind", PRINTED)
def test_every_free_text_is_printed_as_it_stands(runs: Runs, tmp_path: Path, kind: str) -> None:
    job, out = everywhere(PRINTED[kind]), tmp_path / "out.pdf"
    estimate, card = (tagged_text(pdf_of(runs, job, name, out)) for name in ("estimate", "card"))
    items = [item.name for item in job.prices if item.code in ITEMS]
    for text in (*(getattr(job, name) for name in ON_THE_ESTIMATE), *items):
        assert seen(text) in estimate
    for name in ON_THE_CARD:
        assert all(seen(line) in card for line in getattr(job, name).splitlines())
    mail = out.with_suffix(".txt")
    assert runs(job, "estimate", "-o", str(mail)).status == 0
    assert seen(job.problem) in seen(mail.read_text(encoding="utf-8"))


def tagged_text(data: bytes) -> str:
    """Without head and foot, which stand between the pages."""
    return seen(tagged.read(reader(data)).words())


def seen(text: str) -> str:
    """As two texts are compared: without blanks, breaks and signs that cannot be seen."""
    return packed(text).replace("\u00ad", "")


def test_markup_makes_no_heading_no_list_no_link(runs: Runs, tmp_path: Path) -> None:
    plain, hostile = (
        reader(pdf_of(runs, everywhere(text), "estimate", tmp_path / "out.pdf"))
        for text in ("nothing", PRINTED["lines"])
    )
    kinds = ("H1", "H2", "L", "LI", "Figure", "Table", "Link", "Strong", "Em", "Code", "Formula")
    counts = [
        Counter(one.tag for one in tagged.read(paper).every(*kinds)) for paper in (plain, hostile)
    ]
    assert counts[0] == counts[1]
    assert counts[0]["H1"] > 5
    assert all("/Annots" not in page for page in hostile.pages)


def test_text_from_right_to_left_is_printed(runs: Runs, tmp_path: Path) -> None:
    for text in RIGHT_TO_LEFT:
        for name in ("estimate", "card"):
            made = text_of(pdf_of(runs, everywhere(text), name, tmp_path / "out.pdf"))
            assert all(letter in made for letter in "שלוםנבלעולם" if letter in text)
            assert "30/50" in made


@pytest.mark.parametrize("kind", REFUSED)
def test_what_cannot_be_printed_is_refused_in_one_line(
    runs: Runs, tmp_path: Path, kind: str
) -> None:
    """By its name, and with what stands around it."""
    text, named = REFUSED[kind]
    out = tmp_path / "out.pdf"
    for name, entries in (
        ("estimate", ON_THE_ESTIMATE),
        ("card", ON_THE_CARD),
    ):
        for entry in entries if kind == "emoji" else entries[::7]:
            ran = runs(short(**{entry: text}), name, "-o", str(out))
            assert (ran.status, ran.out) == (2, ""), entry
            check_refusal(ran.err)
            assert named in ran.err
            assert " here" in ran.err
            assert not out.exists()


def test_a_text_for_a_mail_has_no_control_characters(runs: Runs) -> None:
    ran = runs(demo(problem="red \x1b[31m, bell \a, and \x9b here"), "estimate", "--text")
    assert (ran.status, ran.err) == (0, "")
    assert "red ·[31m, bell ·, and · here" in ran.out
    assert all(letter.isprintable() or letter == "\n" for letter in ran.out)


def short(**entries: object) -> Job:
    """A job whose papers are set soon."""
    usual = {"first_tank": "birch-60-v", "with_plot": False, "with_lines": False}
    return demo(**(usual | entries))


def check_refusal(told: str) -> None:
    """One line, without anything that a terminal would obey."""
    assert told.startswith("tank-workbench: ")
    assert told.count("\n") == 1
    assert "Traceback" not in told
    assert all(letter.isprintable() for letter in told.rstrip("\n")), repr(told)


def test_a_tanks_name_is_printed_as_it_stands(runs: Runs, tmp_path: Path) -> None:
    """It comes from a catalogue, which anyone may write."""
    rows = {one.id: one for one in read_catalog(paths.default_catalog()).tanks}
    name = '#eval("1") *60* [x] "y" \\n'
    evil = rows["birch-60-v"].model_copy(update={"name": name})
    kept = CatalogSnapshot(file="evil #1.csv", tanks=(evil, rows["alder-80-v"], rows["rowan-85-v"]))
    job = demo(catalog=kept, first_tank="birch-60-v")
    for paper in ("estimate", "card"):
        text = text_of(pdf_of(runs, job, paper, tmp_path / "out.pdf"))
        assert packed(name) in text
    unprintable = evil.model_copy(update={"name": "tank \U0001f4a7 here"})
    job = demo(catalog=replace(kept, tanks=(unprintable, *kept.tanks[1:])), first_tank="birch-60-v")
    ran = runs(job, "card", "-o", str(tmp_path / "none.pdf"))
    assert ran.status == 2
    check_refusal(ran.err)
    assert "U+1F4A7 DROPLET" in ran.err


@pytest.mark.parametrize(
    "text", ["soon\n\x1b[31m #x", "\U0001f4a7" * 300, "2026-13-45", "שלום", "\0"]
)
@pytest.mark.parametrize(
    ("entry", "paper"),
    [("estimate_date", "estimate"), ("offer_b_tank", "estimate"), ("set_date", "card"),
     ("first_tank", "card")],
)  # fmt: skip
def test_a_text_that_names_a_thing_or_a_day_is_refused(
    runs: Runs, tmp_path: Path, entry: str, paper: str, text: str
) -> None:
    ran = runs(short(**{entry: text}), paper, "-o", str(tmp_path / "out.pdf"))
    assert (ran.status, ran.out) == (2, "")
    check_refusal(ran.err)


@pytest.mark.parametrize("text", ["#x *y*", "\U0001f4a7", "\0", "", "a\nb", "tank"])
def test_codes_and_names_of_a_price_list_never_crash(runs: Runs, tmp_path: Path, text: str) -> None:
    base = demo(with_plot=False)
    own = PriceItem(code=text, name=text, unit=text, price=base.prices[-1].price)
    for prices in ((own, *base.prices), (own, own), (own,)):
        ran = runs(base.changed(prices=prices), "estimate", "-o", str(tmp_path / "out.pdf"))
        if ran.status:
            assert ran.status == 2
            check_refusal(ran.err)


def test_half_a_character_in_a_file_is_refused(tmp_path: Path, runs: Runs) -> None:
    """JSON can write one, and no encoding can print it."""
    runs(demo(problem="half MARK here"), "estimate", "--text")
    path = tmp_path / "job.tankjob.json"
    text = path.read_text(encoding="utf-8").replace("MARK", "\\ud800")
    lines = [line for line in text.splitlines() if '"checksum"' not in line]
    path.write_text("\n".join(lines), encoding="utf-8")
    status = cli.main(["estimate", str(path), "-o", str(tmp_path / "out.pdf")])
    assert status == 2
