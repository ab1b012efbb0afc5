"""A strip and its limits in words: limits rounded down, nothing made to look good."""

from sidehill.files.units import NOT_COMPUTED, Rounding, show_step
from sidehill.run.facts import NOT_ACROSS, NOT_STARTED, PROGRESS, STABILITY
from sidehill.strip.limits import Limit
from sidehill.strip.strip import Band, Strip

EVENT_WORDS = {
    "hopped": "a wheel hops",
    "lifted": "a wheel lifts",
    "on_stop": "it comes onto its axle stop",
    "overturned": "it goes over",
    NOT_ACROSS: "it does not get across",
    NOT_STARTED: PROGRESS[NOT_STARTED],
}


def facts_words(stability: str | None, progress: str | None) -> str:
    """Two facts in plain words."""
    if stability is None or progress is None:
        return NOT_COMPUTED
    if stability == "overturned" and progress == "over":
        return PROGRESS["over"]
    return f"{STABILITY[stability]}; {PROGRESS[progress]}"


def limit_words(strip: Strip, event: str, *, us: bool = False) -> str:
    """A limit in one line; a missing one is never made to look good."""
    limit = strip.limit(event)

    def show(value: float, rounding: Rounding = "down") -> str:
        return strip.varied.show(value, rounding, us=us)

    what = EVENT_WORDS[event]
    if limit.runs_backwards:
        ranges = " and ".join(
            f"{show(low, 'up')} to {show(high)}" for low, high in limit.good_again
        )
        return f"no limit: {what} at the lowest tried, not from {ranges}"
    if limit.good_up_to is None:
        return _never_short(strip, limit, what, show(strip.spots[0].value, "up"))
    good = show(limit.good_up_to)
    if limit.is_open:
        return f"not up to {good}, the highest tried"
    if limit.unknown_from is not None:
        told = f"not up to {good}; from there nothing is proved: {_ending(strip, limit)}"
    else:
        told = f"not up to {good}; then {what}"
    return f"{told}; result jumps above that" if limit.alternates else told


def _never_short(strip: Strip, limit: Limit, what: str, lowest: str) -> str:
    if limit.unknown_from is not None:
        return f"nothing is proved from the lowest tried ({lowest}) on: {_ending(strip, limit)}"
    return f"{what} at every {strip.varied.words} tried, from {lowest} on"


def _ending(strip: Strip, limit: Limit) -> str:
    """What the first run past the last one that proves something came to."""
    spot = next(spot for spot in strip.spots if spot.value == limit.unknown_from)
    return spot.outcome.why or NOT_COMPUTED


def band_line(strip: Strip, band: Band, *, us: bool = False) -> str:
    """One line of neighbouring values with the same facts."""
    low, high = (strip.varied.show(value, us=us) for value in (band.low, band.high))
    stability, progress, met = band.facts
    known = stability is not None and progress is not None
    missed = ", not everything met" if known and not met and progress != "not_started" else ""
    span = low if band.low == band.high else f"{low} to {high}"
    return f"{span}: {stability or NOT_COMPUTED}, {progress or NOT_COMPUTED}{missed}"


def island_words(strip: Strip) -> str:
    """What the scan may hide."""
    step, narrowed = (
        show_step(width, strip.varied.dimension) for width in (strip.scan, strip.tolerance)
    )
    return (
        f"tried every {step}, each change narrowed to {narrowed}: what comes and goes within one "
        "step of the scan is not seen"
    )
