"""What the `tip` command reports."""

import json
from math import radians

import numpy as np
import pytest
from population import MACHINES

from sidehill.files.errors import InputError
from sidehill.machine.build import fit
from sidehill.machine.file import load_machine
from sidehill.machine.outfit import Outfit
from sidehill.statics.report import tip

NAMES = [
    "mass_kg",
    "cg_m",
    "wheel_loads_n",
    "lift_off_slope_deg",
    "lifts_first",
    "second_stage_slope_deg",
    "overturn_slope_deg",
    "rigid_slope_deg",
    "slide_slope_deg",
    "grade_hold_deg",
    "energy_to_tip_j",
    "critical_roll_rate_rad_s",
    "flaws",
    "notes",
]
WHEELS = ["front_left", "front_right", "rear_left", "rear_right"]


@pytest.fixture(params=MACHINES)
def machine(request):
    return load_machine(request.param)


def test_names_and_plain_json(machine):
    report = tip(fit(machine, Outfit()), slope=0.1).to_dict()
    assert list(report) == NAMES
    assert list(report["wheel_loads_n"]) == WHEELS
    assert json.loads(json.dumps(report, allow_nan=False)) == report | {
        name: list(report[name]) for name in ("flaws", "notes")
    }


@pytest.mark.parametrize(("slope", "grade"), [(0.0, 0.0), (0.2, 0.0), (0.15, 0.1)])
def test_loads_carry_the_weight_square_to_the_ground(machine, slope, grade):
    report = tip(fit(machine, Outfit()), slope=slope, grade=grade)
    steepness = np.sqrt(1 + np.tan(slope) ** 2 + np.tan(grade) ** 2)
    total = sum(report.wheel_loads_n.values())
    assert total == pytest.approx(report.mass_kg * 9.81 / steepness)


def test_the_downhill_side_carries_more(machine):
    fitted = fit(machine, Outfit())
    right = tip(fitted, slope=0.2).wheel_loads_n
    left = tip(fitted, slope=0.2, downhill="left").wheel_loads_n
    assert right["rear_right"] > right["rear_left"]
    assert right["front_right"] > right["front_left"]
    assert left["rear_left"] > left["rear_right"]


def test_slopes_in_their_order(machine):
    report = tip(fit(machine, Outfit()))
    assert report.lift_off_slope_deg <= report.overturn_slope_deg
    assert report.overturn_slope_deg <= max(
        report.lift_off_slope_deg, report.second_stage_slope_deg
    )
    assert report.second_stage_slope_deg < report.rigid_slope_deg
    assert 0 < report.grade_hold_deg < report.slide_slope_deg


def test_a_raised_bucket_costs_and_spacers_buy(machine):
    load = {"bucket_load": machine.loader.rated_load * 0.5, "bucket_height": "full"}
    load["bucket_load"] = f"{load['bucket_load']} kg"
    low, high, wide = (
        tip(fit(machine, Outfit(**options))).lift_off_slope_deg
        for options in ({**load, "bucket_height": "carry"}, load, load | {"rear_spacer": "76 mm"})
    )
    assert high < wide
    assert high < low


def test_past_lift_off_there_is_no_rest_and_it_says_so(machine):
    fitted = fit(machine, Outfit())
    lift = np.radians(tip(fitted).lift_off_slope_deg)
    before, after = tip(fitted, slope=lift - 1e-6), tip(fitted, slope=lift + 1e-6)
    assert before.wheel_loads_n is not None
    assert before.energy_to_tip_j >= 0
    assert after.wheel_loads_n is None
    assert after.energy_to_tip_j is None
    assert after.critical_roll_rate_rad_s is None
    assert any("no rest on four wheels" in note for note in after.notes)
    assert not any("no rest on four wheels" in note for note in before.notes)


def test_a_grade_too_steep_gives_no_number_but_a_reason(machine):
    report = tip(fit(machine, Outfit()), grade=np.radians(70.0))
    assert report.lift_off_slope_deg is None
    assert report.overturn_slope_deg is None
    assert report.wheel_loads_n is None
    assert any("tips backward" in reason for reason in report.flaws)


