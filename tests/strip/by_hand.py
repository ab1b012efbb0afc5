"""By hand: strips of the demo's options against every value of the range, judged from records.

`python tests/strip/by_hand.py 0.05 "front drive" "1.25 km/h"`: every option at that drive and
speed, else at both; a run each 0.05 deg. What a run is, is judged here from the poses and loads
of its
record; a judgement that differs from the strip is made again from every step before it counts.
"""

import sys
from collections.abc import Iterable
from concurrent.futures import ProcessPoolExecutor
from itertools import product
from math import degrees, radians
from pathlib import Path

import numpy as np
from scipy.spatial.transform import Rotation

sys.path.insert(0, str(Path(__file__).parent.parent))

from facts_by_hand import BAD, WHEELS, leans, up_spells

from sidehill.case import Case
from sidehill.flat import flatten
from sidehill.run.record import Record, simulate
from sidehill.strip.strip import Strip, take_strip
from sidehill.study.study import load_study

SCAN, TOLERANCE = radians(0.25), radians(0.02)
DRIVES = {"rear drive, open": False, "front drive": True}
SPEEDS = {"1.25 km/h": 1.25 / 3.6, "3 km/h": 3.0 / 3.6}
COARSE = {"run.step": 2e-3}
EVERY_STEP = {"run.step": 1e-3, "run.rate": 1000.0}
Seen = tuple[str, str]  # stability, and how it ended: over, across, leaning or not across


def ground_height(x: np.ndarray, y: np.ndarray, feature: np.ndarray) -> np.ndarray:
    """[m] of a bump: a cos^2 along, flat across with smooth flanks; written a second time."""
    _, x0, y0, _, _, half_length, half_width, flank, high = feature
    along = np.clip(np.abs(x - x0) / half_length, 0.0, 1.0)
    s = np.clip((half_width - np.abs(y - y0)) / flank, 0.0, 1.0)
    return np.asarray(high * np.cos(np.pi / 2.0 * along) ** 2 * s * s * (3.0 - 2.0 * s))


def daylight(record: Record, wheel: str, rows: np.ndarray, feature: np.ndarray) -> float:
    """[m] most, over those rows, of the least height of a wheel's rims over the ground."""
    case = record.meta["case"]
    tyre = case["machine"]["front_tyre" if wheel.startswith("front") else "rear_tyre"]
    axes = Rotation.from_quat(record.quaternion(f"wheel_{wheel}")[rows]).as_matrix()
    centre, axle = record.place(f"wheel_{wheel}")[rows], axes[:, :, 1]
    down = np.array([0.0, 0.0, -1.0]) + axle[:, 2:] * axle
    down /= np.linalg.norm(down, axis=1)[:, None]
    ahead, radius = np.cross(axle, down), tyre["diameter"] / 2.0
    least = np.full(len(centre), np.inf)
    for angle in np.radians(np.arange(-80.0, 81.0, 2.5)):
        for side in np.linspace(-0.36, 0.36, 5) * tyre["width"]:  # five discs over 0.9
            point = centre + side * axle + radius * (np.cos(angle) * down + np.sin(angle) * ahead)
            gap = point[:, 2] - ground_height(point[:, 0], point[:, 1], feature)
            least = np.minimum(least, gap)
    return float(least.max())


def judged(case: Case) -> Seen:
    """What poses and loads say of a run."""
    record, feature = simulate(case, "compiled"), flatten(case).ground.features[0]
    time, path = record.columns["t_s"], record.columns["path_m"]
    roll, pitch = leans(record)
    if max(np.abs(roll).max(), np.abs(pitch).max()) >= 60.0:
        return "overturned", "over"
    swing = degrees(record.meta["case"]["machine"]["front_axle"]["swing"])
    pin, worst = record.columns["pin_deg"], "planted"
    for wheel in WHEELS:
        for start, end, _ in up_spells(record, wheel):
            inside = (time >= start) & (time <= end)
            is_long = end - start > 0.5 or daylight(record, wheel, inside, feature) > 0.05
            seen = ["lifted" if is_long else "hopped"]
            away = -pin if wheel == "rear_left" else pin
            late = inside & (time >= start + 0.05)
            if wheel.startswith("rear") and (away[late] >= swing - 1e-9).any():
                seen.append("on_stop")
            worst = min([worst, *seen], key=BAD.index)
    loads = np.stack([record.columns[f"load_{wheel}_n"] for wheel in WHEELS], axis=1)
    is_past = path[-1] >= record.meta["case"]["scenario"]["course"]["length"] - 1e-6
    if is_past and (loads[time >= time[-1] - 0.99] > 0.0).all():
        return worst, "across"
    is_up = (loads[time >= time[-1] - 1.9] == 0.0).any(axis=1).all()
    return worst, "leaning" if is_past and is_up else "not across"


def said(facts: tuple[str | None, ...]) -> Seen:
    """The strip's facts in the words of `judged`."""
    stability, progress, _ = facts
    if stability == "overturned":
        return "overturned", "over"
    return str(stability), progress if progress in ("across", "leaning") else "not across"


def expected(strip: Strip, value: float) -> set[Seen]:
    """What the strip says at a value: of the two spots beside it."""
    values = np.array([spot.value for spot in strip.spots])
    after = int(np.clip(np.searchsorted(values, value), 0, len(values) - 1))
    beside = [strip.spots[max(after - 1, 0)], strip.spots[after]]
    close = [spot for spot in strip.spots if abs(spot.value - value) <= TOLERANCE]
    return {said(facts) for spot in (*beside, *close) for facts in spot.told}


def compare(task: tuple[int, str, str, float]) -> tuple[str, int, list[str]]:
    """The strip of one option at one drive and speed; values at which a run says otherwise."""
    number, drive, speed, spacing = task
    study = load_study("demo")
    option = study.options[number]
    changes = {"drive.four_wheel": DRIVES[drive], "drive.speed": SPEEDS[speed]}
    case = Case(study.machine, study.scenario.with_values(changes), option.outfit)
    strip = take_strip(case, scan=SCAN, tolerance=TOLERANCE)
    values, wrong = np.arange(radians(1.0), radians(35.0), spacing), []
    for value in values:
        at, there = case.with_slope(float(value)), expected(strip, float(value))
        if judged(at.with_scenario(COARSE)) in there:
            continue
        seen = judged(at.with_scenario(EVERY_STEP))
        if seen not in there:
            wrong.append(f"{degrees(value):.2f} {'/'.join(seen)} for {sorted(there)}")
    bands = " ".join(
        f"{'/'.join(said(band.facts))}<{degrees(band.high):.2f}" for band in strip.bands()
    )
    return f"{option.name}, {drive}, {speed}: {bands}", len(values), wrong


def main(spacing: float, drives: Iterable[str], speeds: Iterable[str]) -> int:
    """Print every strip and every contradiction; their number."""
    options = range(len(load_study("demo").options))
    tasks = [(n, *how, spacing) for how in product(drives, speeds) for n in options]
    count = total = 0
    with ProcessPoolExecutor(2) as pool:
        for title, runs, wrong in pool.map(compare, tasks):
            print(title, *(f"  ! {line}" for line in wrong), sep="\n", flush=True)
            count, total = count + len(wrong), total + runs
    print(f"{total} runs, {count} say otherwise than their strip")
    return count


if __name__ == "__main__":
    space, *chosen = sys.argv[1:]
    asked = [[name for name in known if name in chosen] or known for known in (DRIVES, SPEEDS)]
    sys.exit(1 if main(radians(float(space)), *asked) else 0)
