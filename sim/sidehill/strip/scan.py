"""The runs of a strip: a scan over the whole range, every change narrowed, both its sides again.

Scanned with a coarse step of the clock; what lies on either side of a change is run again with
the scenario's own step, which has the last word, and in the reference engine.
"""

from collections.abc import Callable, Iterable, Sequence
from itertools import pairwise
from math import floor

from sidehill.case import Case
from sidehill.engines import THREADED
from sidehill.strip.quantity import Varied
from sidehill.strip.spot import Spot, run_spot
from sidehill.workers import mapped

COARSE_STEP = 2e-3  # [s] of the clock while scanning
COARSER = 4  # times the scan's step, above the first value at which it cannot start
MOST_SPOTS = 2000  # of one strip; a strip that changes everywhere ends there

Watch = Callable[[Spot], None]  # of each run as it is done, in its own thread
Matters = Callable[[Spot, Spot], bool]  # whether the change between two neighbours is narrowed


def any_change(a: Spot, b: Spot) -> bool:
    """Whether either fact changes, or what was met."""
    return a.facts != b.facts


def with_step(case: Case, step: float) -> Case:
    """The case with another step of the clock [s], as a spot of a strip was run with it."""
    run = case.scenario.run
    if step == run.step:
        return case
    steps_a_row = max(1, round(1.0 / (step * run.rate)))
    return case.with_scenario({"run.step": step, "run.rate": 1.0 / (step * steps_a_row)})


class Scan:
    """Spots of one case over one quantity; each value is run once a step of the clock."""

    def __init__(
        self,
        case: Case,
        varied: Varied,
        feature: int,
        engine: str,
        matters: Matters = any_change,
        watch: Watch = lambda _: None,
        heed: Callable[[], None] = lambda: None,
    ) -> None:
        self.case, self.varied, self.feature = case, varied, feature
        self.engine, self.matters, self.watch, self.heed = engine, matters, watch, heed
        self.fine = case.scenario.run.step
        self.coarse = max(self.fine, COARSE_STEP)
        self.spots: dict[float, Spot] = {}
        self.runs = 0

    def sorted(self) -> list[Spot]:
        """By rising value."""
        return [self.spots[value] for value in sorted(self.spots)]

    def run(self, values: Iterable[float], step: float) -> None:
        """The spots at those values that are not there yet with so fine a step."""
        wanted = [
            value
            for value in dict.fromkeys(values)
            if value not in self.spots or self.spots[value].step > step
        ]
        for spot in self._run_all(wanted, step, self.engine, self.watch):
            self.spots[spot.value] = spot

    def _run_all(
        self, values: Sequence[float], step: float, engine: str, watch: Watch = lambda _: None
    ) -> list[Spot]:
        cases = [self._case_at(value, step) for value in values]
        self.runs += len(values)
        pairs = list(zip(cases, values, strict=True))

        def run_one(pair: tuple[Case, float]) -> Spot:
            self.heed()
            spot = run_spot(*pair, engine)
            watch(spot)
            return spot

        return mapped(run_one, pairs, engine in THREADED)

    def _case_at(self, value: float, step: float) -> Case:
        return with_step(self.varied.case_at(self.case, value, self.feature), step)

    def scan(self, low: float, high: float, spacing: float) -> None:
        """The whole range, coarser above the first value at which the machine cannot start."""
        count = floor((high - low) / spacing + 1e-9) + 1
        grid = [low + spacing * k for k in range(count)]
        self.run([*grid[::COARSER], grid[-1]], self.coarse)
        beyond = [s.value for s in self.sorted() if s.outcome.progress == "not_started"]
        first = min(beyond, default=high)
        self.run((value for value in grid if value < first), self.coarse)

    def narrow(self, tolerance: float) -> None:
        """Halve every change that matters until it is within the tolerance, all side by side.

        Spots are run with the coarse step, but between two that had the fine one with that.
        """
        while len(self.spots) < MOST_SPOTS:
            wide = [(a, b) for a, b in self.changes() if b.value - a.value > tolerance]
            if not wide:
                return
            for step in (self.coarse, self.fine):
                middles = [
                    0.5 * (a.value + b.value) for a, b in wide if max(a.step, b.step) == step
                ]
                self.run(middles, step)
                if self.coarse == self.fine:
                    break

    def settle_changes(self, tolerance: float) -> None:
        """Narrow, and run both sides of every change with the fine step until none moves."""
        self.narrow(tolerance)
        while len(self.spots) < MOST_SPOTS:
            sides = {s.value for pair in self.changes() for s in pair if s.step > self.fine}
            if not sides:
                return
            self.run(sorted(sides), self.fine)
            self.narrow(tolerance)

    def check(self, reference: str) -> None:
        """Both sides of every change again in the reference engine."""
        sides = sorted({spot.value for pair in self.changes() for spot in pair})
        for other in self._run_all(sides, self.fine, reference):
            self.spots[other.value] = self.spots[other.value].with_reference(other)

    def changes(self) -> list[tuple[Spot, Spot]]:
        """Neighbours between which something changes that matters."""
        return [(a, b) for a, b in pairwise(self.sorted()) if self.matters(a, b)]
