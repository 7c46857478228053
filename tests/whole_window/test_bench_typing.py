"""Whoever types into the bench sees everything follow at once, and nothing stay behind."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from tests.whole_window.user import User, at_window, demo_job
from workbench.gui import theme
from workbench.job.job import Job

SEA = 14.6959488  # psi, the air at sea level (US Standard Atmosphere 1976)

# What a person types, and what on the page must not be as it was.
EDITS = {
    "pump_flow": ("14", {"figures", "rules", "required", "table"}),
    "run_time": ("2", {"figures", "rules", "required", "table"}),
    "starts_limit": ("9", {"rules"}),
    "cut_in": ("25", {"figures", "reasons", "lines", "marks", "table"}),
    "cut_out": ("58", {"reasons", "lines", "marks", "table"}),
    "bands": ("30/45, 35/60", {"lines"}),
    "reading_temperature": ("80", {"figures", "reasons"}),
    "reading_altitude": ("6000", {"figures", "reasons"}),
    "altitude": ("9000", {"reasons", "lines", "marks", "table"}),
    "exponent": ("1.2", {"reasons", "lines", "marks", "table"}),
    "door_width": ("20", {"marks", "table", "summary"}),
    "headroom": ("40", {"marks", "table", "summary"}),
    "pressure_margin": ("70", {"marks", "table", "summary"}),
}
CHOICES = {
    "run_time_rule": ("limit of starts per hour", {"figures", "reasons", "required", "table"}),
    "precharge_rule": ("equal to cut-in", {"figures", "reasons", "lines", "marks", "table"}),
    "header_tanks": ("up to two equal", {"marks", "table", "summary"}),
}


def factor(precharge: float, cut_in: float, cut_out: float, air: float = SEA) -> float:
    """Drawdown of a gallon of tank by Boyle's law, written out a second time."""
    charge = precharge + air
    return charge / (cut_in + air) - charge / (cut_out + air)


def number(text: str) -> float:
    return float(text.split()[0].replace("−", "-").replace("+", ""))


@pytest.fixture
def fresh(qtbot: QtBot) -> User:
    return at_window(qtbot)


@pytest.fixture
def demo(qtbot: QtBot) -> User:
    return at_window(qtbot, demo_job())


def as_if_opened(user: User, job: Job) -> dict[str, object]:
    """What the window shows of ``job`` when it has just been opened."""
    user.store.open_job(job, None)
    return user.everything()


def test_an_empty_job_shows_the_figures_of_its_defaults(fresh: User) -> None:
    assert fresh.figures() == ("10.0 gal", "28.0 psi")
    reason, rule = fresh.reasons()
    volume = 10 / factor(28, 30, 50)
    assert f"10 gpm × 1.00 min, run time as typed. About {volume:.0f} gal" in reason
    assert rule.startswith("Cut-in less 2 psi. Power off and locked out, tank drained")
    assert fresh.rules()[:10] == [
        "By each run-time rule",
        *("run time as typed", "10.0 gal", "15.0 starts/h at worst"),
        *("steps by pump flow", "10.0 gal", "15.0 starts/h at worst"),
        *("limit of starts per hour", "25.0 gal", "6.0 starts/h at worst"),
    ]
    assert fresh.rules()[10] == "They differ by a factor of 2.5."
    assert fresh.messages() == {}


def test_the_plot_draws_each_band_at_its_own_precharge(fresh: User) -> None:
    lines = fresh.lines()
    expected = {
        "30/50 yours": factor(28, 30, 50),
        "20/40": factor(18, 20, 40),
        "40/60": factor(38, 40, 60),
        "50/70": factor(48, 50, 70),
    }
    assert list(lines) == list(expected)
    for name, slope in expected.items():
        assert lines[name][0] == (0, 0)
        assert lines[name][-1][0] == pytest.approx(120 * 1.03)
        for x, y in lines[name]:
            assert y == pytest.approx(x * slope, rel=1e-6)
    assert fresh.axes() == ("Total volume, gal", "Drawdown, gal")
    height, told = fresh.required() or (0, "")
    assert height == pytest.approx(10)
    assert told == "required 10.0 gal"


