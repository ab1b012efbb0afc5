"""Froude scaling: a model of one n-th the size, its speed over the square root of n, leans as far.

Takeuchi et al. 1971, JSAM 33(3) 230-238 (abstract): scale models over an obstacle on a contour.
With gravity the only constant that has a unit, every length, time and mass of a run scales by its
dimension. Sizes are powers of 4, so that nothing is lost in rounding: a constant with a unit that
hides in a kernel breaks this law at once.
"""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import assume, given, settings
from properties.generated import case_of, course_tables, machine_tables, outfit_tables

from sidehill.case import Case
from sidehill.engines import open_engine
from sidehill.files.errors import InputError
from sidehill.flat import Flat, flatten
from sidehill.kernels.height import FLANK, HALF_LENGTH, HALF_WIDTH, HEIGHT, Ground, X, Y
from sidehill.kernels.layout import Records, Vector
from sidehill.machine.file import load_machine
from sidehill.run.stages import drive, launch, settle
from sidehill.run.track import Track
from sidehill.scenario.file import load_scenario

SIZES = (0.25, 4.0)  # of the model over the machine's
ROLL = 1e-9  # [deg]
ROLLS_FREE = {"rolling_resistance": 0.0}  # it fades below a speed [m/s] that no size scales
# exponents of the size by dimension: mass as its cube, time as its root
LENGTH, MASS, INERTIA, TIME, SPEED, RATE = 1.0, 3.0, 5.0, 0.5, 0.5, -0.5
FORCE, SPRING, DAMPER, TORQUE, TURN_DAMPER = 3.0, 2.0, 2.5, 4.0, 4.5

CASE = {
    **dict.fromkeys(("step", "ramp", "settle_most", "brake_time", "steer_lag", "give_time"), TIME),
    **dict.fromkeys(
        ("radius", "section", "relaxation", "brake_at", "wheelbase", "kingpins",
         "speed_at", "piece_at", "piece_place",
         "length", "features_end", "schedule_end", "lift_at", "give_depth", "hook", "rope"),
        LENGTH,
    ),
    **dict.fromkeys(("stiffness", "shear", "rope_stiffness"), SPRING),
    **dict.fromkeys(("damping", "rope_damping", "sway_damping"), DAMPER),
    "hung_mass": MASS,
    "level_load": FORCE,
    **dict.fromkeys(
        ("stop_stiffness", "drive_most", "lock_stiffness", "parking", "braking",
         "brake_stiffness", "steer_stiffness", "lift_stiffness", "hold_stiffness"),
        TORQUE,
    ),
    **dict.fromkeys(
        ("stop_damping", "lock_damping", "brake_damping", "steer_damping", "lift_damping",
         "hold_damping", "lower_damping"),
        TURN_DAMPER,
    ),
    **dict.fromkeys(("speed", "slowest", "speed_there"), SPEED),
    "drive_gain": TORQUE - SPEED,
    "push_gain": FORCE - SPEED,
    "shaft_stiffness": SPRING,
    "shaft_damping": DAMPER,
    "spin_inertia": INERTIA,
    "drive_reset": RATE,
    **dict.fromkeys(("line_rate", "line_reset", "piece_curvature"), -LENGTH),
    "tilt_rate": RATE,
}  # fmt: skip
NUMBERS = {  # the same at any size: counts, ratios, angles, words, gravity
    "row_steps", "driver_steps", "most_steps", "gravity", "slope", "grade_tan", "downhill",
    "friction", "rolling_resistance", "discs", "envelops", "bends", "rays", "settle_damping",
    "swing", "hold_speed", "pushed", "shaft", "locked", "extra_steps", "stand", "rough", "held",
    "declutch", "steer_most", "crab", "crab_steer",
    "speeds", "pieces", "piece_heading", "lift_points", "lift_angle",
    "tilt_most", "tilt_mode", "gives", "give_row", "hook_body",
}  # fmt: skip
STATE = {
    **dict.fromkeys(
        ("position", "bristle", "drive_integral", "path", "off_path", "hung_place"), LENGTH
    ),
    **dict.fromkeys(("velocity", "hub_velocity_before", "hung_velocity"), SPEED),
    **dict.fromkeys(("turning", "rate", "hub_turning_before", "rate_before"), RATE),
    "steer_integral": 2.0 * LENGTH,
    "drive_torque": TORQUE,
    "load": FORCE,
}
MODEL = {"origin": LENGTH, "mass": MASS, "com": LENGTH, "inertia": INERTIA}


def model_of(flat: Flat, size: float) -> Flat:
    """The same machine and course at another size."""
    assert set(CASE) | NUMBERS == set(flat.case.dtype.names or ())
    case, model, rows = flat.case.copy(), flat.model.copy(), flat.ground.features.copy()
    for record, powers in ((case, CASE), (model, MODEL)):
        for name, power in powers.items():
            record[name] *= size**power
    for column in (X, Y, HALF_LENGTH, HALF_WIDTH, FLANK, HEIGHT):
        rows[:, column] *= size
    ground = Ground(rows, flat.ground.relief, flat.ground.place)
    # the compiled engine integrates about the first link's centre of mass
    first = replace(flat.links[0], com=flat.links[0].com * size)
    links = (first, *flat.links[1:])
    return replace(flat, case=case, model=model, ground=ground, links=links)


def standing(flat: Flat) -> Records | None:
    """(1,) state at the end of settling; None if it does not stand there."""
    with open_engine("compiled", flat) as engine:
        track = Track(flat, engine, engine.init(), flat.rows(), lambda _: None)
        return track.state.copy() if settle(track) else None


def driven(flat: Flat, start: Records, size: float) -> tuple[Vector, Vector]:
    """(n,) [deg] roll and (n, 4) loads over the level ones, from the start of an original."""
    with open_engine("compiled", flat) as engine:
        track = Track(flat, engine, engine.init(), flat.rows(), lambda _: None)
        track.state[:] = start
        for name, power in STATE.items():
            track.state[name] *= size**power
        launch(track)
        drive(track)
    rows = track.written()
    return np.degrees(rows["roll_slope"]), rows["load"] / flat.case["level_load"]


@given(
    case=machine_tables().flatmap(
        lambda machine: outfit_tables().flatmap(
            lambda outfit: course_tables(ground=ROLLS_FREE).map(
                lambda course: (machine, outfit, course)
            )
        )
    )
)
@settings(max_examples=12)
def test_a_model_leans_as_far_as_its_original(case: tuple[dict, dict, dict]) -> None:  # type: ignore[type-arg]
    try:
        flat = flatten(case_of(*case))
    except InputError:
        assume(False)
        raise
    start = standing(flat)
    assume(start is not None)
    assert start is not None
    roll, loads = driven(flat, start, 1.0)
    for size in SIZES:
        found = driven(model_of(flat, size), start, size)
        # what ends a run has units of its own: way and time of a stall, way off the path
        both = min(len(roll), len(found[0]))
        assert both > 200
        assert found[0][:both] == pytest.approx(roll[:both], abs=ROLL)
        assert found[1][:both] == pytest.approx(loads[:both], abs=1e-9)


def test_the_speed_is_part_of_it() -> None:
    """At its original's own speed a small model leans otherwise: the law has teeth."""
    flat = flatten(Case(load_machine("bramble"), load_scenario("bank-stone")))
    start, small = standing(flat), model_of(flat, 0.25)
    assert start is not None
    small.case["speed"] *= 2.0
    told, found = driven(flat, start, 1.0), driven(small, start, 0.25)
    assert abs(told[0].max() - found[0].max()) > 2.0
