"""A strip on the page: drawn as the sheet draws it, each slope that was tried a cell to open."""

from collections.abc import Iterable, Sequence
from itertools import pairwise
from math import degrees, radians

from markupsafe import Markup, escape

from sidehill.desk.search import Found
from sidehill.files.units import show_slope
from sidehill.sheet.strips_svg import HIGH, band, bands, told_in_words, unknown
from sidehill.strip.spot import Spot
from sidehill.strip.stretch import Stretch
from sidehill.strip.words import facts_words

WIDE = 360  # of the drawing's own units: ten a degree
_MARK = radians(0.2)  # to each side of a slope that was tried while others are not yet
_NARROWEST = 0.1  # [deg] of a cell to point at


def strip_svg(found: Found, asked: float, lift_off: float | None, number: str) -> Markup:
    """The strip of a case, whole or as far as it is known.

    Args:
        asked: [rad] the bank; lift_off: [rad] standing, best estimate;
        number: of the option, as cells name it.
    """
    strip = found.strip
    drawn, spots = unknown() + _partly(found.spots), found.spots
    alt = "not computed" if found.problem else "being computed"
    if strip is not None:
        drawn, alt, spots = bands(strip), "; ".join(told_in_words(strip)), strip.spots
    lines = _line(degrees(asked), 0, "asked")
    if lift_off is not None and degrees(lift_off) < WIDE / 10:
        lines += _line(degrees(lift_off), 13, "lift")
    return Markup(
        f'<svg class="strip" viewBox="0 0 {WIDE + 10} {HIGH:g}" role="img" '
        f'aria-label="{escape(alt)}">'
        f'<rect class="frame" x="10" y="4" width="340" height="{HIGH - 8:g}"/>'
        f"{drawn}{lines}{''.join(_cells(spots, number))}</svg>"
    )


def _partly(spots: Sequence[Spot]) -> str:
    """Only what was tried: between two marks nothing is known yet."""
    marks = (Stretch(s.value - _MARK, s.value + _MARK, s.told) for s in spots)
    return "".join(band(mark) for mark in marks)


def _line(at: float, top: int, name: str) -> str:
    path = f'd="M{10 * at:.1f} {top}V{HIGH:g}"'
    return f'<path {path} class="halo"/><path {path} class="{name}"/>'


def _cells(spots: Sequence[Spot], number: str) -> Iterable[str]:
    """A place to point at for each slope that was tried, from halfway to halfway."""
    ordered = sorted(spots, key=lambda one: one.value)
    values = [degrees(spot.value) for spot in ordered]
    middles = [(a + b) / 2.0 for a, b in pairwise(values)]
    for spot, low, high in zip(
        ordered, [*values[:1], *middles], [*middles, *values[-1:]], strict=True
    ):
        wide = max(high - low, _NARROWEST)
        words = f"{show_slope(spot.value)}: {spot_words(spot)}"
        yield (
            f'<rect class="cell" x="{10 * low:.1f}" y="0" width="{10 * wide:.1f}" '
            f'height="{HIGH:g}" data-way="{number}" data-value="{degrees(spot.value)!r}">'
            f"<title>{escape(words)}</title></rect>"
        )


def spot_words(spot: Spot) -> str:
    """What a run of a strip came to, in the words of its facts; never the kinder engine's."""
    told = facts_words(spot.outcome.stability, spot.outcome.progress)
    missed = "" if spot.outcome.met or spot.outcome.met is None else "; not everything was met"
    other = "" if spot.agrees else "; the second engine says otherwise"
    return f"{told}{missed}{other}"


def axis() -> Markup:
    """Degrees under a strip."""
    ticks = "".join(
        f'<path d="M{10 * at} 0v4" class="tick"/><text x="{10 * at}" y="13">{at}°</text>'
        for at in (5, 10, 15, 20, 25, 30, 35)
    )
    return Markup(
        f'<svg class="axis" viewBox="0 0 {WIDE + 10} 15" aria-hidden="true">{ticks}</svg>'
    )
