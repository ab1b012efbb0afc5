"""A strip and its limits for people, and as JSON."""

from math import degrees, isfinite
from typing import Any

from rich.console import Console

from sidehill.cli import console
from sidehill.cli.limit_run import Found
from sidehill.run.words import threshold
from sidehill.strip.bar import bar, legend
from sidehill.strip.limits import ALL_EVENTS
from sidehill.strip.strip import Strip
from sidehill.strip.words import EVENT_WORDS, band_line, island_words, limit_words


def data(found: Found) -> dict[str, Any]:
    """Plain values for JSON; what is not known is None."""
    lift_off = found.lift_off
    standing = None if lift_off is None or not isfinite(lift_off) else degrees(lift_off)
    other = None if found.other is None else found.other.to_dict()
    own, *others = found.by_law
    return (
        found.job.to_dict()
        | found.strip.to_dict()
        | {
            "tyre": own,
            "other_tyre": {"tyre": others[0], **other} if other is not None else None,
            "lower": {event: _lower(found, event) for event in ALL_EVENTS},
            "standing_lift_off_slope_deg": standing,
            "picture": found.file,
        }
    )


def _lower(found: Found, event: str) -> dict[str, Any]:
    """The lower of the limits under the laws that were run, and under which."""
    law, strip = found.lower(event)
    good = strip.limit(event).good_up_to
    return {"tyre": law, "good_up_to": None if good is None else strip.varied.from_si(good)}


def engine_words(strip: Strip) -> str:
    """Which engine ran it, and what the reference engine said of it."""
    if strip.fell_back is not None:
        return f"engine {strip.engine} alone ({strip.fell_back})"
    if strip.reference is None:
        return f"engine {strip.engine}"
    return f"engine {strip.engine}, both sides of each change again in {strip.reference}"


def tell(found: Found, *, us: bool) -> None:
    """Print it: the strip as a line of letters and as ranges, then its limits."""
    out, job, strip = console.out(), found.job, found.strip
    case = job.case
    out.print(f"{case.machine.name}, {case.scenario.title}, {engine_words(strip)}", style="bold")
    for law, taken in found.by_law.items():
        _tell_strip(out, taken, "" if found.other is None else f", tyre law {law}", us=us)
    if found.other is not None:
        out.print("limits: the lower under the two tyre laws; a real tyre mostly lies between them")
    console.lines(out, {EVENT_WORDS[e]: lower_words(found, e, us=us) for e in ALL_EVENTS})
    if found.other is None and not case.scenario.is_even:
        law = case.scenario.run.tyre
        out.print(f"under tyre law {law} alone: under the other a wheel may lift earlier")
    if found.lift_off is not None:
        loader = case.scenario.loader and ", the loader where on its way it lifts first"
        out.print(
            f"standing still, on tyres that give{loader or ''}, a wheel lifts at "
            f"{threshold(degrees(found.lift_off))}"
        )
    runs = sum(taken.runs for taken in found.by_law.values())
    out.print(f"{runs} runs; {island_words(strip)}")
    if found.file is not None:
        out.print(f"wrote {found.file}")
    console.close(out, job.warnings, job.fitted.notes, job.defaults)


def _tell_strip(out: Console, strip: Strip, under: str, *, us: bool) -> None:
    """A strip as a line of letters, as ranges, and where two engines differ."""
    line, varied = bar(strip), strip.varied
    ends = [varied.show(strip.spots[k].value, us=us) for k in (0, -1)]
    out.print(f"{varied.words}, {ends[0]} to {ends[1]}{under}")
    out.print(f"|{line}|")
    for words in legend(line):
        out.print(f"   {words}")
    for band in strip.bands():
        out.print(f"  {band_line(strip, band, us=us)}")
    for spot in strip.doubts:
        out.print(
            f"DISAGREEMENT at {varied.show(spot.value, us=us)}: {strip.reference} says "
            "otherwise; no limit is drawn from the better of the two",
            style="bold",
        )


def lower_words(found: Found, event: str, *, us: bool = False) -> str:
    """The lower of the limits under the laws that were run; where they differ, under which."""
    law, strip = found.lower(event)
    told = limit_words(strip, event, us=us)
    every = {limit_words(taken, event, us=us) for taken in found.by_law.values()}
    return told if len(every) == 1 else f"{told} (tyre law {law})"
