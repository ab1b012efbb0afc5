"""One wheel of a shipped machine over ground of the test's own."""

import numpy as np

from sidehill.case import Case, Settings
from sidehill.flat import Flat, flatten
from sidehill.kernels.height import COLUMNS, Ground
from sidehill.kernels.layout import DRIVE, Vector
from sidehill.kernels.tyre import wheel
from sidehill.machine.file import load_machine
from sidehill.scenario.file import load_scenario

REAR = 2  # rear left
STILL = np.zeros(3)
LEFT = np.array([0.0, 1.0, 0.0])
LAWS = ("point", "enveloping")
# features and their own heights along the path, both here and nowhere else
SHAPES: dict[str, dict[str, object]] = {
    "bump": {"shape": "bump", "height": 0.10, "length": 0.8, "y": 0.0, "width": 2.0},
    "kerb": {"shape": "kerb", "height": 0.08, "length": 1.0},
    "log": {"shape": "log", "height": 0.08},
    "hole": {"shape": "hole", "height": 0.12, "length": 0.8, "y": 0.0, "width": 2.0},
    "cleat": {"shape": "ridge", "height": 0.01, "length": 0.05},
    "long bump": {"shape": "bump", "height": 0.10, "length": 3.0, "y": 0.0, "width": 2.0},
}


def profile(name: str, x: Vector) -> Vector:
    """[m] height of a shape at places along the path, written again."""
    item = SHAPES[name]
    size = float(str(item["height"]))
    length = float(str(item.get("length", 2.0 * size)))
    inside = np.abs(x) < length / 2.0
    if item["shape"] == "log":
        high = size * np.sqrt(np.clip(1.0 - (2.0 * x / length) ** 2, 0.0, 1.0))
    elif item["shape"] == "kerb":
        t = np.clip((length / 2.0 - np.abs(x)) / 0.05, 0.0, 1.0)
        high = size * t * t * (3.0 - 2.0 * t)
    else:
        high = size * np.cos(np.pi * x / length) ** 2
    return np.where(inside, -high if item["shape"] == "hole" else high, 0.0)


def over(name: str | None, law: str, discs: int = 1) -> Flat:
    """A case with one shape in the middle of the ground, or none."""
    return over_item(None if name is None else SHAPES[name], law, discs)


def over_item(item: dict[str, object] | None, law: str, discs: int = 1) -> Flat:
    """The same with a feature as a scenario's file has it."""
    items = [] if item is None else [{"at": 7.0, **item}]
    values = {"feature": items, "run.tyre": law, "course.length": 12.0}
    bank = load_scenario("bank-plain").with_values(values)
    flat = flatten(Case(load_machine("bramble"), bank, settings=Settings(discs=discs)))
    flat.ground.features[:, 1:3] = 0.0
    return flat


def plane(ahead: float, across: float) -> Ground:
    """Even ground that rises by these slopes, as a relief."""
    rows, columns = np.mgrid[0:60, 0:60]
    place = np.array([-3.0, -3.0, 10.0])
    relief = ahead * (columns / 10.0 - 3.0) + across * (rows / 10.0 - 3.0)
    return Ground(np.zeros((0, COLUMNS)), relief, place)


def pressed(
    flat: Flat, centre: Vector, axle: Vector = LEFT, ground: Ground | None = None
) -> tuple[Vector, Vector, Vector]:
    """Force, moment and foot of a wheel at rest, without friction."""
    state, case = flat.start(), flat.case.copy()
    state["stage"], case["friction"] = DRIVE, 1e-12
    force, moment, foot = np.zeros(3), np.zeros(3), np.zeros(3)
    wheel(
        REAR, case, state, flat.ground if ground is None else ground, centre, axle,
        STILL, STILL, 0.0, STILL, STILL, 0.0, 1.0, force, moment, foot,
    )  # fmt: skip
    return force, moment, foot
