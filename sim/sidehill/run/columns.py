"""What the columns of a record mean, and in which unit: written beside each in its file."""

import re

UNITS = {
    "s": "s", "m": "m", "deg": "deg", "n": "N", "nm": "N m", "m_s": "m/s", "deg_s": "deg/s", "": ""
}  # fmt: skip
MEANINGS = {
    "t_s": "time since it was set rolling, or since the table began to turn",
    "roll_slope_deg": "roll of the body to the slope, positive toward downhill",
    "pitch_slope_deg": "pitch of the body to the slope, nose up positive",
    "roll_horizon_deg": "roll of the body to the horizon",
    "roll_rate_deg_s": "rate of the roll to the slope",
    "slope_deg": "side slope of the ground, which a tilt table turns",
    "steer_deg": "bicycle angle reached by the linkage, left positive",
    "pin_deg": "angle of the front axle about its pin",
    "drive_torque_nm": "torque of the drive on the wheels",
    "speed_m_s": "speed of the chassis frame along the body's own forward axis",
    "path_m": "path length reached by the rear axle centre",
    "off_path_m": "to the left of the path",
    "balance_angle_deg": "turn left until gravity carries the whole machine over, as it stands",
    "lift_off_angle_deg": "the same of the body about the downhill rear contact and its pin",
}
_OF_A_WHEEL = {
    "load": "load normal to the ground under the wheel",
    "force_forward": "force of the ground on the tyre along the wheel's way, forward positive",
    "force_left": "force of the ground on the tyre across the wheel's way, to the left positive",
    "slip": "tangential force over the friction limit",
    "daylight": "daylight under the wheel",
}
_WHEEL = re.compile(r"(\w+?)_(front|rear)_(left|right)(?:_(?:n|m))?")
_UNIT = re.compile(r".*?(?:_(deg_s|m_s|nm|deg|s|m|n))?")
_POSE = re.compile(r"(\w+)_(?:[xyz]_m|q[xyzw])")


def told(name: str) -> dict[str, str]:
    """Unit and meaning of a column."""
    unit = _UNIT.fullmatch(name)
    found = UNITS[(unit[1] or "") if unit else ""]
    return {"unit": found, "meaning": MEANINGS.get(name) or _meaning(name)}


def _meaning(name: str) -> str:
    wheel, pose = _WHEEL.fullmatch(name), _POSE.fullmatch(name)
    if wheel and wheel[1] in _OF_A_WHEEL:
        return f"{_OF_A_WHEEL[wheel[1]]}, {wheel[2]} {wheel[3]}"
    if pose:
        what = "place in the world" if name.endswith("_m") else "turn in the world, quaternion"
        return f"{what} of the frame of {pose[1]}"
    raise KeyError(name)
