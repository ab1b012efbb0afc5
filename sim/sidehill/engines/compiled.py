"""Our own engine: the kernels, and the forward dynamics of the tree compiled with them.

A whole `advance` is one call without the interpreter and without its lock, so that runs
share the cores as threads. It knows no joint limits: those of the other engines lie a few
degrees behind the axle stop and 0.2 rad behind the steering lock, where no drive comes.
"""

import numpy as np

from sidehill.dynamics.advance import advance
from sidehill.dynamics.tree import TREE, degrees_above
from sidehill.engines.engine import Engine
from sidehill.errors import EngineError
from sidehill.flat import Flat
from sidehill.layout import WHEEL_FL, Records, blank

ROUND = 1e-9  # of a wheel's inertia, by which it may differ from round


class CompiledEngine(Engine):
    """The state is all there is: nothing is held between two calls."""

    name = "compiled"

    def __init__(self, flat: Flat) -> None:
        super().__init__(flat)
        _check_wheels(flat)
        self.tree = blank(TREE)
        # the chassis link's own com, without what is fixed to it: as in the other engines
        self.tree["anchor"] = flat.links[0].com
        self.above = degrees_above(flat.model)

    def _load(self, state: Records) -> None:
        """Nothing to load: the kernels work on the state itself."""

    def _run(self, state: Records, rows: Records, n: int) -> int:
        flat = self.flat
        return int(
            advance(
                flat.case, flat.model, state, self.work, self.tree, self.above,
                flat.ground, flat.points, rows, n,
            )
        )  # fmt: skip

    def close(self) -> None:
        """Nothing to let go of."""


def _check_wheels(flat: Flat) -> None:
    """A wheel's frame does not spin here, so it must be round about its axle.

    Raises:
        EngineError: one is not.
    """
    model = flat.model[0]
    for b in range(WHEEL_FL, WHEEL_FL + 4):
        d, J = model["axis"][b], model["inertia"][b]
        spin = float(d @ J @ d)
        across = 0.5 * (float(np.trace(J)) - spin)
        rest = J - across * np.eye(3) - (spin - across) * np.outer(d, d)
        off_axle = model["com"][b] - (model["com"][b] @ d) * d
        if np.abs(rest).max() > ROUND * spin or np.abs(off_axle).max() > ROUND:
            raise EngineError(
                f"engine 'compiled' takes round wheels only, and '{flat.moving[b]}' is out of "
                "balance; use --engine pybullet or mujoco"
            )
