"""The parts list: scale readings come back, nothing is counted twice, left mirrors right."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from machine.fixtures import CODE6, without

from sidehill.files.errors import InputError
from sidehill.files.library import shipped
from sidehill.machine.build import fit
from sidehill.machine.file import Machine, load_machine
from sidehill.machine.fitted import Array, Fitted, Part
from sidehill.machine.inertia import compose
from sidehill.machine.liquid import volume
from sidehill.machine.outfit import Outfit

BARE = ("loader", "ballast", "attachment", "rops", "limits")
NOBODY = Outfit(operator="0 kg")
ROUND_OFF = 1e-9  # kg, m, kg m^2: sums of a few doubles


def whole(fitted: Fitted) -> tuple[float, Array, Array]:
    return compose(fitted.parts)


@pytest.mark.parametrize("name", shipped("machine"))
def test_scale_readings_come_back_from_the_parts(name: str) -> None:
    machine = without(name, *BARE, weighed={"cg_offset": "12 mm"})
    mass, cg, inertia = whole(fit(machine, NOBODY))
    weighed = machine.weighed
    front_scale = mass * cg[0] / machine.body.wheelbase
    assert mass == pytest.approx(weighed.front_axle + weighed.rear_axle, abs=ROUND_OFF)
    assert front_scale == pytest.approx(weighed.front_axle, abs=ROUND_OFF)
    assert cg[1:] == pytest.approx([0.012, weighed.cg_height], abs=ROUND_OFF)
    if weighed.roll_inertia is not None:
        assert inertia[0, 0] == pytest.approx(weighed.roll_inertia, abs=1e-7)


@pytest.mark.parametrize("name", shipped("machine"))
def test_front_axle_assembly_has_its_mass_and_height(name: str) -> None:
    machine = load_machine(name)
    fitted = fit(machine, Outfit())
    names = ("beam", "hub_left", "hub_right", "tyre_front_left", "tyre_front_right")
    parts = [fitted.part(part) for part in names]
    mass, cg, _ = compose(parts)
    assert mass == pytest.approx(machine.front_axle.mass)
    assert cg == pytest.approx([machine.body.wheelbase, 0.0, machine.front_axle.cg_height])


def test_estimated_inertia_is_that_of_a_box() -> None:
    machine = without("sorrel", *BARE)
    _, _, inertia = whole(fit(machine, NOBODY))
    size = machine.body
    roll = 650.0 / 12.0 * (size.width**2 + size.height**2)
    yaw = 650.0 / 12.0 * (size.length**2 + size.width**2)
    assert [inertia[0, 0], inertia[2, 2]] == pytest.approx([roll, yaw])


def test_published_geometry_loads() -> None:
    # OECD Code 6 / EU 1322/2014 Annex IX, values from memory
    fitted = fit(load_machine(CODE6), NOBODY)
    mass, cg, inertia = whole(fitted)
    assert mass == pytest.approx(2565.0)
    assert cg == pytest.approx([0.8970, 0.0, 0.7620])
    assert inertia[0, 0] == pytest.approx(295.0)
    assert fitted.front_track == fitted.rear_track == 1.115


@pytest.mark.parametrize(
    ("track_in", "spacer_in", "wider_in"), [(48.0, 2.0, 52.0), (60.0, 6.0, 72.0)]
)
def test_spacers_widen_by_twice_their_thickness(
    track_in: float, spacer_in: float, wider_in: float
) -> None:
    # common practice, no source: 2 in spacers take 48 in to 52 in; 6 in spacers add a foot
    machine = without("bramble", rear_tyre={"track": f"{track_in} in"})
    fitted = fit(machine, Outfit(rear_spacer=f"{spacer_in} in"))
    assert fitted.rear_track == pytest.approx(wider_in * 0.0254)
    assert fitted.front_track == machine.front_tyre.track
    left, right = (fitted.part(f"tyre_rear_{side}").cg[1] for side in ("left", "right"))
    assert left - right == pytest.approx(wider_in * 0.0254)


def test_spacer_sits_inside_the_tyre_and_weighs_by_thickness() -> None:
    fitted = fit(load_machine("bramble"), Outfit(rear_spacer="50 mm", front_spacer="25 mm"))
    rear, front = fitted.part("spacer_rear_right"), fitted.part("spacer_front_left")
    assert (rear.mass, front.mass) == pytest.approx((12.0, 6.0))
    assert rear.cg[1] == pytest.approx(-(1.00 / 2.0 + 0.025))
    assert rear.link == "wheel_rear_right" and front.link == "wheel_front_left"
    own = fit(load_machine("bramble"), Outfit(rear_spacer="50 mm", spacer_mass="9 kg"))
    assert own.part("spacer_rear_left").mass == 9.0


@pytest.mark.parametrize("height", ["carry", "full", "0.9 m", "1.15 m"])
def test_bucket_load_is_level_with_the_pin_at_the_asked_height(height: str) -> None:
    machine = load_machine("bramble")
    loader = machine.loader
    assert loader is not None
    fitted = fit(machine, Outfit(bucket_load="250 kg", bucket_height=height))
    wanted = {"carry": 0.35, "full": 2.1, "0.9 m": 0.9, "1.15 m": 1.15}[height]
    load, arm = fitted.part("bucket_load"), fitted.part("loader_arm")
    pin = load.cg - [loader.load_reach, 0.0, 0.0]
    pivot = np.array([loader.arm_pivot[0], 0.0, loader.arm_pivot[1]])
    assert load.cg[2] == pytest.approx(wanted)
    assert np.linalg.norm(pin - pivot) == pytest.approx(loader.arm_length)
    assert pin[0] > pivot[0]
    assert arm.cg == pytest.approx(pivot + loader.arm_cg * (pin - pivot))
    assert math.sin(fitted.arm_angle) == pytest.approx((wanted - 1.15) / loader.arm_length)


def test_arms_are_slender_along_the_arm() -> None:
    fitted = fit(load_machine("bramble"), Outfit(bucket_height="full"))
    along = np.array([math.cos(fitted.arm_angle), 0.0, math.sin(fitted.arm_angle)])
    arm = fitted.part("loader_arm")
    # two bars 0.75 m apart: about the arm's direction only that distance and the section count
    assert along @ arm.inertia @ along == pytest.approx(120.0 * (0.375**2 + 2 * 0.12**2 / 12))


def test_operator_leans_uphill() -> None:
    machine, outfit = load_machine("bramble"), Outfit(operator_lean="0.2 m")
    assert fit(machine, outfit, "right").part("operator").cg[1] == pytest.approx(0.2)
    assert fit(machine, outfit, "left").part("operator").cg[1] == pytest.approx(-0.2)


def test_attachment_raised_and_lowered() -> None:
    machine = load_machine("bramble")
    raised = fit(machine, Outfit(attachment="tiller")).part("attachment")
    lowered = fit(machine, Outfit(attachment="tiller", attachment_at="lowered")).part("attachment")
    assert raised.cg == pytest.approx([-0.75, 0.0, 0.80])
    assert lowered.cg == pytest.approx([-0.75, 0.0, 0.35])
    assert raised.mass == lowered.mass == 190.0


def test_parts_ride_on_the_links_they_should() -> None:
    outfit = Outfit(
        rear_spacer="50 mm", front_spacer="50 mm", rear_fill=0.5, front_fill=0.5,
        rear_wheel_weight="40 kg", rear_ballast="200 kg", front_weight="60 kg",
        bucket_load="100 kg", attachment="tiller",
    )  # fmt: skip
    fitted = fit(load_machine("bramble"), outfit)
    links: dict[str, set[str]] = {}
    for part in fitted.parts:
        links.setdefault(part.link, set()).add(part.name)
    assert links["chassis"] == {
        "body", "operator", "loader_frame", "rear_ballast", "front_weight", "attachment",
        "liquid_rear_left", "liquid_rear_right",
    }  # fmt: skip
    assert links["front_axle"] == {"beam"}
    assert links["knuckle_left"] == {"hub_left", "liquid_front_left"}
    assert links["wheel_front_right"] == {"tyre_front_right", "spacer_front_right"}
    assert links["wheel_rear_left"] == {
        "tyre_rear_left", "spacer_rear_left", "wheel_weight_rear_left",
    }  # fmt: skip
    assert links["loader_arm"] == {"loader_arm"}
    assert links["bucket"] == {"bucket", "bucket_load"}


def mirrored(part: Part) -> Part:
    flip = np.diag([1.0, -1.0, 1.0])
    swap = {"left": "right", "right": "left"}
    name, link = (
        "_".join(swap.get(word, word) for word in text.split("_"))
        for text in (part.name, part.link)
    )
    return Part(name, link, part.mass, flip @ part.cg, flip @ part.inertia @ flip)


def same(one: Part, other: Part) -> bool:
    return (
        one.link == other.link
        and one.mass == pytest.approx(other.mass)
        and np.allclose(one.cg, other.cg, atol=1e-12)
        and np.allclose(one.inertia, other.inertia, atol=1e-9)
    )


spacers = st.integers(-20, 150).map(lambda mm: f"{mm} mm")
masses = st.integers(0, 400).map(lambda kg: f"{kg} kg")
outfits = st.builds(
    Outfit,
    rear_spacer=spacers,
    front_spacer=st.integers(0, 150).map(lambda mm: f"{mm} mm"),
    bucket_load=masses,
    bucket_height=st.sampled_from(["carry", "full"]),
    operator=st.sampled_from(["0 kg", "80 kg", "120 kg"]),
    operator_lean=st.sampled_from(["0 mm", "150 mm"]),
    rear_fill=st.floats(0.0, 1.0),
    front_fill=st.floats(0.0, 1.0),
    rear_wheel_weight=st.sampled_from(["0 kg", "45 kg"]),
    rear_ballast=masses,
    attachment=st.sampled_from([None, "tiller"]),
)
machines = st.sampled_from([load_machine(name) for name in shipped("machine")])


@given(machines, outfits, st.floats(-0.1, 0.1))
def test_a_mirrored_machine_on_the_other_side_has_mirrored_parts(
    machine: Machine, outfit: Outfit, offset: float
) -> None:
    one = fit(machine.with_values({"weighed.cg_offset": offset}), outfit, "right")
    other = fit(machine.with_values({"weighed.cg_offset": -offset}), outfit, "left")
    assert len(one.parts) == len(other.parts)
    for part in map(mirrored, one.parts):
        assert same(part, other.part(part.name)), part.name


@given(machines, outfits)
def test_every_part_can_exist_and_all_of_it_is_counted(machine: Machine, outfit: Outfit) -> None:
    fitted = fit(machine, outfit)
    names = [part.name for part in fitted.parts]
    assert len(set(names)) == len(names)
    for part in fitted.parts:
        low, middle, high = np.linalg.eigvalsh(part.inertia)
        assert part.mass > 0.0 and low > 0.0 and high <= (low + middle) * (1.0 + 1e-9), part.name
    assert fitted.mass == pytest.approx(sum(expected_masses(machine, outfit)), abs=0.01)


def expected_masses(machine: Machine, outfit: Outfit) -> list[float]:
    """[kg] what goes on the scale, from the files' own numbers."""
    loader = machine.loader
    assert loader is not None
    names = [item.name for item in machine.attachment]
    tiller = machine.attachment[names.index("tiller")]
    liquid = [
        2.0 * fill * 1000.0 * volume(tyre)
        for fill, tyre in (
            (outfit.front_fill, machine.front_tyre),
            (outfit.rear_fill, machine.rear_tyre),
        )
    ]
    spacers = [
        2.0 * 6.0 * max(thickness, 0.0) / 0.025
        for thickness in (outfit.front_spacer, outfit.rear_spacer)
    ]
    return [
        machine.weighed.front_axle, machine.weighed.rear_axle, outfit.operator,
        loader.frame_mass, loader.arm_mass, loader.bucket_mass, outfit.bucket_load,
        outfit.rear_ballast, 2.0 * outfit.rear_wheel_weight,
        tiller.mass if outfit.attachment else 0.0, *liquid, *spacers,
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("table", "values"),
    [
        ("weighed", {"roll_inertia": "30 kg m^2"}),  # less than the wheels alone need
        ("weighed", {"roll_inertia": "6000 kg m^2"}),  # more than pitch and yaw together
        ("body", {"width": "3 m", "height": "0.5 m"}),
    ],
)
def test_impossible_inertia_is_refused(table: str, values: dict[str, str]) -> None:
    with pytest.raises(InputError, match=r"body: no body of 756 kg .*\(allowed: all positive"):
        fit(without("bramble", **{table: values}), NOBODY)
