"""A run under way, and what is left of it when it ends."""

from collections.abc import Callable
from dataclasses import dataclass

from sidehill.engines.engine import Engine
from sidehill.flat import Flat
from sidehill.kernels.layout import Records
from sidehill.run.outcome import Outcome, read


@dataclass
class Track:
    """What the stages pass on."""

    flat: Flat
    engine: Engine
    state: Records  # (1,) STATE
    rows: Records  # (capacity,) ROW
    watch: Callable[["Track"], None]  # called every chunk of steps
    wall_s: float = 0.0  # [s] of the clock on the wall, at the end

    @property
    def outcome(self) -> Outcome:
        """What is read off the run as far as it has come."""
        return read(self.state, self.flat.case)

    def written(self) -> Records:
        """(n,) the rows filled so far."""
        return self.rows[: int(self.state["row"][0])]
