"""Records made by hand, without an engine: a machine put where a test wants it."""

from collections.abc import Sequence
from math import atan2, radians, sin
from types import SimpleNamespace
from typing import Any, cast

import numpy as np
from scipy.spatial.transform import Rotation

from sidehill.case import Case
from sidehill.flat import Flat, flatten
from sidehill.kernels.layout import ACROSS, PIN, SPIN, STATE, blank
from sidehill.machine.file import load_machine
from sidehill.machine.outfit import Outfit
from sidehill.run.record import Record, build_record
from sidehill.run.track import Track
from sidehill.scenario.file import load_scenario

RATE = 100  # rows a second
SINK = 0.02  # [m] by which a loaded tyre is pressed flat
STATIC = (0.21, 0.24, 0.22, 0.33)  # of the weight on each wheel, on a side slope
SPEED = 1.4  # [m/s]


def case_of(
    machine: str,
    scenario: str,
    changes: Sequence[str] = (),
    outfit: dict[str, object] | None = None,
) -> Case:
    """A shipped machine on a shipped scenario."""
    return Case(
        load_machine(machine),
        load_scenario(scenario, tuple(changes)),
        Outfit.model_validate(outfit or {}),
    )


def posed(
    case: Case,
    rolls: Sequence[float],
    along: float = 4.0,
    finish: float = ACROSS,
    **state: float,
) -> Record:
    """The record of a machine that drives on while its body is at `rolls` (n,) [rad].

    The body turns toward the downhill side about the line from the downhill rear contact to the
    front pivot pin; the front axle stays flat until it is on its stop, and then goes with it.
    An unloaded wheel is one on the side that is lifted.

    Args:
        along: [m] of the rear axle centre at the last row.
        finish: how the run ended; state: other values of its last state.
    """
    flat = flatten(case)
    rows = flat.rows()[: len(rolls)]
    for k, roll in enumerate(rolls):
        _pose(rows[k], flat, case, roll)
        rows[k]["t_s"] = k / RATE
        rows[k]["position"][0] += along - SPEED * (len(rolls) - 1 - k) / RATE
        rows[k]["slope"] = case.scenario.ground.slope
    last = blank(STATE)
    last["finish"], last["path"], last["started"] = finish, along, 1.0
    last["step"] = 10.0 * max(len(rolls) - 1, 0)
    _watch(last, rows, flat)
    for name, value in state.items():
        last[name] = value
    engine = SimpleNamespace(name="by hand")
    track = SimpleNamespace(written=lambda: rows, flat=flat, engine=engine, state=last)
    return build_record(case, cast(Track, track))


def _watch(last: Any, rows: Any, flat: Flat) -> None:
    """What the run would have tracked: the larger lean, spells in the air, hanging on the stop."""
    if not len(rows):
        return
    last["peak_roll"] = rows["roll_slope"][np.argmax(np.abs(rows["roll_slope"]))]
    up = rows["load"] == 0.0
    for wheel in range(4):
        held = int(up[:, wheel].sum())
        if held * 10 >= 50:
            last["longest_up"][0, wheel] = 10.0 * held
            last["spells"] += 1.0
            n = int(last["spells"][0]) - 1
            first = float(np.argmax(up[:, wheel])) * 10.0
            last["spell_log"][0, n] = (wheel, first, first + 10.0 * held, 0.06)
            last["most_gap"][0, wheel] = 0.06
    on_stop = np.abs(rows["joint"][:, PIN]) >= flat.fitted.swing
    last["hung"] = float((on_stop & up[:, 2:].any(axis=1)).any())


def _pose(row: Any, flat: Flat, case: Case, roll: float) -> None:
    """One row: pose, joints, loads and roll."""
    machine, side = case.machine, 1.0 if case.scenario.ground.downhill == "right" else -1.0
    contact = np.array([0.0, -side * flat.fitted.rear_track / 2, 0.0])
    pin = np.array([machine.body.wheelbase, 0.0, machine.front_axle.pivot_height])
    line = (pin - contact) / np.linalg.norm(pin - contact)
    turn = Rotation.from_rotvec(side * roll * line)
    matrix = turn.as_matrix()
    row["position"] = contact - matrix @ contact - np.array([0.0, 0.0, SINK])
    row["quaternion"] = turn.as_quat()
    row["joint"] = flat.model["angle"][0]
    hinge = atan2(matrix[2, 1], matrix[2, 2])
    row["joint"][PIN] = -np.clip(hinge, -flat.fitted.swing, flat.fitted.swing)
    row["joint"][SPIN : SPIN + 4] = 0.7
    weight = 9.81 * sum(part.mass for part in flat.fitted.parts)
    up = (0, 2) if side > 0 else (1, 3)
    row["load"] = weight * np.array(STATIC if side > 0 else [STATIC[k] for k in (1, 0, 3, 2)])
    if roll > 0.0:
        row["load"][up[1]] = 0.0
        gap = flat.fitted.rear_track * sin(roll) - SINK
        row["gap"][up[1]] = max(gap, 0.0) if roll < radians(60.0) else 0.0
    if abs(hinge) > flat.fitted.swing:
        row["load"][up[0]] = 0.0
    row["roll_slope"], row["roll_horizon"] = roll, roll + case.scenario.ground.slope
