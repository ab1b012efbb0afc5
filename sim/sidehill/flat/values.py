"""The numbers of a case: one record, filled table by table."""

from itertools import pairwise
from math import ceil, inf, pi, radians, sqrt, tan

import numpy as np

from sidehill.case import Case
from sidehill.flat.discs import discs
from sidehill.flat.hung import fill_hung
from sidehill.flat.mechanism import Mechanism
from sidehill.flat.servo import servo
from sidehill.kernels.bristle import SHEAR_DAMPING
from sidehill.kernels.layout import (
    ALWAYS,
    CASE,
    FALL,
    HOLD,
    LOWER,
    NEVER,
    ONCE_BRAKED,
    Records,
    blank,
)
from sidehill.machine.fitted import Array, Fitted
from sidehill.machine.linkage import WHEELS
from sidehill.machine.loader import arm_angle
from sidehill.machine.pressure import stiffnesses
from sidehill.scenario.drive import Driving
from sidehill.scenario.file import Scenario
from sidehill.statics.tipping import GRAVITY
from sidehill.terrain.build import laid
from sidehill.terrain.course import way

STOP_STIFFNESS, STOP_DAMPING = 5e5, 4e3  # [N m/rad], [N m s/rad] of the axle stop
RELAXATION = 0.15  # [m] of the tyre
STOP_SHARE = 0.5  # of the axle's inertia over a step, that its damper may be (stable under 1)
SETTLE_RATIO = 1.2  # damping ratio of the tyres while gravity turns
# [s] over which gravity turns to 30 deg; longer in proportion to the slope's root, so that what
# the turning itself takes off the uphill wheel stays small (0.1 deg of starting slope at most)
RAMP_30, SHORTEST_RAMP = 6.0, 3.0
LEVEL_TIME = 1.0  # [s] under a tilt table, which starts level
LONGEST_SETTLING = 20.0  # [s]
EXTRA_TIME = 10.0  # [s] more for a machine that is still falling
STEER_LAG = 0.15  # [s]
SPEED_TIME = 0.3  # [s] in which the drive makes up a lack of speed
LINE_RATE, LINE_RESET = 0.7, 0.3  # [rad/m], [1/m] how the driver holds the path
TILT_RATE = radians(0.1)  # [rad/s] of the tilt table near an event
LEAST_RAYS = {"point": 17, "enveloping": 65}  # a scan that is refined; a sum over columns
LOWER_TIME = 1.5  # [s] over which a body being lowered gains on its damper


def case_values(case: Case, made: Mechanism, features_end: float) -> Records:
    """(1,) CASE record.

    Args:
        features_end: [m] path length at which the last wheel has left the last feature that lies
            on the wheels' way; -inf if none does.
    """
    record = blank(CASE)
    values, fitted = record[0], made.fitted
    _fill_clock(values, case.scenario, features_end)
    _fill_ground(values, case.scenario)
    _fill_tyres(values, case, made.level_loads)
    _fill_drive(values, case, fitted.mass)
    _fill_brakes(values, case)
    _fill_ties(values, made)
    _soften_settling(values, made)
    _fill_course(values, case.scenario)
    _fill_loader(values, case, made.lifted)
    _fill_gives(values, case.scenario, fitted)
    fill_hung(values, case, made)
    values["swing"] = fitted.swing
    # lowered: as slowly as its weight asks, if the step resolves it; held: as a servo holds
    slow = LOWER_TIME * GRAVITY * fitted.mass * fitted.cg[2]
    values["lower_damping"] = min(slow, made.axle / values["step"])
    values["hold_stiffness"], values["hold_damping"] = servo(made.axle)
    # as hard as the stop is, unless a light axle would chatter on it: what the step resolves
    values["stop_damping"] = min(STOP_DAMPING, STOP_SHARE * made.axle / values["step"])
    values["stop_stiffness"] = STOP_STIFFNESS
    return record


def _fill_clock(values: Records, scenario: Scenario, features_end: float) -> None:
    step = scenario.run.step
    values["step"], values["row_steps"] = step, scenario.run.steps_a_row
    values["driver_steps"] = max(1, round(0.01 / step))
    on_table = scenario.course.is_tilt_table
    values["settle_most"] = LONGEST_SETTLING
    root = sqrt(scenario.ground.slope / radians(30.0))
    values["ramp"] = LEVEL_TIME if on_table else max(RAMP_30 * root, SHORTEST_RAMP)
    most = 1000.0  # [s] on a tilt table
    if scenario.course.length is not None:
        whole = max(scenario.course.length, features_end)
        most = 8.0 + 3.0 * _usual_time(scenario.drive, whole)
    values["most_steps"], values["extra_steps"] = ceil(most / step), ceil(EXTRA_TIME / step)
    values["features_end"] = features_end


