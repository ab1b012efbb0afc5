"""Sliding before tipping."""

from functools import partial
from math import nan

import numpy as np

from sidehill.case import Case
from sidehill.crosscheck.check import Check, Tolerance, chosen
from sidehill.crosscheck.examples import CODE6_1
from sidehill.machine.file import load_machine
from sidehill.machine.outfit import Outfit
from sidehill.run import run
from sidehill.scenario.file import load_scenario
from sidehill.statics.hold import slide_slope
from sidehill.statics.slopes import rigid_slope

_FRICTION = (
    "friction published, secondary, citing Noon 1994, measured with cars; the slope derived: it "
    "slides where friction is under tan(slope)"
)

_WIDE = Outfit(rear_spacer="400 mm", front_spacer="400 mm")


def _slides(friction: float) -> float:
    return float(np.degrees(slide_slope(friction)))


def _begins_to_slide(friction: float) -> float:
    """[deg] at which every wheel slips, parked on a table in the simulation.

    On the widest outfit, so that nothing lifts before.
    """
    machine = load_machine("bramble")
    scenario = load_scenario("tilt-table").with_values({"ground.friction": friction})
    rows = run(Case(machine, scenario, _WIDE), "compiled").written()
    slips = rows["slip"].min(axis=1) >= 1.0
    return float(np.degrees(rows["slope"][np.argmax(slips)])) if slips.any() else nan


def _tilt_table_ratio() -> float:
    return float(np.tan(rigid_slope(CODE6_1.tipping())))


CHECKS = (
    *(
        Check(
            name="Slide before tip",
            quantity=f"slides on {ground}, friction {friction}{how}",
            unit="deg",
            expected=expected,
            tolerance=chosen(0.1),
            source=_FRICTION,
            status="derived",
            compute=partial(compute, friction),
        )
        for how, compute in (("", _slides), (", simulated", _begins_to_slide))
        for ground, friction, expected in (("wet grass", 0.2, 11.3), ("dry asphalt", 0.65, 33.0))
    ),
    Check(
        name="Rigid vehicle",
        quantity="tilt-table ratio, T = 1.115 m, h = 0.762 m",
        unit="1",
        expected=1.115 / (2 * 0.762),
        tolerance=Tolerance(1e-12, True, "an identity: round-off only"),
        source=(
            "tilt-table ratio = static stability factor = T/2h: formula published, NHTSA rollover "
            "notice and TRB Special Report 265; the value derived"
        ),
        status="derived",
        compute=_tilt_table_ratio,
    ),
)
