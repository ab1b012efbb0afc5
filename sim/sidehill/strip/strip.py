"""A strip: what one outfit does at every value of one quantity."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import groupby
from typing import Any

from sidehill.case import Case
from sidehill.engines import REFERENCE, choose
from sidehill.files.errors import EngineError, InputError
from sidehill.run.facts import Facts
from sidehill.strip.limits import ALL_EVENTS, Limit, limit_of
from sidehill.strip.quantity import Varied, varied_by
from sidehill.strip.scan import Scan, any_change
from sidehill.strip.spot import Spot

# how each thing in hand is drawn: pictures are a room above, which enters itself here
PLOTTERS: dict[type, Callable[..., Any]] = {}


@dataclass(frozen=True)
class Band:
    """Neighbouring values with the same facts."""

    low: float  # SI
    high: float
    facts: Facts
    count: int  # values tried in it


@dataclass(frozen=True, repr=False)
class Strip:
    """What one outfit does at every value of one quantity. Values in SI.

    Attributes:
        varied: the quantity.
        feature: number of the feature, where one is varied.
        spots: the runs by rising value.
        scan: step of the scan: a narrower island is not seen.
        tolerance: to which changes were narrowed.
        runs: how many were made.
        engine: in which it was scanned.
        reference: engine in which both sides of each change were run again.
        fell_back: why not in the engine meant for it.
    """

    varied: Varied
    feature: int
    spots: tuple[Spot, ...]
    scan: float
    tolerance: float
    runs: int
    engine: str
    reference: str | None
    fell_back: str | None = None

    def limit(self, event: str) -> Limit:
        """How far it is short of an event of `limits.ALL_EVENTS`."""
        return limit_of(self.spots, event)

    def plot(self, title: str = "", kind: str = "png") -> Any:
        """The strip as a picture, which a notebook shows and `save(path)` writes."""
        return PLOTTERS[Strip](self, title, kind)

    def __repr__(self) -> str:
        low, high = (self.varied.show(spot.value) for spot in (self.spots[0], self.spots[-1]))
        return f"Strip({self.varied.words} {low} to {high}, {self.runs} runs, {self.engine})"

    def _repr_png_(self) -> bytes:
        content: bytes = self.plot().content
        return content

    def bands(self) -> tuple[Band, ...]:
        """The strip as neighbouring values with the same facts."""
        found = []
        for facts, group in groupby(self.spots, key=lambda spot: spot.facts):
            spots = list(group)
            found.append(Band(spots[0].value, spots[-1].value, facts, len(spots)))
        return tuple(found)

    def at(self, value: float) -> Spot:
        """The spot nearest to a value [SI] from above: what is proved there, or beyond."""
        above = [spot for spot in self.spots if spot.value >= value - 1e-12]
        return above[0] if above else self.spots[-1]

    @property
    def doubts(self) -> tuple[Spot, ...]:
        """Spots at which the reference engine says otherwise."""
        return tuple(spot for spot in self.spots if not spot.agrees)

    def to_dict(self) -> dict[str, Any]:
        """Plain values for JSON, in the quantity's unit."""
        shown = self.varied.from_si

        def value(number: float | None) -> float | None:
            return None if number is None else shown(number)

        events = {}
        for event in ALL_EVENTS:
            limit = self.limit(event)
            events[event] = {
                "good_up_to": value(limit.good_up_to),
                "first_bad": value(limit.first_bad),
                "unknown_from": value(limit.unknown_from),
                "good_again": [[shown(low), shown(high)] for low, high in limit.good_again],
            }
        return {
            "of": self.varied.name,
            "feature": self.feature if self.varied.is_of_a_feature else None,
            "unit": self.varied.unit,
            "values": [shown(spot.value) for spot in self.spots],
            "stability": [spot.outcome.stability for spot in self.spots],
            "progress": [spot.outcome.progress for spot in self.spots],
            "met": [spot.outcome.met for spot in self.spots],
            "events": events,
            "resolution": {"scan": shown(self.scan), "narrowed_to": shown(self.tolerance)},
            "runs": self.runs,
            "engine": self.engine,
            "reference": self.reference,
            "reference_differs_at": [shown(spot.value) for spot in self.doubts],
            "fell_back": self.fell_back,
        }


