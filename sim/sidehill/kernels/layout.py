"""The flat layouts that every kernel reads: model, case, state, scratch. All float64.

Each is one numpy record, so that a field has a name here and is a plain load in machine
code; `.view(float)` of a record array is the flat vector (copy = snapshot).
Bodies are numbered as below; body i > 0 hangs on one joint, number i - 1.
"""

from typing import Any

import numpy as np
from numpy.typing import NDArray

Vector = NDArray[np.float64]
Records = NDArray[np.void]  # (1,) one record

CHASSIS, AXLE, KNUCKLE_L, KNUCKLE_R = 0, 1, 2, 3
WHEEL_FL, WHEEL_FR, WHEEL_RL, WHEEL_RR = 4, 5, 6, 7
ARM, BUCKET = 8, 9
BODIES = 10  # with a loader that moves; else 8
JOINTS = BODIES - 1
PIN, STEER_L, STEER_R, SPIN, LIFT, CURL = 0, 1, 2, 3, 7, 8  # joints; SPIN + wheel

SETTLE, DRIVE, TILT, FALLING = range(4)  # stages
RUNNING, SETTLED, BROKEN, OVERTURNED = range(4)  # why a stage ends
SLID, STUCK, HALTED, LEANING, ACROSS, CUT = range(4, 10)
TURNED = 10  # a tilt table was turned as far as it goes
RESTED, ROLLED_ON, STILL_MOVING = 11, 12, 13  # how a fall ends
NEVER, ALWAYS, ONCE_BRAKED = range(3)  # when the scenario orders a stand
FALL, LOWER, HOLD = 0, 1, 2  # what a tilt table does with the body
TOUCHING = ("wheel", "hood", "seat", "roll bar", "bucket")  # what can meet the ground in a fall
POINT_BODY, POINT_X, POINT_Z, POINT_PART = 0, 1, 3, 4  # columns of the contact points
MOST_GIVES = 8  # patches of ground that may give way
MOST_SPEEDS = 256  # places of a schedule of speeds, the start among them
MOST_PIECES = 128  # pieces of a winding course, the first straight one among them
MOST_SPELLS = 64  # spells with a wheel up that are kept with their times

F8 = "<f8"


def _record(*fields: tuple[str, Any]) -> np.dtype[np.void]:
    """All-float64 record; a field is (name, shape), shape () for a scalar."""
    return np.dtype([(name, F8, shape) if shape else (name, F8) for name, shape in fields])


MODEL = _record(
    ("bodies", ()),  # count, 8 or 10
    ("parent", (BODIES,)),  # body number
    ("origin", (BODIES, 3)),  # [m] joint place in the parent's frame
    ("axis", (BODIES, 3)),  # unit vector of the joint
    ("mass", (BODIES,)),  # [kg]
    ("com", (BODIES, 3)),  # [m] link frame
    ("inertia", (BODIES, 3, 3)),  # [kg m^2] about the com, link axes
    ("angle", (JOINTS,)),  # [rad] joint angles as built
)