def test_the_lines_differ_in_more_than_colour_and_ones_own_is_the_heaviest(fresh: User) -> None:
    pens = fresh.pens()
    own = pens.pop("30/50 yours")
    assert own[0] == theme.OWN_CURVE_WIDTH > max(width for width, _, _ in pens.values())
    dashes = [tuple(dash) for _, dash, _ in (own, *pens.values())]
    colours = [colour for _, _, colour in (own, *pens.values())]
    assert len(set(dashes)) == len(dashes)
    assert len(set(colours)) == len(colours)


def test_every_tank_of_the_table_is_a_mark_in_the_plot(demo: User) -> None:
    volumes, waters = demo.column("Volume"), demo.column("Drawdown")
    shown = sorted(
        (float(volume), float(water), result == "Passes")
        for volume, water, result in zip(volumes, waters, demo.column("Result"), strict=True)
    )
    drawn = sorted((round(m.volume, 1), round(m.drawdown, 1), m.passes) for m in demo.marks())
    assert len(shown) == 48
    for (v, w, ok), (x, y, filled) in zip(shown, drawn, strict=True):
        assert (v, ok) == (x, filled)
        assert w == pytest.approx(y, abs=0.051)


def test_the_columns_of_the_table_agree_with_each_other(demo: User) -> None:
    required, flow = number(demo.figures()[0]), number(demo.texts()["pump_flow"])
    for row in demo.rows():
        shown = dict(zip(demo.headings(), row, strict=True))
        water = number(shown["Drawdown, gal"])
        run = number(shown["Run, min"])
        assert number(shown["Margin, gal"]) == pytest.approx(water - required, abs=0.101)
        assert run == pytest.approx(water / flow, abs=0.011)
        if run > 0.5:
            assert number(shown["Starts, /h"]) == pytest.approx(15 / run, rel=0.02)
        if shown["Result"] == "Passes":
            assert water >= required - 0.05


def test_without_a_membranes_limit_a_tank_lies_on_the_line_of_ones_own_band(demo: User) -> None:
    x, y = demo.lines()["30/50 yours"][-1]
    on_line = [m for m in demo.marks() if m.drawdown == pytest.approx(m.volume * y / x, rel=1e-9)]
    below = [m for m in demo.marks() if m.drawdown < m.volume * y / x * (1 - 1e-9)]
    assert len(on_line) + len(below) == len(demo.marks())
    assert len(on_line) > 30


def test_each_edit_reaches_all_that_follows_from_it(demo: User) -> None:
    before = demo.everything()
    for name, (wanted, moved) in (EDITS | CHOICES).items():
        demo.enter(name, wanted) if name in EDITS else demo.choose(name, wanted)
        after = demo.everything()
        missed = moved - {part for part in after if after[part] != before[part]}
        assert not missed, f"{name} did not reach {missed}"
        assert demo.texts()[name] == wanted
        assert as_if_opened(demo, demo.store.job) == after, name
        assert as_if_opened(demo, demo_job()) == before


def test_a_tick_reaches_table_and_plot(demo: User) -> None:
    demo.enter("run_time", "0.2")
    before = demo.everything()
    assert any("potable water" in reason for reason in demo.column("Why"))
    demo.tick("potable_required")
    after = demo.everything()
    assert after["marks"] != before["marks"]
    assert after["summary"] != before["summary"]
    assert not any("potable water" in reason for reason in demo.column("Why"))


def test_every_keystroke_counts_at_once(demo: User) -> None:
    demo.go_to("run_time")
    seen = []
    for key in "2.5":
        demo.type(key)
        seen.append((demo.texts()["run_time"], demo.figures()[0]))
    assert seen == [("2", "22.0 gal"), ("2.", "22.0 gal"), ("2.5", "27.5 gal")]


def test_findings_stand_beneath_the_field_they_are_about(demo: User) -> None:
    assert demo.messages() == {}
    demo.enter("cut_out", "85")
    demo.enter("pump_flow", "90")
    messages = demo.messages()
    assert messages["cut_out"].startswith("Caution: Above the 80 psi allowed")
    assert messages["pump_flow"] == (
        "Caution: Unusual for a private well. Check the unit: gallons per minute or per hour?"
    )
    demo.enter("cut_out", "50")
    demo.enter("pump_flow", "11")
    assert demo.messages() == {}


