"""One check: a value from outside the project beside the project's own."""

from collections.abc import Callable
from dataclasses import dataclass
from math import nan
from typing import Literal

from sidehill.files.errors import SidehillError

# published: read in a published text. memory: a published value recalled, not read again.
# derived: follows from textbook mechanics; a regression value without outside authority.
# common practice: a fact of the trade, no source.
Status = Literal["published", "memory", "derived", "common practice"]

_ROUND_OFF = 1e-9  # of a limit, that floats may add


@dataclass(frozen=True)
class Tolerance:
    """How far from the expected value still agrees, and where that comes from."""

    size: float  # in the value's unit, or a fraction of the value
    relative: bool
    stated: str

    def limit(self, expected: float) -> float:
        """Largest difference that agrees, in the value's unit."""
        return self.size * abs(expected) if self.relative else self.size

    def __str__(self) -> str:
        size = f"{100 * self.size:g} %" if self.relative else f"{self.size:g}"
        return f"± {size}, {self.stated}"


def chosen(size: float) -> Tolerance:
    """Absolute, chosen here: no source gives one."""
    return Tolerance(size, False, "chosen")


def last_digit(unit: float) -> Tolerance:
    """Half a unit of the last digit of the expected value."""
    return Tolerance(unit / 2, False, "half a unit of the last digit given")


def share(size: float, stated: str = "chosen") -> Tolerance:
    """Relative."""
    return Tolerance(size, True, stated)


@dataclass(frozen=True)
class Check:
    """A value from outside, and the project's own code that must give it."""

    name: str
    quantity: str
    unit: str
    expected: float
    tolerance: Tolerance
    source: str
    status: Status
    compute: Callable[[], float]
    is_fitted: bool = False  # the code's constant was fitted to it or copied from it: not counted

    @property
    def id(self) -> str:
        """Readable and different for every check."""
        return f"{self.name}: {self.quantity}"

    def run(self) -> "Result":
        """Compute and compare. What cannot be computed is NaN, and a fail."""
        computed, note = nan, ""
        try:
            computed = float(self.compute())
        except SidehillError as error:
            note = f"could not be computed: {error}"
        difference = computed - self.expected
        limit = self.tolerance.limit(self.expected)
        return Result(
            name=self.name,
            quantity=self.quantity,
            unit=self.unit,
            expected=self.expected,
            computed=computed,
            difference=difference,
            limit=limit,
            tolerance=str(self.tolerance),
            source=self.source,
            status=self.status,
            is_fitted=self.is_fitted,
            passed=abs(difference) <= limit * (1 + _ROUND_OFF),
            note=note,
        )


@dataclass(frozen=True)
class Result:
    """A check that was run; unrounded, in `unit`."""

    name: str
    quantity: str
    unit: str
    expected: float
    computed: float
    difference: float  # computed less expected
    limit: float  # largest difference that passes
    tolerance: str  # the same as it is stated
    source: str
    status: Status
    is_fitted: bool  # shown, never counted
    passed: bool
    note: str  # why there is no computed value, else empty
