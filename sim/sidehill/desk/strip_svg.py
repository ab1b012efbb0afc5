"""A strip on the page: what is known at every slope, each tried one a cell that opens its run."""

from collections.abc import Iterable, Sequence
from itertools import pairwise
from math import degrees, radians

from markupsafe import Markup, escape

from sidehill.desk.search import Found
from sidehill.files.units import show_slope
from sidehill.picture.faces import FACES, HATCHES, UNKNOWN_FACE, Face, face
from sidehill.run.facts import worst_seen
from sidehill.strip.spot import Spot
from sidehill.strip.stretch import stretches
from sidehill.strip.words import facts_words

WIDE, HIGH = 360, 30  # of the drawing's own units: ten a degree
_TOP, _THICK = 5, 20
_MARK = 0.2  # [deg] to each side of a slope that was tried while others are not yet
_PATTERNS = {"////": "across", "oo": "start", "xxxx": "unknown"}
_NARROWEST = 0.1  # [deg] of a cell to point at


def strip_svg(found: Found, asked: float, lift_off: float | None, number: str) -> Markup:
    """The strip of a case, whole or as far as it is known.

    Args:
        asked: [rad] the bank; lift_off: [rad] standing, best estimate;
        number: of the option, as cells name it.
    """
    parts, alt = (_whole(found), _told(found)) if found.strip is not None else _partly(found.spots)
    parts += [_line(degrees(asked), 0, HIGH, "asked")]
    if lift_off is not None and degrees(lift_off) < WIDE / 10:
        parts.append(_line(degrees(lift_off), _TOP + 9, HIGH, "lift"))
    spots = found.spots if found.strip is None else found.strip.spots
    cells = "".join(_cells(spots, number))
    return Markup(
        f'<svg class="strip" viewBox="0 0 {WIDE} {HIGH}" role="img" '
        f'aria-label="{escape(alt)}"><rect class="frame" x="10" y="{_TOP}" width="340" '
        f'height="{_THICK}"/>{"".join(parts)}{cells}</svg>'
    )


def _whole(found: Found) -> list[str]:
    """Every piece between two changes; between two runs that differ, the worse of both."""
    assert found.strip is not None
    return [
        _piece(degrees(part.low), degrees(part.high), face(*worst_seen(part.facts)))
        for part in stretches(found.strip)
    ]


def _partly(spots: Sequence[Spot]) -> tuple[list[str], str]:
    """Only what was tried: between two marks nothing is known yet."""
    parts = []
    for spot in sorted(spots, key=lambda one: one.value):
        at = degrees(spot.value)
        parts.append(_piece(at - _MARK, at + _MARK, face(*worst_seen(spot.told))))
    return parts, f"being computed: {len(spots)} slopes tried so far"


def _piece(low: float, high: float, known: Face) -> str:
    where = f'x="{10 * low:.1f}" y="{_TOP}" width="{10 * (high - low):.1f}" height="{_THICK}"'
    plain = f'<rect {where} fill="{known.fill}"/>'
    if not known.hatch:
        return plain
    return f'{plain}<rect {where} fill="url(#{pattern_id(known)})"/>'


def _line(at: float, top: int, bottom: int, name: str) -> str:
    path = f'd="M{10 * at:.1f} {top}V{bottom}"'
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
            f'height="{HIGH}" data-way="{number}" data-value="{degrees(spot.value)!r}">'
            f"<title>{escape(words)}</title></rect>"
        )


def spot_words(spot: Spot) -> str:
    """What a run of a strip came to, in the words of its facts; never the kinder engine's."""
    told = facts_words(spot.outcome.stability, spot.outcome.progress)
    missed = "" if spot.outcome.met or spot.outcome.met is None else "; not everything was met"
    other = "" if spot.agrees else "; the second engine says otherwise"
    return f"{told}{missed}{other}"


def _told(found: Found) -> str:
    """The strip in words, a part for each change."""
    assert found.strip is not None
    told = []
    for band in found.strip.bands():
        low, high = show_slope(band.low), show_slope(band.high)
        span = low if band.low == band.high else f"{low} to {high}"
        told.append(f"{span}: {facts_words(band.facts[0], band.facts[1])}")
    return ". ".join(told)


def pattern_id(known: Face, ink: str = "") -> str:
    """Id of the hatch on that fill."""
    light = known.ink == "white"
    return f"hatch-{_PATTERNS[known.hatch]}{'-light' if light else ''}{ink}"


def patterns() -> Markup:
    """The hatches that all strips refer to: defined once in the page."""
    drawn = []
    for light, ink in (("", "#333538"), ("-light", "#ffffff")):
        lines = f'stroke="{ink}" stroke-width=".8" fill="none"'
        drawn += [
            _pattern(f"hatch-across{light}", f'<path d="M-1 1l2-2M0 5l5-5M4 6l2-2" {lines}/>'),
            _pattern(f"hatch-start{light}", f'<circle cx="2.5" cy="2.5" r="1.5" {lines}/>'),
            _pattern(f"hatch-unknown{light}", f'<path d="M0 5l5-5M0 0l5 5" {lines}/>'),
        ]
    return Markup(
        '<svg class="patterns" width="0" height="0" aria-hidden="true" focusable="false"><defs>'
        f"{''.join(drawn)}</defs></svg>"
    )


def _pattern(name: str, inside: str) -> str:
    return (
        f'<pattern id="{name}" width="5" height="5" patternUnits="userSpaceOnUse">{inside}'
        "</pattern>"
    )


def axis() -> Markup:
    """Degrees and percent under the strips."""
    ticks = "".join(
        f'<path d="M{10 * at} 0v5" class="tick"/><text x="{10 * at}" y="17">{at}°</text>'
        for at in (5, 10, 15, 20, 25, 30, 35)
    )
    return Markup(f'<svg class="axis" viewBox="0 0 {WIDE} 20" aria-hidden="true">{ticks}</svg>')


def legend() -> list[tuple[Markup, str]]:
    """Swatches with their words, from good to bad, then the hatches."""
    from sidehill.run.facts import ARRIVAL

    plain = [(known, known.words) for known in FACES.values()]
    hatched = [(Face("", "#fff", hatch), ARRIVAL[name]) for name, hatch in HATCHES.items() if hatch]
    return [
        (_swatch(known), words)
        for known, words in (*plain, *hatched, (UNKNOWN_FACE, "could not be computed"))
    ]


def _swatch(known: Face) -> Markup:
    fill = "#fff" if known.fill == "white" else known.fill
    over = f'<rect width="24" height="14" fill="url(#{pattern_id(known)})"/>' if known.hatch else ""
    return Markup(
        '<svg class="swatch" viewBox="0 0 24 14" aria-hidden="true">'
        f'<rect width="24" height="14" fill="{fill}" stroke="#333538"/>{over}</svg>'
    )


def in_radians(text: str) -> float:
    """[rad] of a cell's value as the page gives it back."""
    return radians(float(text))
