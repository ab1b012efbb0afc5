"""Machines that nobody ships: every size that is written stays finite and above zero."""

from xml.etree import ElementTree as ET

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st
from population import MACHINES
from urdf.shapes import numbers

from sidehill.machine.build import fit
from sidehill.machine.file import Machine, load_machine
from sidehill.machine.linkage import build_linkage
from sidehill.machine.outfit import Outfit
from sidehill.urdf import generate

LADEN = Outfit.model_validate(
    {
        "bucket_load": "150 kg",
        "rear_ballast": "200 kg",
        "front_weight": "70 kg",
        "rear_fill": 0.6,
        "front_fill": 1.0,
        "rear_wheel_weight": "30 kg",
        "rear_spacer": "50 mm",
        "attachment": "tiller",
    }
)
STRIPPED = Outfit.model_validate({"operator": "0 kg"})
factor = st.floats(0.7, 1.4)


def tyre(of: object, size: float, width: float, rim: float) -> object:
    diameter = size * of.diameter
    return of.model_copy(
        update={
            "diameter": diameter,
            "width": width * of.width,
            "rim_diameter": rim * diameter,
            "hub_offset": None,
            "volume": None if of.volume is None else size**2 * width * of.volume,
        }
    )


@st.composite
def machines(draw: st.DrawFn) -> Machine:
    """A shipped machine with its tyres, body, seat and roll bar out of proportion."""
    base = load_machine(draw(st.sampled_from(MACHINES)))
    rim = draw(st.floats(0.25, 0.94))
    body = base.body.model_copy(update={"length": base.body.wheelbase * draw(st.floats(1.05, 2))})
    assert base.rops is not None
    high = base.rops.height * draw(factor)
    rops = base.rops.model_copy(
        update={"height": high, "folded_height": draw(st.floats(0.4, 0.95)) * high}
    )
    return base.model_copy(
        update={
            "front_tyre": tyre(base.front_tyre, 0.95, draw(factor), rim),
            "rear_tyre": tyre(base.rear_tyre, draw(st.floats(0.7, 1.1)), draw(factor), rim),
            "body": body.model_copy(update={"width": base.body.width * draw(factor)}),
            "seat": base.seat.model_copy(update={"x": draw(st.floats(-0.3, 0.5))}),
            "rops": rops,
        }
    )


def check(machine: Machine, outfit: Outfit) -> None:
    fitted = fit(machine, outfit)
    robot = ET.fromstring(generate(fitted, build_linkage(fitted), collisions=True))
    sizes = [numbers(v) for g in robot.iterfind("link//geometry/*") for v in g.attrib.values()]
    assert np.concatenate(sizes).min() > 0.0
    origins = [numbers(v) for o in robot.iter("origin") for v in o.attrib.values()]
    assert np.all(np.isfinite(np.concatenate(sizes + origins)))


@settings(max_examples=40, deadline=None, derandomize=True)
@given(machines())
def test_out_of_proportion(machine: Machine) -> None:
    check(machine, LADEN)


def test_without_loader_and_roll_bar(machine: Machine) -> None:
    plain = machine.model_copy(update={"loader": None, "rops": None, "attachment": ()})
    check(plain, STRIPPED)
    fitted = fit(plain, STRIPPED)
    text = generate(fitted, build_linkage(fitted), collisions=True)
    assert "bucket" not in text and "loader" not in text
    assert "hoop" not in text and "post" not in text
