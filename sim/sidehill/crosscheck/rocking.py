"""A rocking block in the engines: the ground contact of the fall and its dynamics, by themselves.

A machine of which next to nothing is left but the chassis, which has the block's mass and inertia
and touches the ground at the four corners of its base.
"""

from dataclasses import replace
from math import cos, sin

import numpy as np

from sidehill.case import Case
from sidehill.crosscheck.block import RockingBlock
from sidehill.engines import open_engine
from sidehill.files.errors import SidehillError
from sidehill.flat import Flat, flatten
from sidehill.flat.model import flat_model
from sidehill.kernels.fall import STIFFNESS
from sidehill.kernels.layout import CHASSIS, FALLING, RUNNING, TOUCHING
from sidehill.machine.file import load_machine
from sidehill.machine.linkage import Link
from sidehill.machine.outfit import Outfit
from sidehill.scenario.file import load_scenario
from sidehill.statics.tipping import GRAVITY

_MASS = 5.0  # [kg] so light that the corners hardly sink
_GRIP = 10.0  # friction, so high that they hardly creep
_STEP = 0.05e-3  # [s]
_DUST = 1e-7  # of their masses: what the rest of the machine keeps
_HALF_LENGTH = 0.5  # [m] no bearing on rocking
_CHUNK = 20  # steps between two looks
_TIES = ("steer_stiffness", "steer_damping", "stop_stiffness", "stop_damping", "parking")


def simulated_quarter_period(block: RockingBlock, released: float, engine: str) -> float:
    """[s] from rest at `released` [rad] to upright, in an engine.

    Raises:
        SidehillError: it did not rock back.
    """
    flat = _flat(block)
    with open_engine(engine, flat) as opened:
        state = opened.init()
        values, rows = state[0], flat.rows()
        _lean(values, block, released)
        before = (released, 0.0)
        while values["roll"] > 0.0 and values["finish"] == RUNNING:
            before = (float(values["roll"]), float(values["step"]))
            opened.advance(state, rows, _CHUNK)
        now = (float(values["roll"]), float(values["step"]))
    if now[0] > 0.0:
        raise SidehillError(f"the block did not rock back in {engine}")
    crossed = before[1] + (now[1] - before[1]) * before[0] / (before[0] - now[0])
    return (crossed - 1.0) * _STEP  # the roll watched is that at the start of its step


def _flat(block: RockingBlock) -> Flat:
    level = {"ground.slope": 0.0, "run.step": _STEP}
    scenario = load_scenario("bank-plain").with_values(level)
    flat = flatten(Case(load_machine("bramble"), scenario, Outfit()))
    links = tuple(_link(link, block) for link in flat.links)
    model, moving = flat_model(links)
    case = flat.case.copy()
    for name in _TIES:
        case[name] = 0.0
    case["friction"] = _GRIP
    corners = [
        (CHASSIS, x, y, 0.0, TOUCHING.index("hood"))
        for x in (-_HALF_LENGTH, _HALF_LENGTH)
        for y in (-block.half_width, block.half_width)
    ]
    points = np.array(corners, dtype=np.float64)
    return replace(flat, case=case, model=model, links=links, moving=moving, points=points)


def _link(link: Link, block: RockingBlock) -> Link:
    if link.parent is not None:
        return replace(link, mass=_DUST * link.mass, inertia=_DUST * link.inertia)
    squared = block.half_width**2 + block.half_height**2
    about_cg = _MASS * squared * (block.shape - 1.0)
    com = np.array([0.0, 0.0, block.half_height])
    return replace(link, mass=_MASS, com=com, inertia=about_cg * np.eye(3))


def _lean(values: np.void, block: RockingBlock, lean: float) -> None:
    """At rest on the two corners of its right edge, which carry it."""
    sunk = _MASS * GRAVITY / (2.0 * STIFFNESS)
    half = block.half_width
    values["quaternion"][:] = sin(lean / 2.0), 0.0, 0.0, cos(lean / 2.0)
    values["position"][:] = 0.0, half * (cos(lean) - 1.0), half * sin(lean) - sunk
    values["stage"], values["roll"], values["turned_over"] = FALLING, lean, lean
