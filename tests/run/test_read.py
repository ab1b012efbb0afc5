"""What is read off the last state of a run, against states put together by hand."""

from math import isnan, radians
from typing import Any

import pytest

from sidehill.kernels.layout import (
    ACROSS,
    BROKEN,
    CASE,
    HALTED,
    LEANING,
    MOST_SPELLS,
    OVERTURNED,
    RESTED,
    ROLLED_ON,
    SLID,
    STATE,
    STILL_MOVING,
    STUCK,
    TILT,
    TURNED,
    Records,
    blank,
)
from sidehill.run.outcome import Spell, met, progress, read, spells, stability
from sidehill.run.why import wheel_words, why

STEP = 2e-3


def case(**values: Any) -> Records:
    return filled(blank(CASE), {"step": STEP, "downhill": 1.0, "features_end": 7.0} | values)


def ended(finish: float = ACROSS, **values: Any) -> Records:
    """The state of a run that was set going and met everything."""
    known = {"finish": finish, "started": 1.0, "step": 9000.0, "path": 8.0, "furthest_path": 8.0}
    return filled(blank(STATE), known | values)


def filled(record: Records, values: dict[str, Any]) -> Records:
    for name, value in values.items():
        record[name] = value
    return record


def test_every_number_is_read_from_its_own_place_in_its_own_unit() -> None:
    log = [[2, 1000, 1100, 0.03], [0, 2000, 2200, 0.01]]
    state = ended(
        peak_roll=radians(-7.0), peak_roll_horizon=radians(11.0), peak_pitch=radians(3.0),
        least_balance=radians(21.0), least_balance_step=1500.0, least_lift_off=radians(9.0),
        least_lift_off_step=2500.0, longest_up=[200, 0, 300, 30], most_gap=[0.01, 0, 0.03, 0.02],
        least_load=[1.0, 2.0, 3.0, 4.0], peak_load=[5.0, 6.0, 7.0, 8.0], stop_hits=3.0,
        furthest_off=0.4, spells=2.0, spell_gap=[0.5, 0.6, 0.7, 0.02], up_steps=[0, 0, 24, 25],
    )  # fmt: skip
    state["spell_log"][0, : len(log)] = log
    found = read(state, case())
    assert found.facts == ("lifted", "across", True) and not found.is_good
    numbers = {
        "peak_roll_deg": -7.0, "peak_roll_horizon_deg": 11.0, "peak_pitch_deg": 3.0,
        "least_balance_angle_deg": 21.0, "least_balance_angle_s": 3.0,
        "least_lift_off_angle_deg": 9.0, "least_lift_off_angle_s": 5.0,
        "longest_spell_s": 0.6, "most_daylight_m": 0.03, "stop_hits": 3, "off_path_m": 0.4,
        "path_m": 8.0, "sim_s": 18.0, "spell_count": 3,
    }  # fmt: skip
    assert {name: getattr(found, name) for name in numbers} == pytest.approx(numbers)
    assert list(found.min_load_n.values()) == [1.0, 2.0, 3.0, 4.0]
    assert list(found.peak_load_n.values()) == [5.0, 6.0, 7.0, 8.0]
    # 24 steps are 48 ms and do not count; 25 are 50 ms, and last to the end
    assert found.spells == (
        Spell("rear_left", 2.0, 2.2, False, 0.03),
        Spell("front_left", 4.0, 4.4, False, 0.01),
        Spell("rear_right", 17.95, 18.0, True, 0.02),
    )
    assert found.fall == "" and isnan(found.final_rest_deg) and found.touched == ()


def test_what_came_before_a_fall_is_watched_to_where_it_went_over() -> None:
    touch = blank(STATE)["touch_step"][0]
    touch[1], touch[4], touch[2] = 8000.0, 7000.0, 8500.0
    falls = {RESTED: "rests", ROLLED_ON: "rolls on", STILL_MOVING: "still moving when last seen"}
    for finish, words in falls.items():
        state = ended(finish, fall_step=6000.0, up_steps=[0, 0, 500, 0], touch_step=touch,
                      turned_over=radians(178.0), peak_roll=radians(70.0))  # fmt: skip
        found = read(state, case())
        assert found.facts[:2] == ("overturned", "over") and found.fall == words
        assert [(s.start_s, s.end_s) for s in found.spells] == [(11.0, 12.0)]
        assert len(found.touched) == 3
        assert isnan(found.final_rest_deg) == (finish != RESTED)
    assert read(ended(RESTED, turned_over=radians(178.0)), case()).final_rest_deg == 178.0
    parts = read(ended(RESTED, touch_step=touch), case()).touched
    one = blank(STATE)["touch_step"][0]
    one[4] = 1.0
    assert read(ended(RESTED, touch_step=one), case()).touched == parts[:1]


def test_no_more_spells_are_told_than_were_kept_and_all_are_counted() -> None:
    state = ended(spells=MOST_SPELLS + 5.0)
    state["spell_log"][0, :, 2] = 1.0
    assert len(spells(state, STEP)) == MOST_SPELLS
    assert read(state, case()).spell_count == MOST_SPELLS + 5


