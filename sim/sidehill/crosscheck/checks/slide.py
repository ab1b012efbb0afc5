"""Sliding before tipping."""

from functools import partial

import numpy as np

from sidehill.crosscheck.check import Check, Tolerance, printed
from sidehill.crosscheck.examples import CODE6_1
from sidehill.statics.hold import slide_slope
from sidehill.statics.slopes import rigid_slope

_FRICTION = (
    "friction published, secondary, citing Noon 1994, measured with cars; slides where friction "
    "is under tan(slope)"
)


def _slides(friction: float) -> float:
    return float(np.degrees(slide_slope(friction)))


def _tilt_table_ratio() -> float:
    return float(np.tan(rigid_slope(CODE6_1.tipping())))


CHECKS = (
    *(
        Check(
            name="Slide before tip",
            quantity=f"slides on {ground}, friction {friction}",
            unit="deg",
            expected=expected,
            tolerance=printed(0.1),
            source=_FRICTION,
            status="published",
            compute=partial(_slides, friction),
        )
        for ground, friction, expected in (("wet grass", 0.2, 11.3), ("dry asphalt", 0.65, 33.0))
    ),
    Check(
        name="Rigid vehicle",
        quantity="tilt-table ratio, T = 1.115 m, h = 0.762 m",
        unit="1",
        expected=1.115 / (2 * 0.762),
        tolerance=Tolerance(1e-12, True, "an identity: round-off only"),
        source=(
            "tilt-table ratio = static stability factor = T/2h: NHTSA rollover notice; "
            "TRB Special Report 265"
        ),
        status="published",
        compute=_tilt_table_ratio,
    ),
)