def test_low_friction_is_noted(machine):
    fitted = fit(machine, Outfit())
    slope = np.radians(12.0)
    assert any("slides" in note for note in tip(fitted, slope=slope, friction=0.2).notes)
    assert not any("slides" in note for note in tip(fitted, slope=slope, friction=0.3).notes)


def test_on_ice_it_slides_on_any_slope(machine):
    report = tip(fit(machine, Outfit()), friction=0.0)
    assert report.slide_slope_deg == 0.0


@pytest.mark.parametrize(
    ("options", "word"),
    [
        ({"slope": -0.1}, "slope: -5.7"),
        ({"slope": np.nan}, "slope: nan"),
        ({"grade": 1.6}, "grade: 91.6"),
        ({"grade": np.pi / 2}, "grade: 90"),
        ({"slope": np.pi / 2}, "slope: 90"),
        ({"friction": -0.1}, "friction: -0.1"),
        ({"downhill": "north"}, 'downhill: "north"'),
    ],
)
def test_bad_input_is_named(options, word):
    with pytest.raises(InputError, match=word):
        tip(fit(load_machine("bramble"), Outfit()), **options)


def test_the_centre_of_gravity_is_the_machines(machine):
    fitted = fit(machine, Outfit(rear_ballast="100 kg"))
    report = tip(fitted)
    assert report.cg_m == pytest.approx(tuple(fitted.cg))


def test_it_says_that_a_parked_machine_slides(machine):
    fitted = fit(machine, Outfit())
    told = "with friction 0.20 a parked machine slides here"
    assert told in tip(fitted, slope=0.21, friction=0.2).notes
    assert told not in tip(fitted, slope=0.19, friction=0.2).notes
    assert told in tip(fitted, slope=0.15, grade=-0.15, friction=0.2).notes


def test_any_slope_short_of_the_upright_is_answered(machine):
    assert tip(fit(machine, Outfit()), slope=radians(89.9)).wheel_loads_n is None


def test_on_the_level_if_no_slope_is_given(machine):
    fitted = fit(machine, Outfit())
    assert tip(fitted) == tip(fitted, slope=0.0, grade=0.0, friction=0.7, downhill="right")


def test_it_says_where_the_axle_stop_does_not_catch_the_fall(machine):
    """With much swing the second stage is no steeper than lift-off."""
    free = machine.with_values({"front_axle.swing": radians(25.0)})
    told = "past lift-off it goes over: its axle stop does not catch the fall"
    loose, tight = (tip(fit(one, Outfit())) for one in (free, machine))
    assert (told in loose.notes) is (loose.overturn_slope_deg <= loose.lift_off_slope_deg)
    assert (told in tight.notes) is (tight.overturn_slope_deg <= tight.lift_off_slope_deg)
    assert told in loose.notes


def test_it_says_which_wheel_lifts_first(machine):
    fitted = fit(machine, Outfit())
    assert tip(fitted).lifts_first == "rear_left"
    assert tip(fitted, downhill="left").lifts_first == "rear_right"
    wide = fit(machine, Outfit(rear_spacer="400 mm", rear_ballast="600 kg"))
    report = tip(wide)
    assert report.lifts_first == "front_left"
    assert report.overturn_slope_deg == report.lift_off_slope_deg  # no more is claimed
    assert report.energy_to_tip_j is None
    assert report.lift_off_slope_deg <= report.rigid_slope_deg
    assert any("a front wheel is the first to lift" in note for note in report.notes)


@pytest.mark.parametrize(
    ("outfit", "word"),
    [
        ({"bucket_load": "2500 kg"}, "tips forward"),
        ({"rear_ballast": "2500 kg"}, "tips backward"),
    ],
)
def test_a_machine_that_goes_over_an_axle_is_told_plainly(machine, outfit, word):
    report = tip(fit(machine, Outfit(**outfit)))
    assert len(report.flaws) == 1  # nothing about its sides, which nobody asked
    assert word in report.flaws[0]
    assert report.wheel_loads_n is None
    assert report.lift_off_slope_deg is None
    assert report.lifts_first is None
