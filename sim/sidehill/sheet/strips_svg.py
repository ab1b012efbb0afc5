"""A strip as a small drawing in the page: one band of slopes, and the slope asked about."""

from itertools import pairwise
from math import degrees

from markupsafe import Markup, escape

from sidehill.picture.faces import FACES
from sidehill.run.facts import ARRIVED, STABILITY
from sidehill.sheet.signs import WORDS
from sidehill.strip.strip import Strip

WIDE, HIGH = 350.0, 22.0  # of the drawing's own units: ten a degree
_STEEPEST = 35.0  # [deg] at the right end
_HATCH = "hatch"  # id of the pattern, which the page defines once
SHADES = {name: face.fill for name, face in FACES.items()}  # as in every picture
_UNKNOWN = "#ffffff"


def strip_svg(strip: Strip, asked: float, lift_off: float | None) -> Markup:
    """The band.

    Args:
        asked: [deg] the bank; lift_off: [deg] standing on its tyres, best estimate.
    """
    edges = _edges([degrees(spot.value) for spot in strip.spots])
    parts = []
    for band in strip.bands():
        left, right = edges[degrees(band.low)][0], edges[degrees(band.high)][1]
        stability, progress, met = band.facts
        shade = _UNKNOWN if stability is None else SHADES[stability]
        parts.append(_rect(left, right, shade))
        if progress not in ARRIVED or not met:
            parts.append(_rect(left, right, f"url(#{_HATCH})"))
    if lift_off is not None and lift_off < _STEEPEST:
        parts.append(_line(lift_off, 13.0, HIGH, "lift"))
    parts.append(_line(asked, 0.0, HIGH, "asked halo") + _line(asked, 0.0, HIGH, "asked"))
    alt = "; ".join(_told(strip))
    return Markup(
        f'<svg class="strip" viewBox="0 0 {WIDE:g} {HIGH:g}" preserveAspectRatio="none" '
        f'role="img" aria-label="{escape(alt)}">{"".join(parts)}</svg>'
    )


def _edges(values: list[float]) -> dict[float, tuple[float, float]]:
    """[deg] from where to where a value stands: halfway to its neighbours."""
    middles = [(a + b) / 2.0 for a, b in pairwise(values)]
    spans = zip([values[0], *middles], [*middles, values[-1]], strict=True)
    return dict(zip(values, spans, strict=True))


def _rect(left: float, right: float, fill: str) -> str:
    x, width = 10.0 * left, 10.0 * max(min(right, _STEEPEST) - left, 0.0)
    return f'<rect x="{x:.1f}" y="4" width="{width:.1f}" height="{HIGH - 8.0:g}" fill="{fill}"/>'


def _line(at: float, top: float, bottom: float, name: str) -> str:
    return f'<path d="M{10.0 * at:.1f} {top:g}V{bottom:g}" class="{name}"/>'


def _told(strip: Strip) -> list[str]:
    """The band in words, neighbours with the same wheels' worst as one."""
    told: list[tuple[str, float, float]] = []
    for band in strip.bands():
        name = STABILITY.get(band.facts[0] or "", "not computed")
        if told and told[-1][0] == name:
            told[-1] = (name, told[-1][1], degrees(band.high))
        else:
            told.append((name, degrees(band.low), degrees(band.high)))
    return [f"{low:.1f} to {high:.1f} deg {name}" for name, low, high in told]


def pattern() -> Markup:
    """The hatch that all bands refer to; it must be drawn wherever they are."""
    return Markup(
        '<svg class="pattern" width="0" height="0" aria-hidden="true" focusable="false"><defs>'
        f'<pattern id="{_HATCH}" width="6" height="6" patternUnits="userSpaceOnUse" '
        'patternTransform="rotate(45)"><rect width="2" height="6" fill="#fff"/>'
        '<rect x="2" width="1" height="6" fill="#333"/></pattern></defs></svg>'
    )


def axis_svg() -> Markup:
    """Degrees over the bands."""
    ticks = "".join(
        f'<path d="M{10 * at} 0v4" class="tick"/><text x="{10 * at}" y="19" '
        f'text-anchor="middle">{at}°</text>'
        for at in (5, 10, 15, 20, 25, 30)
    )
    return Markup(f'<svg class="axis" viewBox="0 0 {WIDE:g} 22" aria-hidden="true">{ticks}</svg>')


def legend() -> tuple[tuple[Markup, str], ...]:
    """Swatches with their words."""
    plain = [(_swatch(shade), WORDS[name]) for name, shade in SHADES.items()]
    return (*plain, (_swatch(f"url(#{_HATCH})"), WORDS["not_across"]))


def _swatch(fill: str) -> Markup:
    return Markup(
        '<svg class="swatch" viewBox="0 0 16 10" aria-hidden="true">'
        f'<rect width="16" height="10" fill="#fff"/><rect width="16" height="10" fill="{fill}" '
        'stroke="#333" stroke-width=".8"/></svg>'
    )
