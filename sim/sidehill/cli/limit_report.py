"""A strip and its limits for people, and as JSON."""

from math import degrees, isfinite
from typing import Any

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
    return (
        found.job.to_dict()
        | found.strip.to_dict()
        | {
            "standing_lift_off_slope_deg": standing,
            "picture": found.file,
        }
    )


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
    case, varied = job.case, strip.varied
    out.print(f"{case.machine.name}, {case.scenario.title}, {engine_words(strip)}", style="bold")
    line = bar(strip)
    ends = [varied.show(strip.spots[k].value, us=us) for k in (0, -1)]
    out.print(f"{varied.words}, {ends[0]} to {ends[1]}")
    out.print(f"|{line}|")
    for words in legend(line):
        out.print(f"   {words}")
    for band in strip.bands():
        out.print(f"  {band_line(strip, band, us=us)}")
    console.lines(out, {EVENT_WORDS[e]: limit_words(strip, e, us=us) for e in ALL_EVENTS})
    if found.lift_off is not None:
        out.print(
            "standing still, on tyres that give, a wheel lifts at "
            f"{threshold(degrees(found.lift_off))}"
        )
    for spot in strip.doubts:
        out.print(
            f"DISAGREEMENT at {varied.show(spot.value, us=us)}: {strip.reference} says "
            "otherwise; no limit is drawn from the better of the two",
            style="bold",
        )
    out.print(f"{strip.runs} runs; {island_words(strip)}")
    if found.file is not None:
        out.print(f"wrote {found.file}")
    console.close(out, job.warnings, job.fitted.notes, job.defaults)
