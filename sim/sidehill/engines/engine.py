"""What every engine does: start a case, advance it by n steps."""

from abc import ABC, abstractmethod
from types import TracebackType

import numpy as np

from sidehill.flat import Flat
from sidehill.kernels.layout import RUNNING, STATE, WORK, Records, blank
from sidehill.kernels.step import forces


class Engine(ABC):
    """One case in one engine. The state passed in is the whole truth: a copy is a snapshot."""

    name: str

    def __init__(self, flat: Flat) -> None:
        self.flat = flat
        self.work = blank(WORK)
        self._held = np.full(STATE.itemsize // 8, np.nan)

    def init(self) -> Records:
        """(1,) state: level, standing on its tyres, at rest at the start of the course."""
        return self.flat.start()

    def advance(self, state: Records, rows: Records, n: int) -> int:
        """Advance `state` by at most `n` steps in place; stops by itself on a finish code.

        rows: (capacity,) record rows, filled from `state["row"]` on.
        Returns the steps done; none once the state has a finish code.
        """
        if state["finish"][0] != RUNNING:
            return 0
        if not np.array_equal(state.view(float), self._held):
            self._load(state)
        done = self._run(state, rows, n)
        self._held = state.view(float).copy()
        return done

    def _forces(self, state: Records, rows: Records) -> bool:
        flat = self.flat
        return bool(forces(flat.case, flat.model, state, self.work, flat.ground, flat.points, rows))

    @abstractmethod
    def _load(self, state: Records) -> None:
        """Put pose and rates of `state` into the engine."""

    @abstractmethod
    def _run(self, state: Records, rows: Records, n: int) -> int:
        """At most n steps: forces from the kernels, integration by the engine."""

    @abstractmethod
    def close(self) -> None:
        """Let go of what the engine holds; it cannot be used afterwards."""

    def __enter__(self) -> "Engine":
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self.close()
