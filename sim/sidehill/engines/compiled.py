"""Our own engine: the kernels, and the forward dynamics of the tree compiled with them.

A whole `advance` is one call without the interpreter and without its lock, so that runs
share the cores as threads. It knows no joint limits: those of the other engines lie a few
degrees behind the axle stop and 0.2 rad behind the steering lock, where no drive comes.
"""

from functools import lru_cache

import numpy as np

from sidehill.dynamics.advance import advance
from sidehill.dynamics.gyrostat import gyrostat
from sidehill.dynamics.tree import TREE, Above, rows_above
from sidehill.engines.engine import Engine
from sidehill.flat import Flat
from sidehill.kernels.layout import MODEL, Records, blank

KEPT = 64  # trees; runs of a search differ in slope or speed, not in the machine


class CompiledEngine(Engine):
    """The state is all there is: nothing is held between two calls."""

    name = "compiled"

    def __init__(self, flat: Flat) -> None:
        super().__init__(flat)
        # anchored at the chassis link's own com, without what is fixed to it, as in the others
        anchor = flat.links[0].com.tobytes()
        self.gyrostat, self.above = _grown(flat.model.tobytes(), anchor, flat.moving)
        self.tree = blank(TREE)

    def _load(self, state: Records) -> None:
        """Nothing to load: the kernels work on the state itself."""

    def _run(self, state: Records, rows: Records, n: int) -> int:
        flat = self.flat
        return int(
            advance(
                flat.case, flat.model, self.gyrostat, state, self.work, self.tree, self.above,
                flat.ground, flat.points, rows, n,
            )
        )  # fmt: skip

    def close(self) -> None:
        """Nothing to let go of."""


@lru_cache(maxsize=KEPT)
def _grown(model: bytes, anchor: bytes, names: tuple[str, ...]) -> tuple[Records, Above]:
    """Gyrostat and parents of the tree of a MODEL record; the kernels only read them."""
    models = np.frombuffer(model, MODEL)
    return gyrostat(models, np.frombuffer(anchor), names), rows_above(models)
