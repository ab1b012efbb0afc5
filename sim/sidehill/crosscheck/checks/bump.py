"""A slow bump under the uphill rear wheel."""

from functools import partial

import numpy as np

from sidehill.crosscheck.check import Check, printed
from sidehill.statics.bump import bump_roll

_SOURCE = (
    "asin(height / track), textbook geometry; behaviour follows the rear axle's angle: "
    "JSAM 79(1) 59-65, 2017, and JSAM 32(1) 16 (abstracts)"
)


def _roll(millimetres: int) -> float:
    """[deg] on a track of 1.10 m."""
    return float(np.degrees(bump_roll(1e-3 * millimetres, 1.10)))


CHECKS = tuple(
    Check(
        name="Slow bump",
        quantity=f"roll added by {millimetres} mm under the uphill rear wheel",
        unit="deg",
        expected=expected,
        tolerance=printed(0.05),
        source=_SOURCE,
        status="derived",
        compute=partial(_roll, millimetres),
    )
    for millimetres, expected in ((50, 2.605), (100, 5.216), (150, 7.837))
)