CASE = _record(
    ("step", ()),  # [s]
    ("row_steps", ()),  # steps between rows of the record
    ("driver_steps", ()),  # steps between two looks of the driver
    ("most_steps", ()),  # of the drive stage
    ("extra_steps", ()),  # more of them while it is still falling
    ("gravity", ()),  # [m/s^2]
    ("slope", ()),  # [rad] side slope
    ("grade_tan", ()),  # tangent of the grade, nose up positive
    ("downhill", ()),  # +1 right side downhill, -1 left
    ("friction", ()),
    ("rolling_resistance", ()),
    # tyres, by wheel
    ("radius", (4,)),  # [m]
    ("section", (4,)),  # [m] width over which the discs are spread
    ("discs", ()),  # thin discs per wheel
    ("envelops", ()),  # 1 the tyre envelops the ground, 0 it meets it at its deepest point
    ("rays", ()),  # rim points looked at
    ("stiffness", (4,)),  # [N/m] vertical, soft ground in series included
    ("damping", (4,)),  # [N s/m] vertical
    ("shear", (4,)),  # [N/m] bristle stiffness
    ("relaxation", ()),  # [m]
    ("level_load", (4,)),  # [N]
    ("settle_damping", ()),  # factor on the damping while settling
    # axle stop
    ("swing", ()),  # [rad] each way
    ("stop_stiffness", ()),  # [N m/rad]
    ("stop_damping", ()),  # [N m s/rad]
    # drive
    ("speed", ()),  # [m/s] wanted at the start; 0 parked
    ("slowest", ()),  # [m/s] wanted anywhere
    ("speeds", ()),  # count of the schedule's places; 0: one speed throughout
    ("speed_at", (MOST_SPEEDS,)),  # [m] path length, rising
    ("speed_there", (MOST_SPEEDS,)),  # [m/s]
    ("hold_speed", ()),  # 1 hold, 0 coast
    ("pushed", ()),  # 1: held by an ideal push along the path, not by the wheels
    ("push_gain", ()),  # [N per m/s]
    ("drive_most", ()),  # [N m] at the axles together
    ("drive_gain", ()),  # [N m per m/s]
    ("drive_reset", ()),  # [1/s] integral over proportional gain
    ("shaft", ()),  # 1 = front drive engaged: a shaft ties the axles' mean rim speeds
    ("shaft_stiffness", ()),  # [N/m] at the rims
    ("shaft_damping", ()),  # [N s/m]
    ("locked", ()),  # 1 = rear differential locked
    ("lock_stiffness", ()),  # [N m/rad]
    ("lock_damping", ()),  # [N m s/rad]
    # brakes, by wheel
    ("parking", (4,)),  # [N m] held while parked
    ("held", ()),  # 1: held on all wheels until it is set going
    ("braking", (4,)),  # [N m] held from brake_at on
    ("brake_at", ()),  # [m] path length; inf = never
    ("brake_time", ()),  # [s] after which the brakes are let go; inf = never
    ("declutch", ()),  # 1: no drive while braking
    ("brake_stiffness", (4,)),  # [N m/rad]
    ("brake_damping", (4,)),  # [N m s/rad]
    ("spin_inertia", (4,)),  # [kg m^2] of a wheel about its axle
    # steering
    ("wheelbase", ()),  # [m]
    ("kingpins", ()),  # [m] distance between the kingpins
    ("steer_most", ()),  # [rad]
    ("steer_lag", ()),  # [s]
    ("steer_stiffness", ()),  # [N m/rad] of each knuckle's linkage
    ("steer_damping", ()),  # [N m s/rad]
    ("crab", ()),  # [rad] heading at which the rear tyres' slip holds the slope, left positive
    ("crab_steer", ()),  # [rad] bicycle steer angle that goes with it
    ("line_rate", ()),  # [rad/m] how sharply the driver returns to the path
    ("line_reset", ()),  # [1/m] slow integral over proportional gain
    # course
    ("pieces", ()),  # count of its pieces, a straight one first
    ("piece_at", (MOST_PIECES,)),  # [m] path length at which each begins, rising
    ("piece_place", (MOST_PIECES, 2)),  # [m] x, y of the path there
    ("piece_heading", (MOST_PIECES,)),  # [rad] of the path there
    ("piece_curvature", (MOST_PIECES,)),  # [1/m] of each, left positive
    ("length", ()),  # [m] end of the course
    ("features_end", ()),  # [m] path length at which the last wheel has left the last feature
    ("schedule_end", ()),  # [m] path length at which brake, loader and turn have all come
    ("stand", ()),  # NEVER, ALWAYS or ONCE_BRAKED: when it is to stand for good
    ("rough", ()),  # 1 = the ground is rough
    ("bends", ()),  # 1 = its relief may bend more than a rim: searched as beside features
    # ground that gives way
    ("gives", ()),  # count of its patches
    ("give_row", (MOST_GIVES,)),  # of the ground's features
    ("give_depth", (MOST_GIVES,)),  # [m] in the end
    ("give_time", (MOST_GIVES,)),  # [s] over which it goes
    # a load on a rope from a hook at the bucket
    ("hung_mass", ()),  # [kg]; 0: none
    ("hook_body", ()),  # number of the body that carries the hook
    ("hook", (3,)),  # [m] in that body's frame
    ("rope", ()),  # [m]
    ("rope_stiffness", ()),  # [N/m]
    ("rope_damping", ()),  # [N s/m] along it
    ("sway_damping", (2,)),  # [N s/m] across it: while settling, and from then on
    # loader
    ("lift_points", ()),  # count of the schedule's points
    ("lift_at", (16,)),  # [m] path length, rising
    ("lift_angle", (16,)),  # [rad] arm angle there
    ("lift_stiffness", (2,)),  # [N m/rad] arm, bucket
    ("lift_damping", (2,)),  # [N m s/rad]
    # tilt table
    ("tilt_rate", ()),  # [rad/s]
    ("tilt_most", ()),  # [rad]
    ("tilt_mode", ()),  # FALL, LOWER or HOLD
    ("hold_stiffness", ()),  # [N m/rad] at the pin, HOLD before the release
    ("hold_damping", ()),  # [N m s/rad] at the pin, HOLD before the release
    ("lower_damping", ()),  # [N m s/rad] at the pin, LOWER
    # ramp of the settling
    ("ramp", ()),  # [s] time over which gravity turns
    ("settle_most", ()),  # [s]
)

