"""Rough ground: ISO 8608 profiles from seeded sinusoids, left and right partly alike.

The displacement PSD over spatial frequency n is Gd(n) = Gd(n0) (n / n0)^-2, n0 = 0.1
cycle/m (ISO 8608; published in two secondary sources). A profile is a sum of sinusoids
of random phase whose powers are the PSD's over their bands.
"""

from functools import cache, lru_cache
from math import ceil
from typing import NamedTuple

import numpy as np
from scipy.ndimage import spline_filter

from sidehill.kernels.layout import Vector
from sidehill.terrain.course import Way

REFERENCE = 0.1  # [cycle/m] n0
LOWEST, HIGHEST = 0.011, 2.83  # [cycle/m] band of the standard
WAVES = 400  # sinusoids, evenly spaced in the logarithm of their frequency
SPACING = 0.05  # [m] of the grid: seven nodes to the shortest wave
HALF_GAUGE = 0.5  # [m] left and right profile apply beyond this offset from the path
FADE = (2.5, 4.5)  # [m] the roughness fades in between: a machine starts on a plane
KEPT = 16  # reliefs; a search of limits runs tens of times on one


class Rough(NamedTuple):
    """What of a scenario's ground decides how rough it is."""

    roughness: float  # [m^3] Gd(n0)
    seed: int
    coherence: float  # left to right


@cache
def bands() -> tuple[Vector, Vector]:
    """Centre frequencies (WAVES,) [cycle/m] and widths of the bands."""
    edges = np.geomspace(LOWEST, HIGHEST, WAVES + 1)
    return np.sqrt(edges[1:] * edges[:-1]), np.diff(edges)


def profile(roughness: float, along: Vector, random: np.random.Generator) -> Vector:
    """(n,) [m] one profile at path lengths `along` (n,) [m].

    Args:
        roughness: [m^3] Gd(n0).
        random: where the phases come from.
    """
    return _profile(roughness, _turns(along), random)


def _turns(along: Vector) -> Vector:
    """(n, WAVES) [rad] that each wave has turned at those path lengths."""
    return np.asarray(2.0 * np.pi * np.outer(along, bands()[0]))


def _profile(roughness: float, turns: Vector, random: np.random.Generator) -> Vector:
    n, width = bands()
    # the exact power of each band, so that the sum has the PSD's own variance
    power = roughness * REFERENCE**2 * width / (n**2 - (width / 2) ** 2)
    waves = turns + random.uniform(0.0, 2.0 * np.pi, WAVES)
    np.cos(waves, out=waves)
    return np.asarray(waves @ np.sqrt(2.0 * power))


def tracks(rough: Rough, along: Vector) -> tuple[Vector, Vector]:
    """(n,), (n,) [m] left and right profile, each of full power, coherent as asked."""
    random, turns = np.random.default_rng(rough.seed), _turns(along)
    common, left, right = (_profile(rough.roughness, turns, random) for _ in range(3))
    shared, own = np.sqrt(rough.coherence), np.sqrt(1.0 - rough.coherence)
    return shared * common + own * left, shared * common + own * right


@lru_cache(maxsize=KEPT)
def rough_relief(rough: Rough, way: Way) -> tuple[Vector, Vector]:
    """Spline coefficients of the relief and their place, as in `Ground`."""
    (x0, x1), (y0, y1) = way.box()
    x = x0 + SPACING * np.arange(ceil((x1 - x0) / SPACING) + 1)
    y = y0 + SPACING * np.arange(ceil((y1 - y0) / SPACING) + 1)
    along, off = way.nearest(*np.meshgrid(x, y))
    fine = np.arange(along.min(), along.max() + SPACING, SPACING)
    left, right = tracks(rough, fine)
    angle = np.pi / 4.0 * (1.0 - np.clip(off / HALF_GAUGE, -1.0, 1.0))
    share = np.clip((along - FADE[0]) / (FADE[1] - FADE[0]), 0.0, 1.0)
    height = np.cos(angle) * np.interp(along, fine, left)
    height += np.sin(angle) * np.interp(along, fine, right)
    height *= share * share * (3.0 - 2.0 * share)
    return spline_filter(height, order=3), np.array([x0, y0, 1.0 / SPACING])
