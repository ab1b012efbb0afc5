"""The slope, speed or bump height at which a machine first lifts, leans or goes over.

A grid of runs brackets the change, bisection narrows it, and the whole grid is kept: where
good values lie above bad ones there is no threshold, and bands are reported instead. Just below an
answer the search looks closer; a bad band narrower than that, or further down between two
values of the grid, is not seen.
"""

from collections.abc import Callable, Iterable, Iterator, Sequence
from concurrent.futures import Executor
from dataclasses import asdict, dataclass
from itertools import pairwise
from typing import Any

from sidehill.case import Case
from sidehill.engines import REFERENCE, choose
from sidehill.files.errors import EngineError, InputError
from sidehill.strip.quantity import VARIED
from sidehill.strip.trial import UNTIL, Trial, run_trial

CLOSER = (1 / 32, 1 / 16, 1 / 8, 1 / 4, 1 / 2)  # of the grid's spacing: looked at below an answer


@dataclass(frozen=True)
class Band:
    """Neighbouring tried values with the same answer."""

    low: float
    high: float
    good: bool


@dataclass(frozen=True)
class Limit:
    """The answer, in `unit`. None: nothing good, or nothing bad, was found in the range."""

    quantity: str
    until: str
    highest_good: float | None  # below the first bad value
    lowest_bad: float | None
    verdict_at_limit: str | None  # of the run at lowest_bad
    unit: str
    tolerance: float
    runs: int
    bands: tuple[Band, ...]
    engine: str  # of the search
    reference: str | None  # engine in which the two ends were run again
    reference_agrees: bool | None  # whether they came out the same there
    fell_back: str | None = None  # why the search was not made in the engine meant for it

    @property
    def is_threshold(self) -> bool:
        """Whether all below is good and all above is bad, as far as was tried."""
        return len(self.bands) <= 2 and (not self.bands or self.bands[0].good)

    def to_dict(self) -> dict[str, Any]:
        """Plain values for JSON."""
        return asdict(self) | {"bands": [asdict(band) for band in self.bands]}


Spread = Callable[..., Iterable[Trial]]  # as `map`


class Search:
    """Trials of one case over one quantity, each value run once."""

    def __init__(
        self,
        case: Case,
        of: str,
        engine: str = "auto",
        watch: Callable[[Trial], None] | None = None,
        executor: Executor | None = None,
    ) -> None:
        if of not in VARIED:
            raise InputError(f"limit of '{of}' is not known; use {', '.join(VARIED)}")
        if of == "bump" and not case.scenario.feature:
            raise InputError("limit of bump: the scenario has no [[feature]] to grow")
        if case.scenario.course.is_tilt_table:
            raise InputError("limit: a tilt table has no verdict; use `drive` or `tip`")
        self.case, self.of, self.engine = case, of, choose(engine, many=True)
        self.reference = REFERENCE if engine == "auto" else None
        self.fell_back: str | None = None
        self.watch = watch or (lambda _: None)
        self.spread: Spread = executor.map if executor else map
        self.trials: dict[float, Trial] = {}
        self.again: dict[float, Trial] = {}  # in the reference engine

    def trial(self, value: float) -> Trial:
        """The run at a value, SI."""
        self.try_all([value])
        return self.trials[value]

    def try_all(self, values: Iterable[float]) -> None:
        """The runs at those values, SI, that there are not yet.

        What the engine cannot run is all run in the reference engine, if there is one.
        """
        values = list(values)
        try:
            for trial in self._run(values, self.engine, self.trials, self.spread):
                self.watch(trial)
        except EngineError as error:
            if self.reference is None:
                raise
            self.engine, self.reference, self.fell_back = self.reference, None, str(error)
            self.trials.clear()  # not two engines in one answer
            self.try_all(values)

    def check(self, values: Iterable[float]) -> None:
        """The same in the reference engine, if there is one."""
        if self.reference is not None:
            list(self._run(values, self.reference, self.again, map))

    def _run(
        self, values: Iterable[float], engine: str, known: dict[float, Trial], spread: Spread
    ) -> Iterator[Trial]:
        missing = [value for value in dict.fromkeys(values) if value not in known]
        cases = [self.case_at(value) for value in missing]
        for trial in spread(run_trial, cases, missing, [engine] * len(missing)):
            known[trial.value] = trial
            yield trial

    def case_at(self, value: float) -> Case:
        """The case with the quantity at a value, SI; InputError where a file may not hold it."""
        if self.of == "slope":
            return self.case.with_scenario({"ground.slope": value})
        if self.of == "speed":
            return self.case.with_scenario({"drive.speed": value})
        count = len(self.case.scenario.feature)
        return self.case.with_scenario({f"feature.{i + 1}.height": value for i in range(count)})

    def narrow(self, untils: Sequence[str], tolerance: float) -> None:
        """Bisect the lowest change from good to bad of every event, a step of each at a time."""
        while middles := [
            0.5 * (edge[0] + edge[1])
            for until in untils
            if (edge := self._first_edge(until)) and edge[1] - edge[0] > tolerance
        ]:
            self.try_all(middles)

    def close_in(self, untils: Sequence[str], tolerance: float, spacing: float) -> None:
        """Narrow, and look just below each answer for a bad band that the grid stepped over."""
        seen: set[float] = set()
        while True:
            self.narrow(untils, tolerance)
            found = {edge[0] for until in untils if (edge := self._first_edge(until))} - seen
            if not found:
                return
            seen |= found
            lowest = min(self.trials)
            below = (good - share * spacing for good in sorted(found) for share in CLOSER)
            self.try_all(value for value in below if value > lowest)

    def _first_edge(self, until: str) -> tuple[float, float] | None:
        tried = [self.trials[value] for value in sorted(self.trials)]
        for a, b in pairwise(tried):
            if a.is_good(until) and not b.is_good(until):
                return a.value, b.value
        return None

    def ends(self, until: str) -> tuple[Trial | None, Trial | None]:
        """The highest good trial below the first bad one, and that one; None: there is none."""
        tried = [self.trials[value] for value in sorted(self.trials)]
        first_bad = next((trial for trial in tried if not trial.is_good(until)), None)
        good = [t for t in tried if first_bad is None or t.value < first_bad.value]
        return (good[-1] if good else None), first_bad

    def _agrees(self, until: str) -> bool | None:
        """Whether the reference engine says the same at both ends."""
        if self.reference is None:
            return None
        found = [end for end in self.ends(until) if end is not None]
        self.check(end.value for end in found)
        return all(end.is_good(until) == self.again[end.value].is_good(until) for end in found)

    def answer(self, until: str, tolerance: float) -> Limit:
        """What the trials say."""
        varied = VARIED[self.of]
        tried = [self.trials[value] for value in sorted(self.trials)]
        good, bad = self.ends(until)
        return Limit(
            quantity=self.of,
            until=until,
            highest_good=varied.shown(good.value) if good else None,
            lowest_bad=varied.shown(bad.value) if bad else None,
            verdict_at_limit=bad.verdict if bad else None,
            unit=varied.unit,
            tolerance=varied.shown(tolerance),
            runs=len(tried),
            bands=_bands(tried, until, varied.shown),
            engine=self.engine,
            reference=self.reference,
            reference_agrees=self._agrees(until),
            fell_back=self.fell_back,
        )


