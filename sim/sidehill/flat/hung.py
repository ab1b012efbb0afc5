"""A hung load in the arrays of a case: what its rope is, and where it hangs at the start."""

from math import sqrt

import numpy as np

from sidehill.case import Case
from sidehill.flat.mechanism import Mechanism
from sidehill.flat.servo import servo
from sidehill.kernels.layout import Records
from sidehill.machine.fitted import Array, Fitted
from sidehill.machine.loader import HUNG
from sidehill.statics.tipping import GRAVITY

# damping ratios of the swing: while gravity turns, and from then on (judgement: a rope and air)
CALM, FREE = 0.7, 0.02


def fill_hung(values: Records, case: Case, made: Mechanism) -> None:
    """Rope and hook of a load that hangs from the bucket; nothing without one."""
    outfit, loader = case.outfit, case.machine.loader
    mass = outfit.hung_load
    if mass == 0.0 or loader is None:
        return
    values["hung_mass"], values["rope"] = mass, outfit.rope
    values["rope_stiffness"], values["rope_damping"] = servo(mass)
    across = 2.0 * mass * sqrt(GRAVITY / outfit.rope)
    values["sway_damping"] = CALM * across, FREE * across
    if "bucket" in made.moving:
        values["hook_body"] = made.moving.index("bucket")
        values["hook"] = loader.load_reach, 0.0, 0.0
    else:
        values["hook"] = made.fitted.part(HUNG).cg


def hang(values: Records, case: Records, fitted: Fitted, turn: Array) -> None:
    """Hang the load plumb and still under its hook, the machine as it starts.

    Args:
        turn: (3, 3) of the chassis in the world.
    """
    if case["hung_mass"] == 0.0:
        return
    down = np.array([-case["grade_tan"], 0.0, -1.0])
    down /= np.linalg.norm(down)
    stretch = case["hung_mass"] * case["gravity"] / case["rope_stiffness"]
    hook = values["position"] + turn @ fitted.part(HUNG).cg
    values["hung_place"][:] = hook + (case["rope"] + stretch) * down
