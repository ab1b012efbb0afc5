"""What is drawn: true where a viewer would measure, whole, and in its own colours."""

from collections.abc import Callable
from xml.etree import ElementTree as ET

import numpy as np
import pytest
from urdf.shapes import Extent, adrift, extents, named, whole

from sidehill.machine.fitted import Fitted
from sidehill.machine.linkage import build_linkage
from sidehill.urdf import generate

EXACT = 1e-9  # [m]
GAP = 0.003  # [m] two pieces this close are joined
TYRE = ("sidewall", "carcass", "lug")


def drawn(fitted: Fitted, **flags: bool) -> tuple[Extent, ...]:
    return extents(generate(fitted, build_linkage(fitted), **flags))


@pytest.mark.parametrize("axle", ["front", "rear"])
def test_outside_width_is_track_plus_tyre(fitted: Fitted, axle: str) -> None:
    parts = [p for p in drawn(fitted) if p.link.startswith(f"wheel_{axle}")]
    tyre = fitted.machine.rear_tyre if axle == "rear" else fitted.machine.front_tyre
    track = fitted.rear_track if axle == "rear" else fitted.front_track
    low, high = whole(named(parts, *TYRE))
    assert high[1] - low[1] == pytest.approx(track + tyre.width, abs=EXACT)
    assert high[1] == pytest.approx(-low[1], abs=EXACT)
    assert whole(parts)[1][1] <= high[1] + EXACT  # rim, bolts, weights stay inside


@pytest.mark.parametrize("axle", ["front", "rear"])
def test_tyres_stand_on_the_ground(fitted: Fitted, axle: str) -> None:
    """Never through it, and the gap between two lugs is under 1 % of the diameter."""
    diameter = (fitted.machine.rear_tyre if axle == "rear" else fitted.machine.front_tyre).diameter
    for side in ("left", "right"):
        low, high = whole([p for p in drawn(fitted) if p.link == f"wheel_{axle}_{side}"])
        assert 0.0 - EXACT <= low[2] <= 0.01 * diameter
        assert 0.99 * diameter <= high[2] <= diameter + EXACT


def test_only_the_tyres_reach_the_ground(fitted: Fitted) -> None:
    low, _ = whole([p for p in drawn(fitted) if not p.link.startswith("wheel")])
    assert low[2] > 0.0


def test_no_piece_floats(fitted: Fitted) -> None:
    """Every piece hangs together with the rest; their bounding boxes at least."""
    assert adrift(drawn(fitted), GAP) == []


@pytest.mark.parametrize("thickness", ["10 mm", "38 mm", "150 mm"])
@pytest.mark.parametrize("axle", ["front", "rear"])
def test_spacer_fills_the_room_between_hub_and_rim(
    dress: Callable[..., Fitted], axle: str, thickness: str
) -> None:
    fitted = dress(**{f"{axle}_spacer": thickness})
    parts = [p for p in drawn(fitted) if p.link == f"wheel_{axle}_left"]
    (spacer,) = named(parts, "spacer")
    (hub,), (disc,) = named(parts, "hub flange"), named(parts, "rim disc")
    wanted = float(thickness.split()[0]) / 1000
    assert spacer.material == "spacer"
    assert spacer.high[1] - spacer.low[1] == pytest.approx(wanted, abs=EXACT)
    assert hub.high[1] == pytest.approx(spacer.low[1], abs=EXACT)
    assert spacer.high[1] == pytest.approx(disc.low[1], abs=EXACT)
    others = [p for p in drawn(fitted) if p.link != spacer.link and p.material == "spacer"]
    assert [p.link for p in others] == [f"wheel_{axle}_right"]


def test_hub_keeps_its_place_whatever_is_fitted(dress: Callable[..., Fitted]) -> None:
    """Spacers and reset rims move the wheel, not the tractor."""

    def hub(**options: object) -> float:
        (flange,) = named(
            [p for p in drawn(dress(**options)) if p.link == "wheel_rear_left"], "hub flange"
        )
        return float(flange.high[1])

    plain = hub()
    assert hub(rear_spacer="76 mm") == pytest.approx(plain, abs=EXACT)
    assert hub(rear_track="1.50 m") == pytest.approx(plain, abs=EXACT)
    assert hub(rear_track="1.50 m", rear_spacer="25 mm") == pytest.approx(plain, abs=EXACT)


def test_roll_bar_up_and_folded(dress: Callable[..., Fitted]) -> None:
    up, folded = dress(), dress(rops="folded")
    rops = up.machine.rops
    assert rops is not None
    bar = ("post", "hinge", "hoop")
    assert whole(named(drawn(up), *bar))[1][2] == pytest.approx(rops.height, abs=1e-3)
    assert whole(named(drawn(folded), *bar))[1][2] <= rops.folded_height + EXACT
    low, high = whole(named(drawn(up), "hoop"))
    assert high[1] - low[1] == pytest.approx(rops.width, abs=0.1)


