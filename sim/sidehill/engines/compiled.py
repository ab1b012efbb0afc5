"""Our own engine: the kernels, and the forward dynamics of the tree compiled with them.

A whole `advance` is one call without the interpreter and without its lock, so that runs
share the cores as threads. It knows no joint limits: those of the other engines lie a few
degrees behind the axle stop and 0.2 rad behind the steering lock, where no drive comes.
"""

from sidehill.dynamics.advance import advance
from sidehill.dynamics.gyrostat import gyrostat
from sidehill.dynamics.tree import TREE, rows_above
from sidehill.engines.engine import Engine
from sidehill.flat import Flat
from sidehill.layout import Records, blank


class CompiledEngine(Engine):
    """The state is all there is: nothing is held between two calls."""

    name = "compiled"

    def __init__(self, flat: Flat) -> None:
        super().__init__(flat)
        # anchored at the chassis link's own com, without what is fixed to it, as in the others
        self.gyrostat = gyrostat(flat.model, flat.links[0].com, flat.moving)
        self.tree = blank(TREE)
        self.above = rows_above(flat.model)

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
