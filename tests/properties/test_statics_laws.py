"""Laws of the statics, from the machine file to the figures that are reported."""

from math import cos, isfinite, tan
from typing import Any

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from properties.generated import between, fitted_of, machine_tables, outfit_tables

from sidehill.machine.fitted import Fitted
from sidehill.statics.report import TipReport, tip
from sidehill.statics.tipping import GRAVITY

SLOPES = (
    *("lift_off_slope_deg", "second_stage_slope_deg", "overturn_slope_deg"),
    "rigid_slope_deg",
)
NOISE = 5e-6  # [deg] without swing the fall-through slope is the root of a rounding error


def report(fitted: Fitted, **asked: Any) -> TipReport:
    """Its statics; machines without a tip slope are another test's."""
    found = tip(fitted, **asked)
    assume(found.lift_off_slope_deg is not None)
    return found


def changed(table: dict[str, Any], field: str, value: Any) -> dict[str, Any]:
    """A copy of the table with a dotted field set."""
    name, _, rest = field.partition(".")
    return table | {name: changed(table[name], rest, value) if rest else value}


def lift_off(machine: dict[str, Any], outfit: dict[str, Any]) -> float:
    found = report(fitted_of(machine, outfit)).lift_off_slope_deg
    assert found is not None
    return found


@given(machine_tables(), outfit_tables(), between(0.001, 0.15))
def test_wider_rear_wheels_never_lower_lift_off(machine, outfit, wider):
    """With the spacers' own weight as it is by default; heavy ones by the same width, too."""
    outfit = {k: v for k, v in outfit.items() if k != "spacer_mass"}
    wide = outfit | {"rear_spacer": outfit["rear_spacer"] + wider}
    assert lift_off(machine, wide) > lift_off(machine, outfit)


@given(machine_tables(), outfit_tables(), between(0.001, 0.15))
def test_a_wider_rear_tread_without_new_parts_never_lowers_any_slope(machine, outfit, wider):
    track = machine["rear_tyre"]["track"]
    before = report(fitted_of(machine, outfit | {"rear_track": track}))
    after = report(fitted_of(machine, outfit | {"rear_track": track + 2.0 * wider}))
    for name in SLOPES:
        assert getattr(after, name) >= getattr(before, name) - NOISE, name


@given(machine_tables(), outfit_tables(), between(0.001, 0.1))
def test_front_spacers_leave_lift_off_alone(machine, outfit, wider):
    """Where a rear wheel lifts first; the few whose front wheel does gain by a wider one."""
    assume("front" not in str(report(fitted_of(machine, outfit)).lifts_first))
    wide = outfit | {"front_spacer": outfit["front_spacer"] + wider}
    assert lift_off(machine, wide) == pytest.approx(lift_off(machine, outfit), abs=NOISE)


@given(machine_tables(), outfit_tables(), between(0.001, 0.3))
def test_a_higher_cg_never_raises_a_slope_nor_the_energy(machine, outfit, higher):
    low = report(fitted_of(machine, outfit))
    height = machine["weighed"]["cg_height"] + higher
    high = report(fitted_of(changed(machine, "weighed.cg_height", height), outfit))
    for name in ("lift_off_slope_deg", "overturn_slope_deg", "rigid_slope_deg"):
        assert getattr(high, name) <= getattr(low, name) + NOISE, name


@given(machine_tables(), outfit_tables(), between(0.0, 0.3), between(-0.15, 0.15))
def test_mirrored_machines_mirror_their_answer(machine, outfit, slope, grade):
    """The CG the other way, the other side downhill: all figures alike, wheels changed over."""
    offset = machine["weighed"]["cg_offset"]
    other = changed(machine, "weighed.cg_offset", -offset)
    right = report(fitted_of(machine, outfit, "right"), slope=slope, grade=grade)
    left = report(fitted_of(other, outfit, "left"), slope=slope, grade=grade, downhill="left")
    for name in (*SLOPES, "energy_to_tip_j", "critical_roll_rate_rad_s", "grade_hold_deg"):
        a, b = getattr(right, name), getattr(left, name)
        assert (a is None) == (b is None)
        assert a is None or a == pytest.approx(b, rel=1e-9, abs=NOISE), name
    assert (right.wheel_loads_n is None) == (left.wheel_loads_n is None)
    for wheel, load in (right.wheel_loads_n or {}).items():
        end, _, side = wheel.partition("_")
        other_side = {"left": "right", "right": "left"}[side]
        assert (left.wheel_loads_n or {})[f"{end}_{other_side}"] == pytest.approx(load, abs=1e-6)