def test_operator_sits_belted_or_is_absent(dress: Callable[..., Fitted]) -> None:
    seated, alone = drawn(dress(operator="95 kg")), drawn(dress(operator="0 kg"))
    head, belt = named(seated, "head"), named(seated, "lap belt")
    assert len(head) == len(belt) == 1
    assert {p.name for p in seated} - {p.name for p in alone} >= {"head", "chest", "lap belt"}
    assert not named(alone, "head", "chest", "lap belt", "thigh")
    seat = dress().machine.seat
    low, high = whole(named(seated, "pelvis", "chest", "head"))
    assert low[2] < seat.height < high[2]
    assert low[0] < seat.x + 0.05


@pytest.mark.parametrize("height", ["carry", "full"])
def test_bucket_is_ahead_level_and_at_its_height(dress: Callable[..., Fitted], height: str) -> None:
    fitted = dress(bucket_height=height, bucket_load="120 kg")
    loader = fitted.machine.loader
    assert loader is not None
    pin_height = loader.carry_height if height == "carry" else loader.full_height
    parts = drawn(fitted)
    (floor,), (back,) = named(parts, "bucket floor"), named(parts, "bucket back")
    assert floor.high[2] - floor.low[2] == pytest.approx(0.02, abs=EXACT)  # level: only the sheet
    assert floor.high[1] - floor.low[1] == pytest.approx(loader.bucket_width, abs=EXACT)
    assert back.high[0] < floor.high[0]  # mouth forward
    assert floor.low[0] > fitted.machine.body.wheelbase
    assert floor.low[2] < pin_height < back.high[2]
    load = fitted.part("bucket_load")
    heap_low, heap_high = whole(named(parts, "bucket load"))
    assert heap_low[0] < load.cg[0] < heap_high[0]
    assert floor.high[2] - EXACT <= heap_low[2]


def test_heap_holds_the_load(dress: Callable[..., Fitted]) -> None:
    """1,600 kg/m^3 for loose earth: common practice, no source."""
    heap = named(drawn(dress(bucket_load="160 kg")), "bucket load")
    assert sum(layer.volume for layer in heap) == pytest.approx(0.100, abs=1e-6)
    assert not named(drawn(dress()), "bucket load")


def test_rear_box_and_plates_lie_at_their_places(dress: Callable[..., Fitted]) -> None:
    fitted = dress(rear_ballast="250 kg", front_weight="90 kg")
    parts = drawn(fitted)
    for name, starts in (("rear_ballast", "rear ballast"), ("front_weight", "front weight")):
        low, high = whole([p for p in named(parts, starts) if not p.name.endswith("lid")])
        np.testing.assert_allclose((low + high) / 2, fitted.part(name).cg, atol=EXACT)
    rear, box = fitted.machine.rear_tyre, whole(named(parts, "rear ballast"))
    assert box[1][0] < -rear.diameter / 2 + 0.02  # behind the tyres
    assert len(named(parts, "front weight")) == 5


def test_attachment_is_as_wide_as_the_file_says(dress: Callable[..., Fitted]) -> None:
    for item in dress().machine.attachment:
        for at in ("raised", "lowered"):
            fitted = dress(attachment=item.name, attachment_at=at)
            (box,) = named(drawn(fitted), f"attachment {item.name}")
            assert box.high[1] - box.low[1] == pytest.approx(item.width, abs=EXACT)
            np.testing.assert_allclose(
                (box.low + box.high) / 2, fitted.part("attachment").cg, atol=EXACT
            )


@pytest.mark.parametrize("fill", [0.0, 0.4, 0.75, 1.0])
def test_liquid_stands_on_the_tyre_and_does_not_turn(
    dress: Callable[..., Fitted], fill: float
) -> None:
    parts = drawn(dress(rear_fill=fill))
    liquid = [p for p in parts if p.material == "liquid"]
    assert bool(liquid) == (fill > 0.0)
    assert {p.link for p in liquid} <= {"chassis"}
    if liquid:
        tyre = dress().machine.rear_tyre
        low, high = whole(liquid)
        width = dress().rear_track + tyre.width
        assert high[1] - low[1] < width
        assert (high[2] > tyre.radius) == (fill > 0.5)


def test_names_are_unique_and_colours_known(fitted: Fitted) -> None:
    robot = ET.fromstring(generate(fitted, build_linkage(fitted), collisions=True))
    for tag in ("visual", "collision", "link", "joint", "material"):
        names = [
            e.get("name") for e in (robot.iter(tag) if tag != "material" else robot.findall(tag))
        ]
        assert len(names) == len(set(names)) > 0
    known = {material.get("name") for material in robot.findall("material")}
    used = {e.get("name") for e in robot.iterfind("link/visual/material")}
    assert used <= known
    for colour in robot.iterfind("material/color"):
        rgba = [float(v) for v in colour.get("rgba", "").split()]
        assert len(rgba) == 4 and all(0.0 <= v <= 1.0 for v in rgba)


def test_primitives_only(fitted: Fitted) -> None:
    robot = ET.fromstring(generate(fitted, build_linkage(fitted), collisions=True))
    shapes = {shape.tag for shape in robot.iterfind("link//geometry/*")}
    assert shapes == {"box", "cylinder", "sphere"}


def test_sizes_are_positive(fitted: Fitted) -> None:
    robot = ET.fromstring(generate(fitted, build_linkage(fitted), collisions=True))
    sizes = [
        float(number)
        for shape in robot.iterfind("link//geometry/*")
        for value in shape.attrib.values()
        for number in value.split()
    ]
    assert min(sizes) > 0.0
