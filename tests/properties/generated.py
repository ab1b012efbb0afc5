"""Strategies: machines, outfits and scenarios that nobody has drawn, as plain SI tables.

Fields that depend on each other are drawn as shares of one another, so that nearly every
machine can exist; the file model has the last word and `assume` drops the rest.
"""

from math import pi, radians
from typing import Any

from hypothesis import assume
from hypothesis import strategies as st

from sidehill.case import Case
from sidehill.files.errors import InputError
from sidehill.files.spec import build
from sidehill.files.toml import Document
from sidehill.machine.build import fit
from sidehill.machine.file import Machine
from sidehill.machine.fitted import Fitted
from sidehill.machine.outfit import Outfit
from sidehill.scenario.file import Scenario

Table = dict[str, Any]
SMOOTH = {"allow_nan": False, "allow_infinity": False}


def between(low: float, high: float) -> st.SearchStrategy[float]:
    """A number from low to high."""
    return st.floats(low, high, **SMOOTH)


@st.composite
def machine_tables(draw: st.DrawFn) -> Table:
    """A tractor from garden size to the largest compacts, as the tables of its file."""
    size = draw(between(0.75, 1.3))
    mass = 900.0 * size**3 * draw(between(0.7, 1.6))
    front = mass * draw(between(0.35, 0.5))
    rear_tyre = _tyre(draw, size * draw(between(0.8, 1.05)), size, mass)
    front_tyre = _tyre(draw, size * draw(between(0.45, 0.7)), size, mass)
    front_tyre["mass"] = mass * draw(between(0.015, 0.025))
    wheels = 2.0 * front_tyre["mass"]
    beam = mass * draw(between(0.05, 0.1))
    radius = front_tyre["diameter"] / 2.0
    wheelbase = (rear_tyre["diameter"] / 2.0 + radius) * draw(between(1.15, 2.2))
    return {
        "name": "drawn",
        "summary": "drawn by a test",
        "source": "invented",
        "weighed": {
            "front_axle": front,
            "rear_axle": mass - front,
            "cg_height": size * draw(between(0.5, 0.8)),
            "cg_height_from": draw(st.sampled_from(["weighed", "estimated"])),
            "cg_offset": draw(st.sampled_from([0.0, 1.0, -1.0])) * draw(between(0.0, 0.05)),
            "roll_inertia": mass * size**2 * draw(between(0.2, 0.4)),
        },
        "body": {
            "wheelbase": wheelbase,
            "length": wheelbase * draw(between(1.3, 1.8)),
            "width": size * draw(between(0.9, 1.3)),
            "height": size * draw(between(1.1, 1.6)),
        },
        "front_axle": {
            "pivot_height": radius * draw(between(0.9, 1.5)),
            "swing": radians(draw(between(0.0, 15.0))),
            "mass": wheels + beam,
            "cg_height": radius * draw(between(0.95, 1.2)),
        },
        "front_tyre": front_tyre,
        "rear_tyre": rear_tyre,
        "seat": {"x": size * draw(between(-0.2, 0.5)), "height": size * draw(between(0.8, 1.1))},
        "steering": {"max_angle": radians(draw(between(35.0, 55.0)))},
        "drive": {
            "driven": draw(st.sampled_from(["rear", "four"])),
            "max_torque": mass * draw(between(1.5, 4.0)),
            "brake_torque": mass * draw(between(2.5, 5.0)),
            "brakes": draw(st.sampled_from(["rear", "all"])),
        },
        "ballast": {
            "rear_box": (-size * draw(between(0.6, 1.0)), size * draw(between(0.3, 0.7))),
            "front": (wheelbase + size * draw(between(0.2, 0.5)), size * draw(between(0.4, 0.7))),
        },
    }


def _tyre(draw: st.DrawFn, diameter: float, size: float, mass: float) -> Table:
    return {
        "diameter": diameter,
        "width": diameter * draw(between(0.22, 0.4)),
        "rim_diameter": diameter * draw(between(0.45, 0.65)),
        "volume": 0.3 * pi / 4.0 * diameter**2 * 0.3 * diameter,
        "track": size * draw(between(0.85, 1.5)),
        "stiffness": mass * draw(between(120.0, 400.0)),
        "lateral_ratio": draw(between(0.3, 1.0)),
        "damping_ratio": draw(between(0.05, 0.3)),
        "mass": mass * draw(between(0.03, 0.06)),
    }


@st.composite
def outfit_tables(draw: st.DrawFn) -> Table:
    """Spacers, ballast, fill and the operator."""
    return {
        "rear_spacer": draw(between(0.0, 0.15)),
        "front_spacer": draw(between(0.0, 0.1)),
        "spacer_mass": draw(between(0.0, 20.0)),
        "operator": draw(between(40.0, 130.0)),
        "operator_lean": draw(st.sampled_from([0.0, 0.15])),
        "rear_fill": draw(st.sampled_from([0.0, 0.4, 0.75])),
        "front_fill": draw(st.sampled_from([0.0, 0.6])),
        "rear_wheel_weight": draw(st.sampled_from([0.0, 35.0])),
        "rear_ballast": draw(st.sampled_from([0.0, 60.0, 150.0])),
        "front_weight": draw(st.sampled_from([0.0, 30.0])),
    }


def machine_of(table: Table) -> Machine:
    """The machine of a drawn table; a table that no file could hold is drawn again."""
    try:
        return build(Machine, Document("drawn", table), si=True)
    except InputError:
        assume(False)
        raise


def outfit_of(table: Table) -> Outfit:
    """The outfit of a drawn table."""
    return build(Outfit, Document("drawn", table), si=True)


def fitted_of(machine: Table, outfit: Table, downhill: str = "right") -> Fitted:
    """Machine and outfit together; what does not go together is drawn again."""
    made = machine_of(machine)
    try:
        return fit(made, outfit_of(outfit), downhill)
    except InputError:
        assume(False)
        raise


def case_of(machine: Table, outfit: Table, scenario: Table) -> Case:
    """A case, checked as far as `fit` goes."""
    fitted_of(machine, outfit)
    drive = build(Scenario, Document("drawn", scenario), si=True)
    return Case(machine_of(machine), drive, outfit_of(outfit))


@st.composite
def course_tables(draw: st.DrawFn, **fixed: Any) -> Table:
    """A short contour course with one feature; every step is a row. `fixed`: ground and drive."""
    shape = draw(st.sampled_from(["bump", "hole"]))
    length = draw(between(0.4, 1.2))
    return {
        "title": "drawn",
        "teaches": "nothing, it is a test",
        "ground": {
            "slope": radians(draw(between(0.0, 32.0))),
            "grade": radians(draw(st.sampled_from([0.0, 4.0, -4.0]))),
            "downhill": draw(st.sampled_from(["right", "left"])),
            "friction": draw(st.sampled_from([0.3, 0.7, 1.0])),
            "rolling_resistance": draw(between(0.0, 0.1)),
        }
        | fixed.get("ground", {}),
        "feature": [
            {
                "shape": shape,
                "wheels": draw(st.sampled_from(["uphill", "downhill"])),
                "at": 4.6,
                "height": length * draw(between(0.05, 0.3)),
                "length": length,
                "width": draw(between(0.3, 0.8)),
            }
        ],
        "course": {"path": "contour", "length": 7.5},
        "drive": {"speed": draw(between(0.8, 2.5))} | fixed.get("drive", {}),
        "run": {
            "step": 2e-3,
            "rate": 500.0,
            "tyre": draw(st.sampled_from(["point", "enveloping"])),
        },
    }
