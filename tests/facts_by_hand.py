"""The facts of a run judged again from the poses and loads of its record, with code of its own."""

import numpy as np
from scipy.spatial.transform import Rotation

from sidehill.run.record import Record

WHEELS = ("front_left", "front_right", "rear_left", "rear_right")
BAD = ("overturned", "on_stop", "lifted", "hopped", "planted")


def up_spells(record: Record, wheel: str) -> list[tuple[float, float, bool]]:
    """(start, end, still up) [s] of the times in which a wheel carries nothing."""
    time, load = record.columns["t_s"], record.columns[f"load_{wheel}_n"]
    up = (load == 0.0) & (time >= 0.25 - 1e-9)
    edges = np.flatnonzero(np.diff(np.concatenate([[False], up, [False]]).astype(int)))
    found = []
    for first, past in zip(edges[::2], edges[1::2], strict=True):
        end = time[past] if past < len(time) else time[-1]
        if end - time[first] >= 0.05 - 1e-9:
            found.append((float(time[first]), float(end), past == len(time)))
    return found


def daylight_on_a_plane(record: Record, wheel: str) -> np.ndarray:
    """(n,) [m] under a wheel over flat ground: the lowest of its outer edge circles."""
    case = record.meta["case"]
    tyre = case["machine"]["front_tyre" if wheel.startswith("front") else "rear_tyre"]
    turn = Rotation.from_quat(record.quaternion(f"wheel_{wheel}")).as_matrix()
    axle, centre = turn[:, :, 1], record.place(f"wheel_{wheel}")
    level = np.sqrt(1.0 - axle[:, 2] ** 2)
    half = 0.5 * 0.9 * 0.8 * tyre["width"]  # outermost of five discs over 0.9 of the width
    return centre[:, 2] - tyre["diameter"] / 2.0 * level - half * np.abs(axle[:, 2])


def leans(record: Record) -> tuple[np.ndarray, np.ndarray]:
    """(n,) [deg] roll to the plane, positive to the right, and pitch, nose up."""
    turn = Rotation.from_quat(record.quaternion("chassis")).as_matrix()
    roll = np.degrees(np.arctan2(turn[:, 2, 1], turn[:, 2, 2]))
    pitch = np.degrees(np.arcsin(np.clip(turn[:, 2, 0], -1.0, 1.0)))
    return roll, pitch


def stability_by_hand(record: Record) -> str:
    """The worst that the wheels did, on plain ground, from a record of every step."""
    roll, pitch = leans(record)
    if max(np.abs(roll).max(), np.abs(pitch).max()) >= 60.0:
        return "overturned"
    worst = "planted"
    swing = np.degrees(_swing(record))
    pin, time = record.columns["pin_deg"], record.columns["t_s"]
    for wheel in WHEELS:
        gap = daylight_on_a_plane(record, wheel)
        for start, end, _ in up_spells(record, wheel):
            inside = (time >= start) & (time <= end)
            is_long = end - start > 0.5 or gap[inside].max() > 0.05
            found = ["lifted"] if is_long else ["hopped"]
            if wheel.startswith("rear"):
                # the axle's left side comes up to the body's where the left rear wheel is up
                away = -pin if wheel == "rear_left" else pin
                hangs = inside & (time >= start + 0.05) & (away >= swing - 1e-9)
                found += ["on_stop"] if hangs.any() else []
            worst = min([worst, *found], key=BAD.index)
    return worst


def _swing(record: Record) -> float:
    tighter = record.meta["case"]["outfit"]["front_axle_swing"]  # 0 is a swing too
    own = record.meta["case"]["machine"]["front_axle"]["swing"]
    return float(own if tighter is None else tighter)