STATE = _record(
    ("position", (3,)),  # [m] chassis frame origin, world
    ("quaternion", (4,)),  # x, y, z, w of the chassis
    ("joint", (JOINTS,)),  # [rad]
    ("velocity", (3,)),  # [m/s] of the chassis frame origin, world
    ("turning", (3,)),  # [rad/s] angular velocity of the chassis, world
    ("rate", (JOINTS,)),  # [rad/s]
    # rates of the step before, from which the dampers look half a step ahead
    ("hub_velocity_before", (4, 3)),  # [m/s]
    ("hub_turning_before", (4, 3)),  # [rad/s] without the spin
    ("rate_before", (JOINTS,)),  # [rad/s]
    ("bristle", (4, 2)),  # [m] longitudinal, lateral deflection
    ("brake_twist", (4,)),  # [rad]
    ("lock_twist", ()),  # [rad]
    ("shaft_twist", ()),  # [m] of the rims
    ("brake_step", ()),  # step at which the driver braked; 0: not yet
    ("steer", ()),  # [rad] bicycle angle reached by the linkage
    ("steer_target", ()),  # [rad] asked by the driver
    ("steer_integral", ()),  # [m^2] of the offset over path length
    ("drive_integral", ()),  # [m]
    ("drive_torque", ()),  # [N m]
    ("stage", ()),
    ("step", ()),  # steps since the stage began
    ("row", ()),  # rows written
    ("finish", ()),  # RUNNING or why it ended
    ("started", ()),  # 1: it stood on four wheels and was set going
    ("slope", ()),  # [rad] the ground's slope now (ramp, tilt table)
    ("piece", ()),  # number of the course's piece that it is on
    ("path", ()),  # [m] path length of the rear axle centre
    ("off_path", ()),  # [m] to the left of the path
    ("roll", ()),  # [rad] body to the slope, positive toward downhill
    ("pitch", ()),  # [rad] body to the slope, nose up positive
    ("roll_horizon", ()),  # [rad]
    ("load", (4,)),  # [N]
    ("slip", (4,)),  # tangential force over friction limit
    ("tangential", (4, 2)),  # [N] of the ground on the tyre, forward and to the left
    ("contact", (4, 3)),  # [m] world: where the force acts, the rim at its static radius in the air
    ("gap", (4,)),  # [m] daylight under the wheel, 0 while it carries
    ("roll_rate", ()),  # [rad/s]
    ("balance", ()),  # [rad] balance angle
    ("lift_off", ()),  # [rad] lift-off angle
    # what is tracked at every step of the stage
    ("peak_roll", ()),  # [rad] the larger lean to either side, signed
    ("peak_roll_horizon", ()),
    ("peak_pitch", ()),
    ("least_balance", ()),  # [rad]; 0 once it has gone past its balance
    ("least_balance_step", ()),
    ("least_lift_off", ()),  # [rad]; 0 once the body has swung past it
    ("least_lift_off_step", ()),
    ("least_load", (4,)),
    ("peak_load", (4,)),
    ("up_steps", (4,)),  # steps of the present spell in the air
    ("spell_gap", (4,)),  # [m] most daylight in it
    ("longest_up", (4,)),  # steps of the longest spell that counts
    ("most_gap", (4,)),  # [m] most daylight in a spell that counts
    ("spells", ()),  # ended spells so far
    ("spell_log", (MOST_SPELLS, 4)),  # wheel, first step, step past the last, most daylight [m]
    ("clear_steps", ()),  # steps since all four wheels carry
    ("lean_steps", ()),  # steps since at least one does not
    ("hung", ()),  # 1 once on its stop with a rear wheel up
    ("at_stop", ()),  # 1 while the pin is on its stop
    ("stop_hits", ()),
    ("slid", ()),  # 1 once off the path with an axle saturated, or back along it
    ("furthest_off", ()),  # [m]
    ("furthest_path", ()),  # [m]
    # clocks: each begins again where it stands when what it watches moves
    ("gauge", (2,)),  # [m] place
    ("gauge_step", ()),
    ("spun", (4,)),  # [m] that each rim ran beyond the ground since then
    ("spent_steps", ()),  # steps at the torque's limit since then
    ("steady", (2,)),  # [rad] lowest and highest roll within half a degree
    ("steady_step", ()),
    ("rocking", (2,)),  # [rad] the same within two degrees
    ("rocking_step", ()),
    ("stand_steps", ()),  # steps since it stands
    ("event_slope", (3,)),  # [rad] tilt table: first lift, stop, over
    # the fall past the point of no return
    ("fall_step", ()),  # at which the fall began
    ("turned_over", ()),  # [rad] roll since level, more than a turn if it rolls on
    ("quiet_steps", ()),
    ("touch_step", (len(TOUCHING),)),  # step of the first touch; 0: none
    ("give_step", (MOST_GIVES,)),  # step at which a patch began to give way; 0: not yet
    ("hung_place", (3,)),  # [m] of the hung load, world
    ("hung_velocity", (3,)),  # [m/s]
)

