"""How far a sweep is, for whoever watches."""

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass, field
from time import monotonic

from sidehill.files.units import NOT_COMPUTED
from sidehill.sweep.row import Row


@dataclass
class Progress:
    """Cases done, and what they came to."""

    of: int  # cases in all
    kept: int = 0  # of them done before this call
    done: int = 0  # of them in this call
    known: int = 0  # of those kept: of another sweep, or of the study before it was changed
    counts: Counter[str] = field(default_factory=Counter)  # of `result`
    disagree: int = 0  # cases that the reference engine decides otherwise
    began: float = field(default_factory=monotonic)

    @property
    def rate(self) -> float:
        """[1/s] cases of this call."""
        return self.done / max(monotonic() - self.began, 1e-9)

    @property
    def remaining_s(self) -> float | None:
        """[s] to the end at this rate; None before anything is known of it."""
        return (self.of - self.kept - self.done) / self.rate if self.done else None

    def count(self, rows: Iterable[Row], *, kept: bool = False) -> None:
        """Take in finished rows."""
        for row in rows:
            self.kept += kept
            self.done += not kept
            self.counts[result(row)] += 1
            self.disagree += disagrees(row)


def result(row: Row) -> str:
    """What a case came to, in two words; a case with a problem is not computed."""
    if row.get("problem") is not None or row.get("stability") is None:
        return NOT_COMPUTED
    return f"{row['stability']}, {row['progress']}"


def disagrees(row: Row) -> bool:
    """Whether the reference engine decided anything of the row otherwise."""
    return any(value is False for name, value in row.items() if name.endswith("reference_agrees"))