MASSES = (
    *("weighed.front_axle", "weighed.rear_axle", "weighed.roll_inertia"),
    *("front_axle.mass", "front_tyre.mass", "rear_tyre.mass"),
)
CARRIED = ("spacer_mass", "operator", "rear_wheel_weight", "rear_ballast", "front_weight")


@given(machine_tables(), outfit_tables(), between(0.6, 1.6), between(0.0, 0.2))
def test_scaling_all_masses_changes_no_angle(machine, outfit, factor, slope):
    light, heavy = machine, machine
    for field in MASSES:
        table, _, name = field.partition(".")
        heavy = changed(heavy, field, factor * machine[table][name])
    more = {name: factor * outfit[name] for name in CARRIED}
    density = 1000.0
    fills = [outfit | {"liquid": density}, outfit | more | {"liquid": factor * density}]
    a = report(fitted_of(light, fills[0]), slope=slope)
    b = report(fitted_of(heavy, fills[1]), slope=slope)
    for name in SLOPES:
        assert getattr(b, name) == pytest.approx(getattr(a, name), abs=NOISE), name
    assert b.mass_kg == pytest.approx(factor * a.mass_kg)
    for name in ("energy_to_tip_j", "wheel_loads_n"):
        assert (getattr(a, name) is None) == (getattr(b, name) is None)
    if a.energy_to_tip_j is not None:
        assert b.energy_to_tip_j == pytest.approx(factor * a.energy_to_tip_j)
    for wheel, load in (a.wheel_loads_n or {}).items():
        assert (b.wheel_loads_n or {})[wheel] == pytest.approx(factor * load, rel=1e-9, abs=1e-6)


@given(machine_tables(), outfit_tables(), between(0.0, 0.6), between(-0.2, 0.2))
def test_loads_carry_the_weight_or_are_not_given_and_that_is_said(machine, outfit, slope, grade):
    found = report(fitted_of(machine, outfit), slope=slope, grade=grade)
    loads = found.wheel_loads_n
    if loads is None:
        said = " ".join(found.notes)
        assert "no rest on four wheels" in said or "wheel loads have no value" in said
        return
    into_ground = (1.0 + tan(slope) ** 2 + tan(grade) ** 2) ** -0.5
    assert min(loads.values()) >= 0.0
    assert sum(loads.values()) == pytest.approx(GRAVITY * found.mass_kg * into_ground)


@given(machine_tables(), outfit_tables())
def test_overturn_is_never_told_above_the_second_stage_nor_below_lift_off(machine, outfit):
    found = report(fitted_of(machine, outfit))
    lift, second, over = (getattr(found, name) for name in SLOPES[:3])
    assert lift - NOISE <= over <= max(lift, second) + NOISE
    assert 0.0 < lift < 90.0


@given(machine_tables(), outfit_tables(), st.lists(between(0.0, 0.5), min_size=2, max_size=2))
def test_energy_to_tip_only_falls_with_slope(machine, outfit, slopes):
    fitted = fitted_of(machine, outfit)
    gentle, steep = (report(fitted, slope=slope).energy_to_tip_j for slope in sorted(slopes))
    if gentle is None:  # past lift-off there is none, and none beyond
        assert steep is None
    elif steep is not None:
        assert 0.0 <= steep <= gentle + 1e-9


@given(machine_tables(), outfit_tables(), between(0.0, 1.0), between(-0.7, 0.7))
def test_every_figure_is_finite_or_missing_with_a_reason(machine, outfit, slope, grade):
    found = tip(fitted_of(machine, outfit), slope, grade)
    data = found.to_dict()
    for name, value in data.items():
        if isinstance(value, float):
            assert isfinite(value), name
    if None in data.values():
        reasons = ("no rest", "no value", "tips", "above 0", "negative", "no lift-off")
        assert any(word in note for note in (*found.notes, *found.flaws) for word in reasons)
    assert cos(slope) > 0.0