def _usual_time(drive: Driving, length: float) -> float:
    """[s] that the way takes at the wanted speed, the lower one between two places."""
    places = [*drive.speeds, (inf, drive.speeds[-1][1])]
    return sum(
        max(0.0, min(end, length) - start) / max(min(speed, later), 0.1)
        for (start, speed), (end, later) in pairwise(places)
    )


def _fill_ground(values: Records, scenario: Scenario) -> None:
    ground = scenario.ground
    values["gravity"] = GRAVITY
    # a tilt table starts level and is turned up to the slope
    values["slope"] = 0.0 if scenario.course.is_tilt_table else ground.slope
    values["grade_tan"] = tan(ground.grade)
    values["downhill"] = 1.0 if ground.downhill == "right" else -1.0
    values["friction"] = ground.friction
    values["rolling_resistance"] = ground.rolling_resistance
    values["rough"] = float(scenario.is_uneven)
    values["bends"] = float(scenario.heights is not None)


def _fill_tyres(values: Records, case: Case, loads: Array) -> None:
    ground, settings = case.scenario.ground, case.settings
    front, rear = stiffnesses(case.machine, case.outfit)
    for i, wheel in enumerate(WHEELS):
        tyre = case.machine.front_tyre if wheel.startswith("front") else case.machine.rear_tyre
        hard = front if tyre is case.machine.front_tyre else rear
        stiffness = 1.0 / (1.0 / hard + ground.compliance)
        ratio = tyre.lateral_ratio if settings.lateral_ratio is None else settings.lateral_ratio
        values["radius"][i], values["section"][i] = tyre.radius, tyre.width
        values["stiffness"][i] = stiffness
        values["damping"][i] = 2.0 * tyre.damping_ratio * sqrt(stiffness * loads[i] / GRAVITY)
        values["shear"][i] = ratio * hard
    values["level_load"] = loads
    values["discs"] = discs(case)
    values["relaxation"] = RELAXATION
    stiffest = max(case.machine.front_tyre.damping_ratio, case.machine.rear_tyre.damping_ratio)
    values["settle_damping"] = max(1.0, SETTLE_RATIO / stiffest)
    extents = [feature.extent for feature in case.scenario.feature]
    if case.scenario.heights is not None:
        extents.append(2.0 * case.scenario.heights.spacing)  # one place that stands out
    shortest = min(extents, default=inf)
    arc = pi * float(max(values["radius"]))
    law = case.scenario.run.tyre
    values["envelops"] = float(law == "enveloping")
    usual = max(LEAST_RAYS[law], ceil(4.0 * arc / shortest) + 1)
    values["rays"] = settings.fineness * (usual - 1) + 1


def _fill_drive(values: Records, case: Case, mass: float) -> None:
    machine, drive = case.machine, case.scenario.drive
    values["speed"], values["hold_speed"] = drive.speed, float(drive.hold != "coast")
    values["slowest"] = min(speed for _, speed in drive.speeds)
    if drive.then is not None:
        values["speeds"] = len(drive.speeds)
        for i, (at, speed) in enumerate(drive.speeds):
            values["speed_at"][i], values["speed_there"][i] = at, speed
    values["pushed"], values["push_gain"] = float(drive.hold == "pushed"), mass / SPEED_TIME
    values["drive_most"] = machine.drive.max_torque
    values["drive_gain"] = mass / SPEED_TIME * values["radius"][2]
    values["drive_reset"] = 1.0
    values["shaft"] = float(has_front_drive(case))
    values["locked"] = float(drive.differential == "locked")
    values["wheelbase"] = machine.body.wheelbase
    values["steer_most"], values["steer_lag"] = machine.steering.max_angle, STEER_LAG
    values["line_rate"], values["line_reset"] = LINE_RATE, LINE_RESET
    values["crab"], values["crab_steer"] = _crab(values)


def _soften_settling(values: Records, made: Mechanism) -> None:
    """The heavy damping of settling, no harder than the step resolves on the front axle's roll."""
    half, high = made.fitted.front_track / 2.0, made.fitted.machine.front_axle.pivot_height
    per_damping = 2.0 * (half**2 + SHEAR_DAMPING * high**2)
    most = STOP_SHARE * made.axle / values["step"] / (values["damping"][0] * per_damping)
    values["settle_damping"] = max(1.0, min(float(values["settle_damping"]), float(most)))


def has_front_drive(case: Case) -> bool:
    """Whether the front drive is engaged: as the scenario says, else where the machine has one."""
    asked = case.scenario.drive.four_wheel
    return case.machine.drive.driven == "four" if asked is None else asked


