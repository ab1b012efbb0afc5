"""Compliant statics against the rigid closed form, and the sign of each tyre effect."""

from math import degrees, isnan, radians

import pytest
from population import MACHINES

from sidehill.case import Case, Settings
from sidehill.flat import Flat, flatten
from sidehill.machine.file import Machine, load_machine
from sidehill.machine.outfit import Outfit
from sidehill.rest import Rest, rest_slopes
from sidehill.scenario.file import load_scenario
from sidehill.statics.assembly import from_fitted
from sidehill.statics.loads import wheel_loads
from sidehill.statics.slopes import lift_off_slope, second_stage_slope

STIFF = 1e7  # [N/m]


def stiff_flat(name: str, stiffness: float = STIFF) -> Flat:
    """A machine on hard thin tyres, with an axle stop that hardly gives."""
    machine = load_machine(name).with_values(
        {"front_tyre.stiffness": stiffness, "rear_tyre.stiffness": stiffness}
    )
    settings = Settings(discs=1, lateral_ratio=3.0)
    flat = flatten(Case(machine, load_scenario("tilt-table"), Outfit(), settings))
    flat.case["stop_stiffness"] = 1e8  # a stop that gives adds to the swing
    return flat


def lift_off(machine: Machine, **settings: float) -> float:
    case = Case(machine, load_scenario("tilt-table"), Outfit(), Settings(**settings))
    return degrees(rest_slopes(flatten(case)).lift_off)


@pytest.mark.parametrize("name", MACHINES)
def test_stiff_thin_tyres_give_the_rigid_slopes(name: str) -> None:
    """What is left of the tyres' give is in proportion to it: carried on to none."""
    hard, half = (rest_slopes(stiff_flat(name, k)) for k in (STIFF, STIFF / 2))
    rigid = from_fitted(stiff_flat(name).fitted)
    lift = degrees(2 * hard.lift_off - half.lift_off)
    assert lift == pytest.approx(degrees(lift_off_slope(rigid)), abs=0.02)
    # round discs pitch about their hubs instead of standing on a point: 0.1 deg (derived)
    second = degrees(2 * hard.second_stage - half.second_stage)
    assert second == pytest.approx(degrees(second_stage_slope(rigid)), abs=0.1)


@pytest.mark.parametrize("name", MACHINES)
def test_stiff_tyres_give_the_rigid_wheel_loads(name: str) -> None:
    rest = Rest(stiff_flat(name))
    for _ in range(20):
        assert rest.move(rest.slope + 0.01)
    expected = wheel_loads(from_fitted(rest.flat.fitted), rest.slope)
    assert rest.uphill_loads[0] == pytest.approx(float(expected.front_up), rel=0.01)
    assert rest.uphill_loads[1] == pytest.approx(float(expected.rear_up), rel=0.01)


def test_each_tyre_effect_has_its_sign() -> None:
    """Lateral give lowers lift-off, section width raises it, vertical give lowers it."""
    bramble = load_machine("bramble")
    by_ratio = [lift_off(bramble, lateral_ratio=ratio) for ratio in (0.4, 0.5, 0.8, 10.0)]
    assert by_ratio == sorted(by_ratio)
    assert by_ratio[-1] - by_ratio[1] > 1.0  # 1 to 2.5 deg on the unsafe side if left out
    assert lift_off(bramble, discs=5) > lift_off(bramble, discs=1)
    soft, hard = (
        lift_off(
            bramble.with_values({"front_tyre.stiffness": k, "rear_tyre.stiffness": k}),
            lateral_ratio=10.0,
        )
        for k in (150e3, 300e3)
    )
    assert soft < hard


def test_falling_away_on_soft_ground_is_no_slide_and_sliding_has_no_lift_off() -> None:
    case = Case(load_machine("sorrel"), load_scenario("tilt-table"), Outfit(bucket_load="138 kg"))
    hard = rest_slopes(flatten(case))
    soft = rest_slopes(flatten(case.with_scenario({"ground.stiffness": 5e4})))
    assert hard.carried == 0.0
    assert soft.carried > 0.0
    assert 0.0 < soft.lift_off < hard.lift_off
    low = load_machine("bramble").with_values({"weighed.cg_height": 0.36})
    wide = Outfit(rear_spacer="400 mm", front_spacer="400 mm", operator="0 kg")
    slid = rest_slopes(flatten(Case(low, load_scenario("tilt-table"), wide)))
    assert isnan(slid.lift_off) and slid.carried > 0.0


@pytest.mark.parametrize("name", MACHINES)
def test_a_loader_that_is_to_move_rests_where_its_schedule_begins(name: str) -> None:
    """Held there by its servo, it lifts where the same loader does that is fitted there."""
    bank = load_scenario("raise-on-bank").with_values({"ground.slope": 0.0, "ground.friction": 1.2})
    fitted, moved = (Outfit(bucket_load="100 kg", bucket_height=h) for h in ("full", "carry"))
    lifting = bank.with_values({"loader.height": [[0.0, "full"], [4.0, "carry"]]})
    still = bank.with_values({"loader": None})
    held = rest_slopes(flatten(Case(load_machine(name), lifting, moved)))
    fixed = rest_slopes(flatten(Case(load_machine(name), still, fitted)))
    for slope in ("lift_off", "second_stage", "comes_back"):
        assert getattr(held, slope) == pytest.approx(getattr(fixed, slope), abs=radians(1e-3))
