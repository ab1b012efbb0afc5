"""One run at one value of what a strip varies: its facts, and its numbers."""

from dataclasses import dataclass, replace

from sidehill.case import Case
from sidehill.run import run
from sidehill.run.facts import Facts, has_reached, is_good, is_short_of
from sidehill.run.outcome import Outcome


@dataclass(frozen=True)
class Spot:
    """A run at one value; unknown facts are None and never count as good."""

    value: float  # SI
    step: float  # [s] of the simulation's clock
    engine: str
    outcome: Outcome
    again: Facts | None = None  # the same in the reference engine

    @property
    def facts(self) -> Facts:
        """Stability, progress, and whether all was met."""
        return self.outcome.facts

    @property
    def agrees(self) -> bool:
        """Whether the reference engine, if it was asked, says the same."""
        return self.again is None or self.again == self.facts

    @property
    def is_good(self) -> bool:
        """Whether it may be shown as a good result, in every engine that was asked."""
        return all(is_good(*facts) for facts in self.told)

    def is_short_of(self, event: str) -> bool:
        """Whether it proves that the event did not come, in every engine that was asked."""
        return all(is_short_of(event, *facts) for facts in self.told)

    def has_reached(self, event: str) -> bool:
        """Whether the event came, in any engine that was asked."""
        return any(has_reached(event, *facts[:2]) for facts in self.told)

    def with_reference(self, other: "Spot") -> "Spot":
        """With what the reference engine says."""
        return replace(self, again=other.facts)

    @property
    def told(self) -> tuple[Facts, ...]:
        """The facts in every engine that was asked."""
        return (self.facts,) if self.again is None else (self.facts, self.again)


def run_spot(case: Case, value: float, engine: str) -> Spot:
    """The run of a case that has the varied quantity at that value [SI]."""
    return Spot(value, case.scenario.run.step, engine, run(case, engine).outcome)