def take_strip(
    case: Case,
    of: str = "slope",
    *,
    feature: int = 1,
    low: float | None = None,
    high: float | None = None,
    scan: float | None = None,
    tolerance: float | None = None,
    until: Sequence[str] = (),
    engine: str = "auto",
    check: bool = True,
    watch: Callable[[Spot], None] = lambda _: None,
    heed: Callable[[], None] = lambda: None,
) -> Strip:
    """What a case does at every value of a quantity.

    Args:
        of: a key of `quantity.VARIED`.
        feature: number of the feature whose height is varied.
        low, high, scan, tolerance: [SI], else the quantity's own.
        until: events of `limits.ALL_EVENTS`: only changes that decide one of these are narrowed;
            none: every change of either fact.
        engine: `auto` scans in the compiled engine.
        check: both sides of each change are run again in the reference engine, with `auto`.
        watch: called with every spot.
        heed: called before every run, and what it raises ends the search.

    Raises:
        InputError: an unknown quantity or event, a feature that is not there, an empty range.
    """
    varied = varied_by(of)
    _refuse(case, varied, feature, until)
    low = varied.low if low is None else low
    top = _highest(case, varied, feature, low) if high is None else high
    scan = varied.scan if scan is None else scan
    tolerance = varied.tolerance if tolerance is None else tolerance
    if not (low < top and 0.0 < tolerance <= scan):
        raise InputError(
            f"limit of {of}: low {varied.show(low)} must be below high {varied.show(top)}, and the "
            f"tolerance {varied.show(tolerance)} above zero and within the scan {varied.show(scan)}"
        )
    for end in (low, top):  # both must be allowed before the first run
        varied.case_at(case, end, feature)
    name, reference = choose(engine, many=True), REFERENCE if engine == "auto" and check else None
    matters = _deciding(until) if until else any_change
    fell_back = None
    try:
        found = _scanned(
            Scan(case, varied, feature, name, matters, watch, heed), low, top, scan, tolerance
        )
    except EngineError as error:
        if engine != "auto":
            raise
        name, reference, fell_back = REFERENCE, None, str(error)
        found = _scanned(
            Scan(case, varied, feature, name, matters, watch, heed), low, top, scan, tolerance
        )
    if reference is not None:
        found.check(reference)
    spots = tuple(found.sorted())
    return Strip(varied, feature, spots, scan, tolerance, found.runs, name, reference, fell_back)


def _scanned(search: Scan, low: float, high: float, scan: float, tolerance: float) -> Scan:
    search.scan(low, high, scan)
    search.settle_changes(tolerance)
    return search


def _deciding(until: Sequence[str]) -> Callable[[Spot, Spot], bool]:
    """Whether a change decides one of the events."""

    def answer(spot: Spot) -> list[tuple[bool, bool]]:
        return [(spot.is_short_of(event), spot.has_reached(event)) for event in until]

    return lambda a, b: answer(a) != answer(b)


def _refuse(case: Case, varied: Varied, feature: int, until: Sequence[str]) -> None:
    unknown = [event for event in until if event not in ALL_EVENTS]
    if unknown:
        raise InputError(f"until '{unknown[0]}' is not known; use {', '.join(ALL_EVENTS)}")
    if case.scenario.course.is_tilt_table:
        raise InputError("limit: nothing is driven on a tilt table; use `drive` or `tip`")
    if varied.field == "drive.speed" and case.scenario.drive.then is not None:
        raise InputError(
            "limit of speed: drive.then changes the speed on the way; allowed: a scenario without"
        )
    if not varied.is_of_a_feature:
        return
    count = len(case.scenario.feature)
    if count == 0:
        raise InputError(f"limit of {varied.name}: the scenario has no [[feature]] to change")
    if not 1 <= feature <= count:
        raise InputError(f"feature {feature}: the scenario has {count}; allowed: 1 to {count}")


def _highest(case: Case, varied: Varied, feature: int, low: float) -> float:
    """[SI] the quantity's own high end, or the highest on the scan that a file may hold."""
    high = varied.high
    while high > low:
        try:
            varied.case_at(case, high, feature)
        except InputError:
            high -= varied.scan
        else:
            return high
    return varied.high