def _bands(tried: list[Trial], until: str, shown: Callable[[float], float]) -> tuple[Band, ...]:
    bands: list[Band] = []
    for trial in tried:
        value, good = shown(trial.value), trial.is_good(until)
        if bands and bands[-1].good == good:
            bands[-1] = Band(bands[-1].low, value, good)
        else:
            bands.append(Band(value, value, good))
    return tuple(bands)


def find_limits(
    case: Case,
    of: str = "slope",
    untils: tuple[str, ...] = ("lift",),
    low: float | None = None,
    high: float | None = None,
    tolerance: float | None = None,
    scan: int = 18,
    engine: str = "auto",
    watch: Callable[[Trial], None] | None = None,
    executor: Executor | None = None,
) -> tuple[Limit, ...]:
    """Limits of one case for several events at once; they share their runs.

    Args:
        of: slope, speed or bump; low, high, tolerance: SI, else the quantity's own;
        scan: values of the first grid; watch: called with every trial that was run.
        engine: `auto` searches in the compiled engine and runs the ends of each bracket
            again in the reference engine; a name is used for all.
        executor: runs trials side by side, the same ones whatever it has to do it with: threads
            for the compiled engine, which needs no interpreter, processes for the others.

    Raises:
        InputError: unknown quantity or event, or an empty range.
    """
    for until in untils:
        if until not in UNTIL:
            raise InputError(f"until '{until}' is not known; use {', '.join(UNTIL)}")
    search = Search(case, of, engine, watch, executor)
    varied = VARIED[of]
    low = varied.low if low is None else low
    high = varied.high if high is None else high
    tolerance = varied.tolerance if tolerance is None else tolerance
    if not (low < high and tolerance > 0.0 and scan >= 2):
        raise InputError(
            f"limit of {of}: low {varied.shown(low):g} {varied.unit} must be below high "
            f"{varied.shown(high):g} {varied.unit}, the tolerance positive, the scan 2 or more"
        )
    for end in (low, high):  # both must be allowed before the first run
        search.case_at(end)
    spacing = (high - low) / (scan - 1)
    search.try_all(low + spacing * k for k in range(scan))
    search.close_in(untils, tolerance, spacing)
    search.check(end.value for until in untils for end in search.ends(until) if end is not None)
    return tuple(search.answer(until, tolerance) for until in untils)


def find_limit(case: Case, of: str = "slope", until: str = "lift", **options: Any) -> Limit:
    """The limit of one case for one event; options as in `find_limits`."""
    return find_limits(case, of, (until,), **options)[0]
