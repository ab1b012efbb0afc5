"""A slow bump under the uphill rear wheel: geometry, and a crossing in the simulation."""

from functools import partial
from math import degrees

import numpy as np

from sidehill.case import Case
from sidehill.crosscheck.check import Check, chosen
from sidehill.machine.file import load_machine
from sidehill.machine.outfit import Outfit
from sidehill.run import run
from sidehill.scenario.file import load_scenario
from sidehill.statics.bump import bump_roll

_SOURCE = (
    "asin(height / track), textbook geometry; behaviour follows the rear axle's angle: "
    "JSAM 79(1) 59-65, 2017, and JSAM 32(1) 16 (abstracts)"
)
_TRACK = 1.10  # [m]
_ROWS = ((50, 2.605), (100, 5.216), (150, 7.837))  # [mm], [deg]
# thin tyres that hardly give: the expected values are those of 5 MN/m or stiffer
_HARD = {"stiffness": 1e7, "lateral_ratio": 1.5, "width": 0.08, "volume": 0.01}
_ON_HARD_TYRES = {
    **{f"{end}_tyre.{key}": value for end in ("front", "rear") for key, value in _HARD.items()},
    "rear_tyre.track": _TRACK,
}
_SUNK, _BEFORE_THE_EDGE = 3.3, 3.8  # [m] path lengths between which the wheel is at the bottom
_SLOWLY = {
    "ground.slope": 0.0,
    "ground.rolling_resistance": 0.0,
    "drive.speed": 0.15,
    "course.length": 6.0,
    "run.step": 0.25e-3,
}


def _roll(millimetres: int) -> float:
    """[deg] in closed form."""
    return float(np.degrees(bump_roll(1e-3 * millimetres, _TRACK)))


def _peak(millimetres: int) -> float:
    """[deg] of a crossing at a crawl on level ground."""
    machine = load_machine("bramble").with_values(_ON_HARD_TYRES)
    bump = {"feature.1.height": 1e-3 * millimetres, "feature.1.at": 3.2, "feature.1.length": 2.0}
    scenario = load_scenario("bank-stone").with_values(_SLOWLY | bump)
    track = run(Case(machine, scenario, Outfit()), "compiled")
    return degrees(track.state["peak_roll"][0])


def _sunk(millimetres: int) -> float:
    """[deg] with the downhill rear wheel at the bottom of what gave way slowly, level ground."""
    machine = load_machine("bramble").with_values(_ON_HARD_TYRES)
    depth = {"feature.1.height": 1e-3 * millimetres, "feature.1.at": 3.4, "feature.1.time": 2.0}
    scenario = load_scenario("bank-washout").with_values(_SLOWLY | depth)
    rows = run(Case(machine, scenario, Outfit()), "compiled").written()
    at_rest = (rows["path"] > _SUNK) & (rows["path"] < _BEFORE_THE_EDGE)
    return degrees(float(rows["roll_slope"][at_rest].mean()))


CHECKS = tuple(
    Check(
        name="Slow bump",
        quantity=f"roll added by {millimetres} mm {how}",
        unit="deg",
        expected=expected,
        tolerance=chosen(0.05),
        source=_SOURCE,
        status="derived",
        compute=partial(compute, millimetres),
    )
    for how, compute in (
        ("under the uphill rear wheel", _roll),
        ("under the uphill rear wheel, simulated", _peak),
        ("that gives way slowly under the downhill rear wheel, simulated", _sunk),
    )
    for millimetres, expected in _ROWS
)
