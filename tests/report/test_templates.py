"""A firm's own templates: they go before the shipped ones, and what is wrong in them is named."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.report import samples
from tests.report.reading import text_of
from workbench import paths
from workbench.report.typeset import PaperError, copy_templates, own_templates, pdf


def own(name: str, source: str | bytes) -> Path:
    own_templates().mkdir(parents=True, exist_ok=True)
    path = own_templates() / name
    path.write_bytes(source.encode() if isinstance(source, str) else source)
    return path


PLAIN = '#let paper = json("paper.json")\n#set document(title: paper.title, date: none)\n'


def test_the_firms_own_template_goes_before_the_shipped_one() -> None:
    own("card.typ", PLAIN + '#set text(font: "Noto Sans")\nOur own card: #paper.title')
    assert text_of(pdf(samples.card())) == "Ourowncard:Settingcard"
    assert "Setting" not in text_of(pdf(samples.estimate()))  # the other kinds are as they were


@pytest.mark.parametrize("told", ["(1, 2)", '"x"', '(pages: 9, wants: "one")', "none"])
def test_an_own_template_may_tell_of_its_end_what_it_likes(told: str) -> None:
    own("card.typ", PLAIN + f"Short.\n#metadata({told}) <paper-end>")
    assert text_of(pdf(samples.card())) == "Short."


def test_the_shipped_templates_are_given_to_the_firm_and_never_over_its_own() -> None:
    own("card.typ", "ours")
    folder = copy_templates()
    assert folder == own_templates()
    shipped = paths.resources() / "papers"
    assert {one.name for one in folder.iterdir()} == {one.name for one in shipped.glob("*.typ")}
    assert (folder / "card.typ").read_text() == "ours"
    assert (folder / "common.typ").read_bytes() == (shipped / "common.typ").read_bytes()
    assert pdf(samples.estimate())


@pytest.mark.parametrize(
    ("name", "source", "said"),
    [
        ("estimate.typ", '#import "common.typ": *\n#nonsense', "line 2 cannot be used: unknown"),
        ("common.typ", "#let broken = ", "line 1 cannot be used: expected expression"),
        ("estimate.typ", '#panic("because")', "line 1 cannot be used: panicked with: because"),
        ("estimate.typ", PLAIN + '#read("/etc/passwd")', "line 3 cannot be used: file not found"),
        ("estimate.typ", PLAIN + '#read("../../etc/passwd")', "would escape"),
        ("estimate.typ", '#import "@preview/x:0.1.0"', "asks for a package"),
        ("estimate.typ", b"\xff\xfe", "not written in UTF-8"),
        ("estimate.typ", "no title", "missing document title"),
        ("estimate.typ", PLAIN + "日", "could not be displayed"),
    ],
)
def test_a_broken_template_of_the_firm_is_named(name: str, source: str | bytes, said: str) -> None:
    path = own(name, source)
    with pytest.raises(PaperError) as refusal:
        pdf(samples.estimate())
    assert f"The firm's own template “{path}”" in refusal.value.message
    assert said in refusal.value.message
    assert "Mend that file, or remove it" in refusal.value.remedy
    path.unlink()
    assert pdf(samples.estimate())


def test_a_template_that_cannot_be_read_is_named() -> None:
    (own_templates() / "estimate.typ").mkdir(parents=True)
    with pytest.raises(PaperError, match=r"“estimate.typ” could not be read") as refusal:
        pdf(samples.estimate())
    assert "Mend that file, or remove it" in refusal.value.remedy


def test_no_room_for_temporary_files_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    def full(*_args: object, **_kwargs: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("tempfile.TemporaryDirectory", full)
    with pytest.raises(PaperError, match="No space left on device") as refusal:
        pdf(samples.estimate())
    assert refusal.value.remedy == "Make room on the disk, then try again."
