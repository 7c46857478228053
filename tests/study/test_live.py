"""The job's tank as a system in motion, and the words that tell what it does."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import Any

import pytest

from tests.study.build import COMMA, GAL, GPM, METRIC, PSI, SEA, TWO_FLOWS, US, results, tank
from workbench.physics.motion import Event, Happening
from workbench.physics.system import Moment
from workbench.study.findings import Level
from workbench.study.live.recording import Recording
from workbench.study.live.rig import Rig
from workbench.study.live.view import LiveView, live_view
from workbench.study.live.words import FRESH, event_words, state_text, what_happens

HOME = tank("Invented 44", total_volume=44.0, acceptance=34.0)


def view(*tanks: object, **entries: object) -> LiveView:
    return live_view(results(*(tanks or (HOME,)), **entries))  # type: ignore[arg-type]


def the_rig(*tanks: object, **entries: object) -> Rig:
    found = view(*tanks, **entries)
    assert found.rig is not None, found.why
    return found.rig


def codes(found: LiveView) -> list[str]:
    return [finding.code for finding in found.findings]


# --- from the job to the rig ---


def test_the_rig_is_the_jobs_tank_switch_and_pump() -> None:
    found = view(run_time="30 s")
    one = found.rig
    assert one is not None
    assert found.tap == pytest.approx(5 * GPM)
    assert one.tank_name == "Invented 44"
    system = one.system
    assert system.volume == pytest.approx(44 * GAL)
    assert system.acceptance == pytest.approx(34 * GAL)
    assert (system.cut_in, system.cut_out) == pytest.approx((30 * PSI, 50 * PSI))
    assert system.precharge == one.setting.precharge == pytest.approx(28 * PSI)
    assert system.ambient == pytest.approx(SEA)
    assert system.line_give == pytest.approx(0.005 * GAL / (10 * PSI))
    assert system.start_delay == 1.0
    assert system.pump_flow(system.starts_at) == pytest.approx(10 * GPM)
    assert (one.water_above, one.charge_loss) == (0.0, 0.0)


def test_a_typed_volume_takes_the_place_of_the_catalogues_tank() -> None:
    one = the_rig(live_volume="20 gal")
    assert one.system.volume == pytest.approx(20 * GAL)
    assert one.system.acceptance == float("inf")
    assert one.tank_name == "Tank of 20 gal"
    alone = live_view(results(live_volume="20 gal"))
    assert alone.rig is not None


def test_several_equal_tanks_are_one_of_their_sum() -> None:
    one = the_rig(HOME, header_tanks=2, run_time="90 s")
    assert one.system.volume == pytest.approx(88 * GAL)
    assert one.system.acceptance == pytest.approx(68 * GAL)


def test_unequal_membranes_as_one_tank_are_told() -> None:
    other = tank("Invented 60", total_volume=60.0, acceptance=30.0)
    ranked = results(HOME, other, header_tanks=2, mixed_sets=True)
    assert ranked.ranking is not None
    keys = ranked.ranking.candidates.by_key
    mixed = next(key for key in keys if "44" in key and "60" in key)
    found = view(HOME, other, header_tanks=2, mixed_sets=True, first_tank=mixed)
    assert "tanks_as_one" in codes(found)
    assert found.rig is not None
    assert found.rig.system.volume == pytest.approx(104 * GAL)


def test_a_falling_flow_is_followed() -> None:
    system = the_rig(**TWO_FLOWS).system
    assert system.pump_flow(system.starts_at) == pytest.approx(12 * GPM)
    assert system.pump_flow(system.top) == pytest.approx(8 * GPM)


def test_a_pump_that_cannot_reach_cut_out_is_set_in_motion_too() -> None:
    # Two flows measured at 30 and 50 psi reach 66 psi at most.
    one = the_rig(
        **TWO_FLOWS,
        cut_in="50 psi",
        cut_out="70 psi",
        flow_in_at="30 psi",
        flow_out_at="50 psi",
        first_tank="invented-44",
    )
    tape = Recording(one, 0.0, 50 * PSI)
    assert tape.advance(3600.0) == ()
    assert tape.moment.gives
    assert tape.moment.pressure == pytest.approx(66 * PSI, rel=1e-3)
    told = what_happens(one, tape.moment, 0.0, None, US)
    assert told == (
        "The pump runs but moves no more water: it cannot reach cut-out at 70.0 psi and does not"
        " stop."
    )


def test_air_of_another_temperature_moves_the_charge_by_its_absolute_pressure() -> None:
    # 28 psi at 55 °F becomes (28 + 14.696) · (459.67 + 90) / (459.67 + 55) − 14.696 at 90 °F.
    one = the_rig(live_air="90 °F")
    expected = (28 * PSI + SEA) * (459.67 + 90) / (459.67 + 55) - SEA
    assert one.system.precharge == pytest.approx(expected)
    assert one.setting.precharge == pytest.approx(28 * PSI)


def test_so_cold_a_charge_that_it_lies_below_the_air_is_a_stop() -> None:
    found = view(live_air="-300 °F")
    assert codes(found)[0] == "charge_below_zero"
    assert found.rig is None
    assert "Air now" in found.why


def test_the_relief_valve_is_the_entered_one_or_an_assumption_that_is_told() -> None:
    assert the_rig(relief_setting="75 psi").system.relief == pytest.approx(75 * PSI)
    by_rating = view()
    assert by_rating.rig is not None
    assert by_rating.rig.system.relief == pytest.approx(125 * PSI)
    assert codes(by_rating) == ["relief_at_rating"]
    assumed = view(live_volume="44 gal")
    assert assumed.rig is not None
    assert assumed.rig.system.relief == pytest.approx(75 * PSI)
    assert codes(assumed) == ["relief_assumed"]
    assert (
        assumed.findings[0]
        .told(US)
        .endswith("taken to open at 75.0 psi, which is 25.0 psi above cut-out (assumed here).")
    )
    low = view(relief_setting="45 psi")
    assert codes(low) == ["relief_below_cut_out"]
    assert low.rig is None


def test_a_band_that_no_system_can_have_is_a_stop() -> None:
    found = view(cut_in="0 psi", precharge_rule="cut_in", cut_out="20 psi")
    assert "not_in_motion" in codes(found)
    assert found.rig is None


@pytest.mark.parametrize(
    ("entries", "named"),
    [
        ({"cut_out": "20 psi"}, "Cut-out"),
        ({"line_give": "0 gal"}, "Pipes give"),
        ({"start_delay": "-1 s"}, "Pump's start"),
        ({"live_volume": "much"}, "Total volume"),
        ({"pump_flow": "some"}, "Pump"),
        ({"first_tank": "gone"}, "Tank"),
        ({"live_air": "warm"}, "Air now"),
        ({"relief_setting": "high"}, "Relief valve"),
    ],
)
def test_what_is_missing_is_named(entries: dict[str, object], named: str) -> None:
    found = view(**entries)
    assert found.rig is None
    assert re.match(rf"Mend first: .*{named}", found.why)


def test_without_any_tank_the_words_ask_for_one() -> None:
    found = live_view(results())
    assert found.rig is None
    assert found.why.startswith("There is no tank")


def test_a_draw_that_cannot_be_read_leaves_the_rig_without_a_tap() -> None:
    found = view(steady_draw="a lot")
    assert found.rig is not None
    assert found.tap is None
    assert [one.level for one in found.findings if one.field == "steady_draw"] == [Level.STOP]


# --- words ---


def moment_of(one: Rig, pressure: float, tap: float, seconds: float = 0.0) -> Moment:
    tape = Recording(one, tap, pressure)
    tape.advance(seconds)
    return tape.moment


def told(
    one: Rig, pressure: float, tap: float, last: Happening | None = None, seconds: float = 0.0
) -> str:
    moment = moment_of(one, pressure, tap, seconds)
    event = None if last is None else Event(moment.time, last)
    return what_happens(one, moment, tap, event, US)


def made(**changes: Any) -> Rig:
    one = the_rig(relief_setting="75 psi")
    return replace(one, system=replace(one.system, **changes))


def test_every_event_has_words_of_its_own() -> None:
    assert len({event_words(kind) for kind in Happening}) == len(Happening)


def test_the_pump_rests() -> None:
    one = made()
    assert told(one, 50 * PSI, 5 * GPM, Happening.OPENED) == (
        "The pump stopped; the house now draws on the air."
    )
    assert told(one, 40 * PSI, 5 * GPM) == (
        "The pump rests. The house draws on the air; the pump starts at 30.0 psi."
    )
    assert (
        told(one, 40 * PSI, 0.0) == "The pump rests. Nothing is drawn; the air holds the pressure."
    )
    leaking = made(back_flow=0.2 * GPM)
    assert "runs back into the well" in told(leaking, 40 * PSI, 0.0)


def test_the_pump_starts_and_fills() -> None:
    one = made()
    tape = Recording(one, 5 * GPM, 31 * PSI)
    event = tape.step_to_next()
    assert what_happens(one, tape.moment, 5 * GPM, event, US) == (
        "The contacts have closed; the pump is getting up to speed. The house still draws on the"
        " air."
    )
    assert what_happens(one, tape.moment, 0.0, event, US) == (
        "The contacts have closed; the pump is getting up to speed."
    )
    assert told(one, 30 * PSI, 5 * GPM, Happening.GIVES, 2.0) == (
        "The pump is up to speed. Part of its water goes to the tap, the rest fills the tank."
    )
    assert told(one, 30 * PSI, 0.0, None, 9.0) == (
        "The pump runs. Nothing is drawn; all its water goes into the tank."
    )


def test_the_pump_just_meets_the_draw() -> None:
    assert told(made(), 30 * PSI, 10 * GPM, None, 5.0) == (
        "The pump just meets the draw: the pressure stands still, and the pump does not stop."
    )
    falling = replace(made(), system=the_rig(**TWO_FLOWS, relief_setting="75 psi").system)
    assert "just meets the draw" in told(falling, 30 * PSI, 10 * GPM, None, 3000.0)


def test_the_house_draws_more_than_the_pump_gives() -> None:
    one = made()
    assert told(one, 30 * PSI, 14 * GPM, None, 1.05) == (
        "The pump runs. The house draws more than it gives: the pressure falls."
    )
    tape = Recording(one, 14 * GPM, 30 * PSI)
    kinds = []
    while (event := tape.step_to_next()) is not None:
        kinds.append(event.kind)
        if event.kind is Happening.EMPTIED:
            words = what_happens(tape.rig, tape.moment, tape.tap, event, US)
            assert words.startswith("The tank is empty. The house draws more than it gives")
    assert kinds[-2:] == [Happening.EMPTIED, Happening.DRY]
    assert what_happens(tape.rig, tape.moment, tape.tap, None, US) == (
        "There is no pressure: the tap takes all that the pump gives, which is less than it is"
        " opened for."
    )


def test_the_tank_is_empty_before_the_pump_starts_and_the_tap_runs_dry() -> None:
    one = made(precharge=38 * PSI)
    tape = Recording(one, 5 * GPM)
    told_at = {}
    for _ in range(4):
        event = tape.step_to_next()
        assert event is not None
        told_at[event.kind] = what_happens(one, tape.moment, tape.tap, event, US)
    assert told_at[Happening.EMPTIED] == (
        "The last water has left the tank. The pressure drops at once, and the pump starts only at"
        " 30.0 psi."
    )
    assert told_at[Happening.CLOSED] == (
        "The contacts have closed; the pump is getting up to speed. The tank is empty: the pressure"
        " drops."
    )
    assert told_at[Happening.DRY] == (
        "The last pressure is gone; the tap has run dry. The pump is getting up to speed."
    )
    assert told_at[Happening.GIVES] == (
        "The pump is up to speed. The tank takes no water below its precharge of 38.0 psi."
    )
    assert told(one, 35 * PSI, 5 * GPM).startswith("The tank is empty. The pressure drops at once")


def test_no_pressure_while_the_pump_rests_or_gets_up_to_speed() -> None:
    one = made(start_delay=5.0, precharge=38 * PSI)
    tape = Recording(one, 5 * GPM)
    while not tape.moment.is_dry:
        tape.step_to_next()
    tape.advance(1.0)
    moment = tape.moment
    assert what_happens(one, moment, 5 * GPM, None, US) == (
        "There is no pressure; the tap gives nothing. The pump is getting up to speed."
    )
    rests = replace(moment, closed=False)
    assert what_happens(one, rests, 5 * GPM, None, US).endswith("The pump rests.")


def test_the_membrane_is_at_its_limit() -> None:
    one = made(acceptance=8 * GAL, start_delay=0.0)
    limit = one.system.full_at
    assert 30 * PSI < limit < 50 * PSI
    rising = Recording(one, 0.0, 30 * PSI)
    while not rising.moment.is_full:
        rising.advance(0.001)
    words = what_happens(one, rising.moment, 0.0, None, US)
    assert words.startswith("The pump runs. The membrane is at its limit: the pressure leaps up")
    assert told(one, 49 * PSI, 5 * GPM) == (
        "The pump rests. The membrane is at its limit: the pressure drops fast at first."
    )


def test_a_plugged_nipple_lets_the_pressure_run_past_the_switch_and_opens_the_relief_valve() -> (
    None
):
    one = made(sensing_lag=60.0, relief=52 * PSI)
    tape = Recording(one, 0.0, 30 * PSI)
    tape.advance(45.0)
    while tape.moment.pressure < 51 * PSI:
        tape.advance(0.1)
    assert what_happens(one, tape.moment, 0.0, None, US) == (
        "The pump runs. The gauge is past cut-out, but the switch does not feel it yet."
    )
    event = tape.step_to_next()
    assert event is not None
    assert event.kind is Happening.RELIEVED
    assert what_happens(one, tape.moment, 0.0, event, US).startswith("The relief valve has opened.")
    later = replace(tape.moment, time=event.time + 2 * FRESH)
    assert what_happens(one, later, 0.0, event, US).startswith("The relief valve stands open.")
    tape.step_to_next()  # the contacts open at last
    tape.set_tap(8 * GPM)
    while tape.moment.pressure > 29 * PSI:
        tape.advance(0.1)
    assert not tape.moment.closed
    assert "below cut-in, but the switch" in what_happens(one, tape.moment, tape.tap, None, US)


def test_an_event_is_told_only_while_it_is_fresh() -> None:
    one = made()
    moment = moment_of(one, 48 * PSI, 5 * GPM)
    fresh = Event(moment.time - 0.9 * FRESH, Happening.OPENED)
    stale = Event(moment.time - 1.1 * FRESH, Happening.OPENED)
    assert what_happens(one, moment, 5 * GPM, fresh, US).startswith("The pump stopped;")
    assert what_happens(one, moment, 5 * GPM, stale, US).startswith("The pump rests.")


def test_the_words_for_a_screen_reader_carry_every_figure() -> None:
    one = made()
    moment = moment_of(one, 40 * PSI, 5 * GPM)
    text = state_text(one, moment, 5 * GPM, None, US)
    water = one.system.water(40 * PSI) / GAL
    assert text.startswith(
        f"Gauge 40.0 psi. Water in the tank {water:.1f} gal, air {44 - water:.1f} gal. Contacts"
        " open; the pump gives 0.0 gpm. Tap asks for 5.0 gpm and gets 5.0 gpm. The pump rests."
    )
    assert "276 kPa" in state_text(one, moment, 5 * GPM, None, METRIC)
    assert "18,9 L/min" in state_text(one, moment, 5 * GPM, None, COMMA)


# --- two rigs that are alike ---

CURVE = {"pump_entry": "curve", "curve": "0 gpm 300 ft; 10 gpm 220 ft; 18 gpm 90 ft",
         "water_level": "80 ft"}  # fmt: skip


@pytest.mark.parametrize("entries", [{}, TWO_FLOWS, CURVE], ids=["one flow", "two", "a curve"])
def test_a_rig_that_is_made_again_is_alike(entries: dict[str, Any]) -> None:
    one, other = the_rig(**entries), the_rig(**entries, run_time="90 s")
    assert one is not other
    assert one.is_like(other)
    assert one.is_like(one)


def test_a_pump_that_gives_otherwise_makes_another_rig() -> None:
    one = the_rig(**CURVE)
    assert not one.is_like(the_rig(**(CURVE | {"water_level": "81 ft"})))
    assert not one.is_like(the_rig(**TWO_FLOWS))
    assert not the_rig(**TWO_FLOWS).is_like(the_rig(**(TWO_FLOWS | {"flow_at_cut_out": "6 gpm"})))


def test_each_figure_of_a_rig_makes_it_another_one() -> None:
    one = the_rig()
    system, setting = one.system, one.setting
    for name in ("volume", "precharge", "ambient", "cut_in", "cut_out", "relief", "line_give",
                 "start_delay", "acceptance", "exponent", "back_flow", "sensing_lag"):  # fmt: skip
        value = getattr(system, name)
        changed = replace(system, **{name: value * 1.001 if value else 1e-6})
        assert not one.is_like(replace(one, system=changed)), name
    assert not one.is_like(replace(one, setting=replace(setting, precharge=1.0)))
    assert not one.is_like(replace(one, water_above=0.001))
    assert not one.is_like(replace(one, charge_loss=1.0))
    assert not one.is_like(replace(one, tank_name="another"))
