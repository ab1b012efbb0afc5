"""A strip as a small drawing in the page: one band of slopes, and the slope asked about."""

from math import degrees

from markupsafe import Markup, escape

from sidehill.files.units import round_to
from sidehill.picture.faces import FACES, HATCHES, UNKNOWN_FACE, Face, face
from sidehill.run.facts import ARRIVAL, CALM, STABILITY, worst_seen
from sidehill.sheet.signs import WORDS
from sidehill.strip.stretch import Stretch, stretches
from sidehill.strip.strip import Strip

WIDE, HIGH = 350.0, 22.0  # of the drawing's own units: ten a degree
_STEEPEST = 35.0  # [deg] at the right end
_LEAST = 1.5  # units that anything but a good result is wide, so that no island is too narrow
# which pattern is which hatch of the pictures; white beside dark, to be seen on every shade
_PATTERNS = {
    HATCHES["not_across"]: (
        "slanted",
        '<rect x="1" width="2" height="6" fill="#fff"/><rect x="2" width="1" height="6" '
        'fill="#333"/>',
    ),
    HATCHES["not_started"]: (
        "dotted",
        '<circle cx="3" cy="3" r="2" fill="#fff"/><circle cx="3" cy="3" r="1.2" fill="#333"/>',
    ),
    UNKNOWN_FACE.hatch: ("crossed", '<path d="M3 0v6M0 3h6" stroke="#333" stroke-width="1"/>'),
}
_ORDER = {name: place for place, name in enumerate(STABILITY)}


def strip_svg(strip: Strip, asked: float, lift_off: float | None) -> Markup:
    """The strip; of two runs beside each other, and of two engines, the worse.

    Args:
        asked: [deg] the bank; lift_off: [deg] standing on its tyres, best estimate.
    """
    parts = [bands(strip)]
    if lift_off is not None and lift_off < _STEEPEST:
        parts.append(_line(lift_off, 13.0, HIGH, "lift"))
    parts.append(_line(asked, 0.0, HIGH, "asked halo") + _line(asked, 0.0, HIGH, "asked"))
    alt = "; ".join(told_in_words(strip)) or WORDS["unknown"]
    return Markup(
        f'<svg class="strip" viewBox="0 0 {WIDE:g} {HIGH:g}" preserveAspectRatio="none" '
        f'role="img" aria-label="{escape(alt)}">{"".join(parts)}</svg>'
    )


def _is_plain(part: Stretch) -> bool:
    """Whether it is drawn as good."""
    stability, came = worst_seen(part.facts)
    return stability in CALM and came == "arrived"


def _badness(part: Stretch) -> int:
    """In which order they are drawn, each over those before."""
    stability, _ = worst_seen(part.facts)
    if stability is None:
        return len(_ORDER)
    return -1 if _is_plain(part) else _ORDER[stability]


def bands(strip: Strip) -> str:
    """All of its stretches, what is worse over what is better."""
    return "".join(band(part) for part in sorted(stretches(strip), key=_badness))


def unknown() -> str:
    """The face of what is not known, over the whole range that strips are drawn over."""
    return (
        f'<rect x="10" y="4" width="{WIDE - 10.0:g}" height="{HIGH - 8.0:g}" '
        f'fill="{_hatch(UNKNOWN_FACE)}"/>'
    )


def band(part: Stretch) -> str:
    """A stretch; what is not good lies over its neighbours where it is narrow."""
    left, right = (10.0 * min(degrees(value), _STEEPEST) for value in (part.low, part.high))
    spare = 0.0 if _is_plain(part) else max(_LEAST - (right - left), 0.0) / 2.0
    drawn = face(*worst_seen(part.facts))
    fills = [drawn.fill, *([_hatch(drawn)] if drawn.hatch else [])]
    return "".join(
        f'<rect x="{left - spare:.2f}" y="4" width="{right - left + 2.0 * spare:.2f}" '
        f'height="{HIGH - 8.0:g}" fill="{fill}"/>'
        for fill in fills
    )


def _hatch(drawn: Face) -> str:
    return f"url(#{_PATTERNS[drawn.hatch][0]})"


def _line(at: float, top: float, bottom: float, name: str) -> str:
    return f'<path d="M{10.0 * at:.1f} {top:g}V{bottom:g}" class="{name}"/>'


def told_in_words(strip: Strip) -> list[str]:
    """The strip in words, neighbours with the same as one; what is good is rounded inward."""
    told: list[tuple[str, bool, float, float]] = []
    for part in stretches(strip):
        stability, came = worst_seen(part.facts)
        words = WORDS["unknown"]
        if stability is not None and came is not None:
            words = STABILITY[stability] + ("" if came == "arrived" else f", {ARRIVAL[came]}")
        start = told.pop()[2] if told and told[-1][0] == words else degrees(part.low)
        told.append((words, _is_plain(part), start, degrees(part.high)))
    inward = [
        (words, round_to(low, 1, "up"), round_to(high, 1, "down"))
        if plain
        else (words, round_to(low, 1, "down"), round_to(high, 1, "up"))
        for words, plain, low, high in told
    ]
    return [f"{low:.1f} to {high:.1f} deg {words}" for words, low, high in inward if low < high]


def pattern() -> Markup:
    """The hatches that all strips refer to; they must be drawn wherever strips are."""
    patterns = "".join(
        f'<pattern id="{name}" width="6" height="6" patternUnits="userSpaceOnUse" '
        f'patternTransform="rotate(45)">{drawn}</pattern>'
        for name, drawn in _PATTERNS.values()
    )
    return Markup(
        '<svg class="pattern" width="0" height="0" aria-hidden="true" focusable="false">'
        f"<defs>{patterns}</defs></svg>"
    )


def axis_svg() -> Markup:
    """Degrees over the bands."""
    ticks = "".join(
        f'<path d="M{10 * at} 46v-8" class="tick"/><text x="{10 * at}" y="33" '
        f'text-anchor="middle">{at}°</text>'
        for at in (10, 20, 30)
    )
    return Markup(f'<svg class="axis" viewBox="0 0 {WIDE:g} 46" aria-hidden="true">{ticks}</svg>')


def legend() -> tuple[tuple[Markup, str], ...]:
    """Swatches with their words."""
    plain = [(_swatch(shade.fill), WORDS[name]) for name, shade in FACES.items()]
    names = ("not_across", "not_started", "unknown")
    hatched = zip(_PATTERNS.values(), names, strict=True)
    return (*plain, *((_swatch(f"url(#{drawn})"), WORDS[name]) for (drawn, _), name in hatched))


def _swatch(fill: str) -> Markup:
    return Markup(
        '<svg class="swatch" viewBox="0 0 16 10" aria-hidden="true">'
        f'<rect width="16" height="10" fill="#fff"/><rect width="16" height="10" fill="{fill}" '
        'stroke="#333" stroke-width=".8"/></svg>'
    )
