"""The two lumps of the shipped machines."""

import numpy as np
import pytest
from population import MACHINES

from sidehill.machine.build import fit
from sidehill.machine.file import load_machine
from sidehill.machine.outfit import Outfit
from sidehill.statics.assembly import from_fitted
from sidehill.statics.flaw import sound
from sidehill.statics.loads import wheel_loads

FULL = Outfit(
    rear_spacer="76 mm",
    front_spacer="38 mm",
    rear_fill=0.75,
    front_fill=0.5,
    bucket_load="100 kg",
    bucket_height="full",
    operator_lean="0.2 m",
)


@pytest.fixture(params=MACHINES)
def machine(request):
    return load_machine(request.param)


@pytest.fixture(params=[Outfit(), FULL], ids=["plain", "full"])
def fitted(request, machine):
    return fit(machine, request.param)


def test_together_the_lumps_are_the_machine(fitted):
    tipping = from_fitted(fitted)
    assert sound(tipping)
    assert tipping.whole_mass == pytest.approx(fitted.mass)
    assert list(tipping.whole_cg) == pytest.approx(list(fitted.cg))


def test_the_front_axle_assembly_sits_on_the_pin(fitted, machine):
    prefixes = ("front_axle", "knuckle_", "wheel_front_")
    parts = [part for part in fitted.parts if part.link.startswith(prefixes)]
    mass = sum(part.mass for part in parts)
    cg = sum(part.mass * part.cg for part in parts) / mass
    assert from_fitted(fitted).axle_mass == pytest.approx(mass)
    assert cg[:2] == pytest.approx([machine.body.wheelbase, 0.0], abs=1e-12)
    assert cg[2] == pytest.approx(from_fitted(fitted).axle_h)


def test_without_extras_the_axle_has_the_mass_and_height_of_the_file(machine):
    tipping = from_fitted(fit(machine, Outfit()))
    assert tipping.axle_mass == pytest.approx(machine.front_axle.mass)
    assert tipping.axle_h == pytest.approx(machine.front_axle.cg_height)


def test_level_loads_are_the_scale_readings(machine):
    # Less operator and loader the axle loads must be what was weighed.
    fitted = fit(machine, Outfit(operator="0 kg"))
    added = [part for part in fitted.parts if part.link in ("loader_arm", "bucket")]
    added += [part for part in fitted.parts if part.name == "loader_frame"]
    front = sum(part.mass * part.cg[0] for part in added) / machine.body.wheelbase
    loads = wheel_loads(from_fitted(fitted), 0.0)
    weighed = machine.weighed
    assert (loads.front_down + loads.front_up) / 9.81 - front == pytest.approx(weighed.front_axle)
    rear = sum(part.mass for part in added) - front
    assert (loads.rear_down + loads.rear_up) / 9.81 - rear == pytest.approx(weighed.rear_axle)


def test_inertia_is_that_of_the_points_turned_together(fitted):
    # Parallel axes the other way round: about the origin, then back to the CG.
    body = [p for p in fitted.parts if not p.link.startswith(("front_axle", "knuckle_", "wheel_f"))]
    tipping = from_fitted(fitted)
    about_origin = sum(
        p.inertia + p.mass * (np.dot(p.cg, p.cg) * np.eye(3) - np.outer(p.cg, p.cg)) for p in body
    )
    cg = np.array([tipping.x, tipping.y, tipping.h])
    shift = tipping.mass * (cg @ cg * np.eye(3) - np.outer(cg, cg))
    np.testing.assert_allclose(tipping.inertia, about_origin - shift, rtol=1e-9, atol=1e-6)


def test_left_downhill_turns_the_offset_and_the_products_of_inertia(machine):
    fitted = fit(machine, FULL)
    right, left = from_fitted(fitted), from_fitted(fitted, "left")
    assert right.y > 0
    assert left.y == -right.y
    assert left.inertia[0, 1] == -right.inertia[0, 1]
    assert left.inertia[0, 2] == right.inertia[0, 2]