def test_of_a_run_whose_numbers_went_bad_nothing_is_known() -> None:
    found = read(ended(BROKEN, stop_hits=4.0, spells=2.0, up_steps=[99, 99, 99, 99]), case())
    assert found.facts == (None, None, None)
    assert found.why == "numbers went bad: nothing is known"
    assert (found.spells, found.spell_count, found.stop_hits) == ((), 0, 0)
    assert isnan(found.peak_roll_deg) and isnan(found.path_m) and isnan(found.most_daylight_m)
    assert all(isnan(load) for load in found.min_load_n.values())


def test_a_tilt_table_has_no_facts_until_it_went_over() -> None:
    for state in (ended(TURNED), ended(STUCK, stage=TILT)):
        assert (stability(state, STEP), progress(state), met(state, case())) == (None, None, None)
        assert read(state, case()).why == ""


def test_met_is_to_have_been_set_going_and_past_the_last_feature() -> None:
    assert met(ended(path=7.0), case()) is True
    assert met(ended(path=6.999), case()) is False
    assert met(ended(path=7.0, started=0.0), case()) is False


OVER = {"peak_roll": radians(61.0), "path": 5.0}
SPUN = {"gauge_step": 8000.0, "spun": [0.1, 0.2, 0.31, 0.0]}
UP = {"longest_up": [0, 0, 61, 0], "most_gap": [0, 0, 0.0301, 0]}
PLANTED = "all wheels stay on the ground"
WHY = [  # state, case, facts, what is said
    (ended(OVERTURNED, **OVER), {}, ("overturned", "over", False),
     "goes over toward downhill, 5.00 m (16.4 ft) along"),
    (ended(OVERTURNED, **OVER | {"peak_roll": radians(-61.0)}), {}, ("overturned", "over", False),
     "goes over toward uphill, 5.00 m (16.4 ft) along"),
    (ended(OVERTURNED, pitch=radians(61.0), peak_roll=-0.2), {}, ("overturned", "over", False),
     "goes over backward, 8.00 m (26.2 ft) along"),
    (ended(OVERTURNED, pitch=radians(-61.0), peak_roll=0.2), {}, ("overturned", "over", False),
     "goes over forward, 8.00 m (26.2 ft) along"),
    (ended(SLID, slid=1.0, furthest_off=0.7), {}, ("planted", "slid", True),
     f"it slides off its path, 0.70 m (2.3 ft) off at most; {PLANTED}"),
    (ended(SLID, slid=1.0, furthest_path=8.6), {}, ("planted", "slid", True),
     f"slides back along its path; {PLANTED}"),
    (ended(SLID, slid=1.0, brake_step=1.0), {}, ("planted", "slid", True),
     f"pulled off its path by the brake on one side; {PLANTED}"),
    (ended(SLID, slid=1.0, brake_step=1.0, furthest_off=0.7), {"declutch": 1.0},
     ("planted", "slid", True), f"it slides off its path, 0.70 m (2.3 ft) off at most; {PLANTED}"),
    (ended(STUCK, **SPUN), {}, ("planted", "stuck", True),
     f"stopped: uphill rear wheel spinning; {PLANTED}"),
    (ended(STUCK, **SPUN), {"downhill": -1.0}, ("planted", "stuck", False),
     f"stopped: downhill rear wheel spinning; {PLANTED}; not all of the course was met"),
    (ended(STUCK, gauge_step=8000.0, spent_steps=501.0), {}, ("planted", "stuck", True),
     f"stopped: its torque ran out; {PLANTED}"),
    (ended(STUCK, gauge_step=8000.0, spent_steps=499.0), {}, ("planted", "stuck", True),
     f"stopped: it does not get on; {PLANTED}"),
    (ended(HALTED), {}, ("planted", "halted", True), f"it stands where it was to stand; {PLANTED}"),
    (ended(LEANING, **UP), {}, ("on_stop", "leaning", True),
     "it is left leaning with a wheel up; uphill rear wheel up for 0.13 s, "
     "31 mm (1.2 in) of daylight; the front axle is at the end of its swing: "
     "nothing is left to catch it"),
    (ended(**UP), {}, ("hopped", "across", False),
     "it comes across; uphill rear wheel up for 0.13 s, 31 mm (1.2 in) of daylight; "
     "not all of the course was met"),
    (ended(started=0.0), {}, ("planted", "not_started", False), "it does not come to rest there"),
    (ended(started=0.0, **UP), {}, ("on_stop", "not_started", False),
     "it cannot stand there on four wheels; the front axle is at the end of its swing: "
     "nothing is left to catch it"),
    (ended(started=0.0), {}, ("overturned", "not_started", False),
     "it cannot stand there on four wheels; it goes over"),
]  # fmt: skip


@pytest.mark.parametrize("state, changes, facts, said", WHY)
def test_why_says_how_far_it_got_and_the_worst_of_its_wheels(
    state: Records, changes: dict[str, float], facts: Any, said: str
) -> None:
    assert why(state, case(**changes), *facts) == said


def test_of_a_run_that_lacks_a_fact_nothing_is_said() -> None:
    assert why(ended(), case(), None, "across", True) == ""
    assert why(ended(), case(), "planted", None, True) == ""


def test_a_wheel_is_called_by_its_place_on_the_slope() -> None:
    assert wheel_words("front_right", 1.0) == "downhill front wheel"
    assert wheel_words("front_left", 1.0) == "uphill front wheel"
    assert wheel_words("rear_right", -1.0) == "uphill rear wheel"
    assert wheel_words("rear_left", -1.0) == "downhill rear wheel"
