"""The slope, speed or bump height at which a machine first lifts, leans or goes over.

A grid of runs brackets the change, bisection narrows it, and the whole grid is kept: where
good values lie above bad ones there is no threshold, and bands are reported instead.
"""

from collections.abc import Callable
from dataclasses import asdict, dataclass
from itertools import pairwise
from math import degrees, radians
from typing import Any

from sidehill.case import Case
from sidehill.engines import choose
from sidehill.errors import InputError
from sidehill.layout import Records
from sidehill.outcome import stop_reached, verdict, wheel_lifted
from sidehill.run import run

UNTIL = ("lift", "stop", "overturn")
COUNTED = {  # verdicts of a completed run that do not count against a limit
    "lift": ("crossed",),
    "stop": ("crossed", "wheel_lifted"),
    "overturn": ("crossed", "wheel_lifted", "on_stop"),
}


@dataclass(frozen=True)
class Varied:
    """A quantity that a limit is looked for in."""

    unit: str
    shown: Callable[[float], float]  # from SI to that unit
    low: float  # SI
    high: float
    tolerance: float


VARIED = {
    "slope": Varied("deg", degrees, radians(2.0), radians(35.0), radians(0.05)),
    "speed": Varied("m/s", float, 0.25, 6.0, 0.02),
    "bump": Varied("m", float, 0.01, 0.40, 0.001),
}


@dataclass(frozen=True)
class Trial:
    """One run at one value of the varied quantity."""

    value: float  # SI
    verdict: str
    lifted: bool
    stopped: bool
    leans: bool  # on its stop at the end

    def is_good(self, until: str) -> bool:
        """Whether the run came to its end without the event. Only this counts as good.

        With an open differential a machine that leans on its stop often stalls there, its
        uphill wheel spinning: that is an end short of overturning. Any other stall is not.
        """
        event = {"lift": self.lifted, "stop": self.stopped, "overturn": False}[until]
        hangs = until == "overturn" and self.verdict == "stalled" and self.leans
        return (self.verdict in COUNTED[until] or hangs) and not event


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

    @property
    def is_threshold(self) -> bool:
        """Whether all below is good and all above is bad, as far as was tried."""
        return len(self.bands) <= 2 and (not self.bands or self.bands[0].good)

    def to_dict(self) -> dict[str, Any]:
        """Plain values for JSON."""
        return asdict(self) | {"bands": [asdict(band) for band in self.bands]}


class Search:
    """Trials of one case over one quantity, each value run once."""

    def __init__(
        self,
        case: Case,
        of: str,
        engine: str = "auto",
        watch: Callable[[Trial], None] | None = None,
    ) -> None:
        if of not in VARIED:
            raise InputError(f"limit of '{of}' is not known; use {', '.join(VARIED)}")
        if of == "bump" and not case.scenario.feature:
            raise InputError("limit of bump: the scenario has no [[feature]] to grow")
        if case.scenario.course.is_tilt_table:
            raise InputError("limit: a tilt table has no verdict; use `drive` or `tip`")
        self.case, self.of, self.engine = case, of, choose(engine, many=True)
        self.reference = choose() if engine == "auto" else None
        self.watch = watch or (lambda _: None)
        self.trials: dict[float, Trial] = {}

    def trial(self, value: float) -> Trial:
        """The run at a value, SI."""
        if value not in self.trials:
            self.trials[value] = self._run(value, self.engine)
            self.watch(self.trials[value])
        return self.trials[value]

    def _run(self, value: float, engine: str) -> Trial:
        track = run(self.case_at(value), engine)
        return read_trial(value, track.state, track.flat.case["step"][0])

    def _agrees(self, until: str, ends: list[Trial]) -> bool | None:
        """Whether the reference engine says the same at the ends of the bracket."""
        if self.reference is None:
            return None
        again = [self._run(trial.value, self.reference) for trial in ends]
        return all(a.is_good(until) == b.is_good(until) for a, b in zip(ends, again, strict=True))

    def case_at(self, value: float) -> Case:
        """The case with the quantity at a value, SI; InputError where a file may not hold it."""
        if self.of == "slope":
            return self.case.with_scenario({"ground.slope": value})
        if self.of == "speed":
            return self.case.with_scenario({"drive.speed": value})
        count = len(self.case.scenario.feature)
        return self.case.with_scenario({f"feature.{i + 1}.height": value for i in range(count)})

    def narrow(self, until: str, tolerance: float) -> None:
        """Bisect the lowest change from good to bad."""
        while (edge := self._first_edge(until)) and edge[1] - edge[0] > tolerance:
            self.trial(0.5 * (edge[0] + edge[1]))

    def _first_edge(self, until: str) -> tuple[float, float] | None:
        tried = [self.trials[value] for value in sorted(self.trials)]
        for a, b in pairwise(tried):
            if a.is_good(until) and not b.is_good(until):
                return a.value, b.value
        return None

    def answer(self, until: str, tolerance: float) -> Limit:
        """What the trials say."""
        varied = VARIED[self.of]
        tried = [self.trials[value] for value in sorted(self.trials)]
        first_bad = next((trial for trial in tried if not trial.is_good(until)), None)
        good = [t for t in tried if first_bad is None or t.value < first_bad.value]
        ends = [*good[-1:], *([first_bad] if first_bad else [])]
        return Limit(
            quantity=self.of,
            until=until,
            highest_good=varied.shown(good[-1].value) if good else None,
            lowest_bad=varied.shown(first_bad.value) if first_bad else None,
            verdict_at_limit=first_bad.verdict if first_bad else None,
            unit=varied.unit,
            tolerance=varied.shown(tolerance),
            runs=len(tried),
            bands=_bands(tried, until, varied.shown),
            engine=self.engine,
            reference=self.reference,
            reference_agrees=self._agrees(until, ends),
        )


def read_trial(value: float, state: Records, step: float) -> Trial:
    """What a limit needs of a finished run."""
    judged = verdict(state, step)
    leans = bool(state["on_stop"][0] > 0.0)
    return Trial(value, judged, wheel_lifted(state, step), stop_reached(state), leans)


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
) -> tuple[Limit, ...]:
    """Limits of one case for several events at once; they share their runs.

    Args:
        of: slope, speed or bump; low, high, tolerance: SI, else the quantity's own;
        scan: values of the first grid; watch: called with every trial that was run.
        engine: `auto` searches in the compiled engine and runs the ends of each bracket
            again in the reference engine; a name is used for all.

    Raises:
        InputError: unknown quantity or event, or an empty range.
    """
    for until in untils:
        if until not in UNTIL:
            raise InputError(f"until '{until}' is not known; use {', '.join(UNTIL)}")
    search = Search(case, of, engine, watch)
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
    for k in range(scan):
        search.trial(low + (high - low) * k / (scan - 1))
    for until in untils:
        search.narrow(until, tolerance)
    return tuple(search.answer(until, tolerance) for until in untils)


def find_limit(case: Case, of: str = "slope", until: str = "lift", **options: Any) -> Limit:
    """The limit of one case for one event; options as in `find_limits`."""
    return find_limits(case, of, (until,), **options)[0]