WORK = _record(
    ("rotation", (BODIES, 3, 3)),
    ("place", (BODIES, 3)),  # [m] link origin, world
    ("com", (BODIES, 3)),  # [m] world
    ("turning", (BODIES, 3)),  # [rad/s] without a wheel's own spin
    ("velocity", (BODIES, 3)),  # [m/s] of the link origin
    ("axis", (BODIES, 3)),  # joint axis, world
    ("gravity", (3,)),  # [m/s^2] of the present slope and grade, world
    ("force", (BODIES, 3)),  # [N] on the body, and then on its subtree
    ("moment", (BODIES, 3)),  # [N m] about the world origin
    ("torque", (JOINTS,)),  # [N m] of actuators at the joints
    ("base_force", (3,)),  # [N] generalised force, chassis
    ("base_moment", (3,)),  # [N m] about the chassis frame origin
    ("joint_force", (JOINTS,)),  # [N m] generalised force, joints
    ("rate", (JOINTS,)),  # [rad/s] joint rates as the dampers see them
    ("scratch", (5, 3)),
)

ROW = _record(
    ("t_s", ()),
    ("position", (3,)),
    ("quaternion", (4,)),
    ("joint", (JOINTS,)),
    ("roll_slope", ()),
    ("pitch_slope", ()),
    ("roll_horizon", ()),
    ("slope", ()),
    ("steer", ()),
    ("drive_torque", ()),
    ("path", ()),
    ("off_path", ()),
    ("load", (4,)),
    ("slip", (4,)),
    ("tangential", (4, 2)),
    ("velocity", (3,)),
    ("roll_rate", ()),
    ("gap", (4,)),
    ("balance", ()),
    ("lift_off", ()),
)


def blank(dtype: np.dtype[np.void], count: int = 1) -> Records:
    """(count,) zeroed records of one layout."""
    return np.zeros(count, dtype)
