"""A saved job keeps the catalogue's rows that it used, so that an old quote stays what it was."""

from __future__ import annotations

from pathlib import Path

from tests.whole_window.user import Answers, User, few_tanks, own_catalog
from workbench.job import document


def saved_as(user: User, answers: Answers, path: Path) -> None:
    answers.prepare(files=[path])
    user.menu("File", "Save as …")
    assert answers.told() == []


def test_saving_keeps_the_rows_that_are_offered(
    user: User, answers: Answers, tmp_path: Path
) -> None:
    path = tmp_path / "a.tankjob.json"
    offered = [row[1] for row in user.rows() if row[0] == "Passes"]
    saved_as(user, answers, path)
    saved = document.read(path).catalog
    assert saved is not None
    assert [tank.name for tank in saved.tanks] == offered
    assert saved.file == "demo-tanks.csv"


def test_saving_while_an_entry_is_unreadable_keeps_the_rows_saved_before(
    user: User, answers: Answers, tmp_path: Path
) -> None:
    saved_as(user, answers, tmp_path / "a.tankjob.json")
    before = user.store.job.catalog
    assert before is not None
    assert before.tanks
    user.enter("cut_in", "")
    user.menu("File", "Save")
    assert document.read(tmp_path / "a.tankjob.json").catalog == before


def test_a_catalogue_that_changed_since_the_job_was_saved_is_told(
    user: User, answers: Answers, tmp_path: Path
) -> None:
    saved_as(user, answers, tmp_path / "a.tankjob.json")
    saved = user.store.job.catalog
    assert saved is not None
    first = saved.tanks[0]
    assert "changed since" not in user.status()
    text = own_catalog().read_text(encoding="utf-8")
    line = next(line for line in text.splitlines() if line.startswith(first.id + ","))
    price = f",{first.price},"
    assert price in line
    own_catalog().write_text(text.replace(line, line.replace(price, ",1.25,")), encoding="utf-8")
    user.menu("Catalogue", "Read again")
    assert "1 tanks changed since this job was saved" in user.status()
    assert user.window._catalog_label.toolTip() == f"{first.name}: changed price."
    own_catalog().write_text(text.replace(line + "\n", ""), encoding="utf-8")
    user.menu("Catalogue", "Read again")
    assert user.window._catalog_label.toolTip() == f"{first.name} is no longer in the catalogue."


def test_the_saved_rows_can_be_ranked_instead_of_the_catalogue(
    user: User, answers: Answers, tmp_path: Path
) -> None:
    entry = user.entry("Catalogue", "Rank the rows saved in this job")
    assert not entry.isEnabled()
    saved_as(user, answers, tmp_path / "a.tankjob.json")
    offered = [row for row in user.rows() if row[0] == "Passes"]
    few_tanks(1)
    user.menu("Catalogue", "Read again")
    assert len(user.rows()) == 1
    assert entry.isEnabled()
    entry.trigger()
    assert user.rows() == offered
    assert user.status() == f"Ranking the {len(offered)} tanks saved in this job"
    user.enter("run_time", "1.5")
    user.menu("File", "Save")
    saved = document.read(tmp_path / "a.tankjob.json").catalog
    assert saved is not None
    assert [tank.name for tank in saved.tanks] == [row[1] for row in offered]
    entry.trigger()
    assert len(user.rows()) == 1


def test_another_job_is_ranked_by_the_catalogue_and_has_nothing_chosen(
    user: User, answers: Answers, tmp_path: Path
) -> None:
    saved_as(user, answers, tmp_path / "a.tankjob.json")
    user.entry("Catalogue", "Rank the rows saved in this job").trigger()
    user.menu("File", "New job")
    assert not user.entry("Catalogue", "Rank the rows saved in this job").isChecked()
    assert len(user.rows()) == 14
    user.table.selectRow(0)
    assert user.ring() is not None
    user.menu("File", "Open the demo job")
    assert (user.chosen_row(), user.ring()) == (None, None)
    assert user.detail() == "Choose a tank to read why it stands where it does."