def _fill_brakes(values: Records, case: Case) -> None:
    machine, drive = case.machine, case.scenario.drive
    braked = np.array([machine.drive.brakes == "all"] * 2 + [True] * 2, dtype=float)
    values["parking"] = machine.drive.brake_torque * braked / braked.sum()
    values["held"] = float(not case.scenario.course.is_tilt_table)
    values["brake_at"] = values["brake_time"] = inf
    values["stand"] = ALWAYS if drive.speed == 0.0 or drive.hold == "coast" else NEVER
    if drive.brake is None:
        return
    values["brake_at"] = drive.brake.at
    values["declutch"] = float(drive.brake.wheels == "both")
    if drive.brake.let_go is not None:
        values["brake_time"] = drive.brake.let_go
    if values["stand"] == NEVER and drive.brake.is_a_stand:
        values["stand"] = ONCE_BRAKED
    values["braking"] = values["parking"] * _braked_side(drive.brake.wheels, case.scenario)


def _fill_ties(values: Records, made: Mechanism) -> None:
    by_name = {link.name: link for link in made.links}
    spins = [by_name[f"wheel_{wheel}"].inertia[1, 1] for wheel in WHEELS]
    values["spin_inertia"] = spins
    ties = [servo(float(spin)) for spin in spins]
    values["brake_stiffness"] = [stiffness for stiffness, _ in ties]
    values["brake_damping"] = [damping for _, damping in ties]
    values["lock_stiffness"], values["lock_damping"] = servo(float(spins[2]) / 2.0)
    # the shaft ties the axles' mean rims: two wheels each as masses at their rims, in series
    masses = [2.0 * float(spins[i]) / values["radius"][i] ** 2 for i in (0, 2)]
    values["shaft_stiffness"], values["shaft_damping"] = servo(1.0 / sum(1.0 / m for m in masses))
    values["steer_stiffness"], values["steer_damping"] = servo(made.knuckle)
    values["kingpins"] = 2.0 * by_name["knuckle_left"].origin[1]


def _crab(values: Records) -> tuple[float, float]:
    """[rad] heading and steer angle, left positive, that hold the slope while rolling.

    In steady rolling a bristle's side force is shear times relaxation length times slip.
    """
    side_force = values["level_load"] * np.sin(values["slope"]) * values["downhill"]
    slip = np.arctan(side_force / (values["shear"] * values["relaxation"]))
    front_left, front_right, rear_left, rear_right = slip.tolist()
    crab = 0.5 * (rear_left + rear_right)
    return crab, 0.5 * (front_left + front_right) - crab


def _braked_side(wheels: str, scenario: Scenario) -> Array:
    """(4,) 1 for each wheel on the side that is braked."""
    uphill_left = scenario.ground.downhill == "right"
    left = wheels == "both" or (wheels == "uphill") == uphill_left
    right = wheels == "both" or (wheels == "uphill") != uphill_left
    return np.array([left, right] * 2, dtype=float)


def _fill_course(values: Records, scenario: Scenario) -> None:
    course = scenario.course
    pieces = way(scenario).pieces
    values["pieces"] = len(pieces)
    for i, piece in enumerate(pieces):
        values["piece_at"][i], values["piece_place"][i] = piece.at, (piece.x, piece.y)
        values["piece_heading"][i], values["piece_curvature"][i] = piece.heading, piece.bend
    values["length"] = inf if course.length is None else course.length
    brake, lifts = scenario.drive.brake, scenario.loader
    ends = [brake.at] if brake is not None else []
    ends += [lifts.height[-1][0]] if lifts is not None else []
    values["schedule_end"] = max(ends, default=0.0)
    values["tilt_rate"] = TILT_RATE
    values["tilt_mode"] = {"fall": FALL, "lower": LOWER, "release": HOLD}[course.method]
    values["tilt_most"] = scenario.ground.slope


def _fill_loader(values: Records, case: Case, lifted: tuple[float, ...]) -> None:
    schedule, loader = case.scenario.loader, case.machine.loader
    if schedule is None or loader is None:
        return
    values["lift_points"] = len(schedule.height)
    for i, (at, height) in enumerate(schedule.height):
        wanted = case.outfit.bucket_height if height == "as fitted" else height
        values["lift_at"][i], values["lift_angle"][i] = at, arm_angle(loader, wanted)
    for i, inertia in enumerate(lifted):
        values["lift_stiffness"][i], values["lift_damping"][i] = servo(inertia)


def _fill_gives(values: Records, scenario: Scenario, fitted: Fitted) -> None:
    giving = [
        (row, feature.height, feature.time)
        for row, (_, feature) in enumerate(laid(scenario, fitted))
        if feature.kind.gives
    ]
    values["gives"] = len(giving)
    for n, (row, depth, time) in enumerate(giving):
        values["give_row"][n], values["give_depth"][n], values["give_time"][n] = row, depth, time