def test_the_typed_precharge_has_a_field_only_while_it_is_used(demo: User) -> None:
    field = demo.field("precharge")
    assert not field.isVisible()
    demo.choose("precharge_rule", "as typed")
    assert field.isVisible()
    demo.enter("precharge", "35")
    assert demo.figures()[1] == "35.0 psi"
    assert demo.messages()["precharge"].startswith("Caution: The tank is empty 5.0 psi before")
    assert demo.reasons()[1].startswith("Above cut-in: the tank empties before the pump starts.")
    demo.enter("precharge", "50")
    assert demo.figures()[1] == "—"
    assert demo.reasons()[1] == "Mend first: Precharge."


def test_while_the_setting_is_unreadable_nothing_old_is_shown(demo: User) -> None:
    before = demo.everything()
    for name in ("cut_in", "cut_out", "altitude", "exponent"):
        typed = demo.texts()[name]
        demo.enter(name, "x")
        assert demo.figures() == ("—", "—")
        assert demo.rules()[2::3] == ["—", "—", "—"]
        assert (demo.rows(), demo.marks(), demo.lines(), demo.required()) == ([], [], {}, None)
        assert demo.summary() == "No ranking until the inputs are mended"
        assert all(reason.startswith("Mend first: ") for reason in demo.reasons())
        assert demo.messages()[name].startswith("Stop: “x” has no number that can be read.")
        demo.enter(name, typed)
        assert demo.everything() == before


def test_while_the_flow_is_unreadable_the_setting_stays(demo: User) -> None:
    before = demo.everything()
    demo.enter("pump_flow", "")
    assert demo.figures() == ("—", "28.0 psi")
    assert demo.reasons()[0] == "Mend first: Pump flow."
    assert (demo.rows(), demo.marks(), demo.required()) == ([], [], None)
    assert demo.lines() == before["lines"]
    assert demo.messages() == {"pump_flow": "Stop: Nothing is entered here. For example “10 gpm”."}
    demo.enter("pump_flow", "11 gpm")
    assert demo.everything() == before


def test_while_a_limit_is_unreadable_no_tank_is_offered_but_the_figures_stay(demo: User) -> None:
    before = demo.everything()
    for name, typed in (("door_width", "28 in"), ("headroom", "74 in"), ("pressure_margin", "15")):
        demo.enter(name, "?")
        assert demo.figures() == before["figures"]
        assert (demo.rows(), demo.marks()) == ([], [])
        assert demo.summary() == "No ranking until the inputs are mended"
        demo.enter(name, typed)
        assert demo.everything() == before


def test_an_entry_that_the_chosen_rule_does_not_use_stands_in_no_ones_way(demo: User) -> None:
    demo.choose("run_time_rule", "steps by pump flow")
    before = demo.everything()
    demo.enter("run_time", "later")
    after = demo.everything()
    assert after["messages"] == {
        "run_time": "Caution: “later” has no number that can be read. For example “1.5 min”."
    }
    assert demo.rules()[1:4] == ["run time as typed", "—", ""]
    for part in ("figures", "table", "marks", "lines", "required"):
        assert after[part] == before[part]


def test_unreadable_bands_leave_ones_own_line_alone(demo: User) -> None:
    before = demo.lines()
    demo.enter("bands", "30/50, 70/60")
    assert list(demo.lines()) == ["30/50 yours"]
    assert demo.messages()["bands"].startswith("Caution: In “70/60” the pump would stop below")
    demo.enter("bands", "20/40, 30/50, 40/60, 50/70 psi")
    assert demo.lines() == before


def test_what_was_read_in_the_plot_does_not_outlive_its_numbers(demo: User) -> None:
    legend = demo.reading()
    demo.go_to(demo.plot)
    demo.press(Qt.Key.Key_End)
    assert demo.reading().startswith("At ")
    heard = demo.plot.accessibleDescription()
    assert heard == demo.reading()
    demo.enter("cut_out", "60")
    assert demo.reading() == legend
    assert demo.plot.accessibleDescription() != heard
    assert not demo.plot._reading.isVisible()


def test_columns_keep_the_width_that_the_user_gave_them(demo: User) -> None:
    demo.table.setColumnWidth(1, 333)
    demo.enter("cut_in", "")
    demo.enter("cut_in", "32")
    assert demo.table.columnWidth(1) == 333


def test_typed_markup_is_shown_as_typed(demo: User) -> None:
    demo.enter("cut_in", "<b>30</b> psi")
    row = demo.page.inputs.rows["cut_in"]
    assert "<b>30</b> psi" in row.message.text()
    assert row.message.textFormat().name == "PlainText"
