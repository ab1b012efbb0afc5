"""Widths, cover, clearances and carried attachments of shipped machines.

The thresholds are facts of the trade: common practice, no source.
"""

from itertools import product
from math import cos, radians, sin

import numpy as np
import pytest
from advice.machines import INCH, found, lacking

from sidehill.advice.clearance import innermost_tyre, rearmost_tyre
from sidehill.advice.fit import check_fit
from sidehill.advice.site import Site
from sidehill.machine.build import fit
from sidehill.machine.file import load_machine
from sidehill.machine.outfit import Outfit
from sidehill.machine.tractor import kingpin

BRAMBLE = load_machine("bramble")
STRIP = "strip of tyre outside, a side"


def rear_outfit(outside, **options):
    """Bramble's rear tyres so far apart that they are `outside` [in] wide, before spacers."""
    return Outfit(rear_track=f"{outside * INCH - BRAMBLE.rear_tyre.width} m", **options)


def outside_width(outfit, axle="rear"):
    """[in]"""
    widths = check_fit(BRAMBLE, outfit).widths
    return found(widths, f"{axle} tyres", "outside width").value / INCH


def cover(outside, width, item=1):
    """Finding for an attachment of Bramble's made `width` [in] wide, tyres `outside` [in] wide."""
    machine = BRAMBLE.with_values({f"attachment.{item}.width": width * INCH})
    judged = check_fit(machine, rear_outfit(outside))
    return found(judged.cover, machine.attachment[item - 1].name, STRIP)


def test_two_inch_spacers_take_48_in_to_52_in():
    """Common practice, no source."""
    assert outside_width(rear_outfit(48)) == pytest.approx(48.0)
    assert outside_width(rear_outfit(48, rear_spacer="2 in")) == pytest.approx(52.0)


@pytest.mark.parametrize("axle", ["front", "rear"])
def test_six_inch_spacers_widen_by_a_foot(axle):
    """Common practice, no source."""
    gain = outside_width(Outfit(**{f"{axle}_spacer": "6 in"}), axle) - outside_width(Outfit(), axle)
    assert gain == pytest.approx(12.0)


def test_48_in_behind_52_in_of_tyre_is_not_noticed():
    """Common practice, no source."""
    finding = cover(52, 48)
    assert finding.judgement == "within"
    assert finding.value == pytest.approx(2 * INCH)
    assert "not noticed" in finding.reason


def test_4_ft_behind_5_ft_of_tyre_is_flagged():
    """Common practice, no source."""
    finding = cover(60, 48)
    assert finding.judgement == "over"
    assert finding.value == pytest.approx(6 * INCH)
    assert "is noticed" in finding.reason


@pytest.mark.parametrize("outside", [52.1, 56, 59.9])
def test_a_strip_between_the_two_is_flagged_as_between(outside):
    finding = cover(outside, 48)
    assert finding.judgement == "over"
    assert "narrower than one that is" in finding.reason


@pytest.mark.parametrize(("width", "judgement"), [(59.9, "over"), (60.0, "within"), (61, "within")])
def test_a_pusher_narrower_than_the_tyres_leaves_packed_strips(width, judgement):
    """Common practice, no source."""
    finding = cover(60, width, item=3)
    assert finding.judgement == judgement
    assert ("packed strips" in finding.reason) == (judgement == "over")


def test_the_wider_axle_decides_what_is_covered():
    narrow_rear = Outfit(front_spacer="100 mm")
    finding = found(check_fit(BRAMBLE, narrow_rear).cover, "tiller", STRIP)
    assert finding.value == pytest.approx((1.02 + 0.20 + 0.21 - 1.22) / 2)


def test_the_shipped_pusher_is_outgrown_by_wide_spacers_and_so_is_the_bucket():
    delivered, wide = (check_fit(BRAMBLE, Outfit(rear_spacer=f"{t} mm")).cover for t in (0, 150))
    for item in ("front pusher", "bucket"):
        assert found(delivered, item, STRIP).judgement == "within"
        assert found(wide, item, STRIP).judgement == "over"


def test_track_mismatch_is_a_side_and_signed():
    what = ("tracks", "rear outside front, a side")
    assert found(check_fit(BRAMBLE, Outfit()).widths, *what).value == pytest.approx(-0.010)
    wide = check_fit(BRAMBLE, Outfit(rear_spacer="76 mm")).widths
    assert found(wide, *what).value == pytest.approx(0.066)


@pytest.mark.parametrize(
    ("options", "widest", "width"),
    [
        ({}, "bucket", 1.37),
        ({"rear_spacer": "76 mm"}, "rear tyres", 1.432),
        ({"front_spacer": "76 mm"}, "front tyres", 1.382),
        ({"attachment": "mid mower"}, "mid mower", 1.52),
    ],
)
def test_total_width_names_what_is_widest(options, widest, width):
    finding = found(check_fit(BRAMBLE, Outfit(**options)).widths, "machine", "total width")
    assert finding.value == pytest.approx(width)
    assert finding.judgement == "not checked"
    assert f"widest: {widest};" in finding.reason


@pytest.mark.parametrize(("spacer", "judgement"), [(9, "within"), (11, "over")])
def test_a_rear_attachment_tolerates_tyres_up_to_its_clear_width(spacer, judgement):
    """Tiller: 1.30 m; rear tyres 1.28 m outside, so 10 mm a side is all there is."""
    judged = check_fit(BRAMBLE, Outfit(rear_spacer=f"{spacer} mm"))
    assert found(judged.clearance, "tiller", "rear outside width").judgement == judgement


@pytest.mark.parametrize(("track", "judgement"), [(0.945, "within"), (0.935, "over")])
def test_a_mid_mower_needs_its_clear_width_between_the_tyres(track, judgement):
    """Mid mower: 0.66 m; rear tyres are 0.28 m wide."""
    judged = check_fit(BRAMBLE, Outfit(rear_track=f"{track} m"))
    finding = found(judged.clearance, "mid mower", "gap between the tyres")
    assert finding.judgement == judgement
    assert finding.value == pytest.approx(track - 0.28)


def test_ramps_and_hubs_are_reminders():
    judged = check_fit(BRAMBLE, Outfit(rear_spacer="50 mm")).clearance
    reminders = [
        found(judged, "mid mower", "outside width over its ramps"),
        found(judged, "rear tyre", "moved out, a side"),
        found(judged, "rear hubs", "spacer on the hub"),
    ]
    assert {finding.judgement for finding in reminders} == {"not checked"}
    assert not any(finding.item == "front hubs" for finding in judged)


@pytest.mark.parametrize(("spacer", "judgement"), [(0, "within"), (60, "within"), (65, "over")])
def test_a_tyre_moves_out_as_far_as_the_fender_lets_it(spacer, judgement):
    machine = BRAMBLE.with_values({"body.fender_gap": "60 mm"})
    judged = check_fit(machine, Outfit(rear_spacer=f"{spacer} mm"))
    finding = found(judged.clearance, "rear tyre", "moved out, a side")
    assert finding.judgement == judgement
    assert finding.value == pytest.approx(spacer / 1e3)


def test_a_reset_rear_track_moves_a_tyre_out_by_half_of_it():
    machine = BRAMBLE.with_values({"body.fender_gap": "60 mm"})
    judged = check_fit(machine, Outfit(rear_track="1.14 m"))
    assert found(judged.clearance, "rear tyre", "moved out, a side").judgement == "over"


@pytest.mark.parametrize(("spacer", "judgement"), [(10, "within"), (15, "over")])
def test_tyres_wider_than_the_ramps_miss_them(spacer, judgement):
    """Rear tyres: 1.28 m outside."""
    machine = BRAMBLE.with_values({"attachment.2.ramp_width": "1.305 m"})
    judged = check_fit(machine, Outfit(rear_spacer=f"{spacer} mm"))
    assert (
        found(judged.clearance, "mid mower", "outside width over its ramps").judgement == judgement
    )


def corners(fitted):
    """(n, 3) [m] top corners of the left front tyre as a box, over steer and axle swing."""
    machine, tyre = fitted.machine, fitted.machine.front_tyre
    pin, post = machine.front_axle.pivot_height, kingpin(machine)
    centre = fitted.front_track / 2 - post
    lock = machine.steering.max_angle
    found = []
    for steer, swing in product(np.linspace(-lock, lock, 721), (-fitted.swing, 0.0, fitted.swing)):
        for along, out in product((-tyre.radius, tyre.radius), (-tyre.width / 2, tyre.width / 2)):
            x = along * cos(steer) - (centre + out) * sin(steer)
            y = post + along * sin(steer) + (centre + out) * cos(steer)
            height = tyre.diameter - pin
            found.append((machine.body.wheelbase + x, y * cos(swing) - height * sin(swing)))
    return np.array(found)


@pytest.mark.parametrize("name", ["sorrel", "bramble", "hawthorn"])
@pytest.mark.parametrize("spacer", [0, 60, 350])
@pytest.mark.parametrize("lock", [20, 45, 78])
def test_front_tyre_at_full_steer_against_every_pose(name, spacer, lock):
    machine = load_machine(name).with_values({"steering.max_angle": f"{lock} deg"})
    fitted = fit(machine, Outfit(front_spacer=f"{spacer} mm"))
    tried = corners(fitted)
    assert innermost_tyre(fitted) == pytest.approx(tried[:, 1].min(), abs=1e-5)
    assert rearmost_tyre(fitted) == pytest.approx(tried[:, 0].min(), abs=1e-5)


def test_loader_frame_is_only_cleared_where_the_tyre_never_reaches_inside_it():
    item, what = "front tyre at full steer", "gap to the loader frame's width"
    near = found(check_fit(BRAMBLE, Outfit()).clearance, item, what)
    far = found(check_fit(BRAMBLE, Outfit(front_spacer="380 mm")).clearance, item, what)
    assert near.value < 0.0 and near.judgement == "not checked"
    assert "measure on the machine" in near.reason
    assert far.value > 0.0 and far.judgement == "within"


def test_a_kingpin_that_is_not_in_the_file_is_said():
    judged = check_fit(lacking("bramble", "front_tyre.hub_offset"), Outfit()).clearance
    finding = found(judged, "front tyre at full steer", "gap to the loader frame's width")
    assert "front_tyre.hub_offset not given" in finding.reason


def test_a_rear_attachment_weighs_on_the_axles():
    """By hand: bare tractor, operator and tiller, on the level."""
    machine = lacking("bramble", "loader")
    judged = check_fit(machine, Outfit()).carried
    mass = 430 + 560 + 80 + 190
    moment = 430 * 1.62 + 80 * 0.10 - 190 * 0.75
    for height in ("raised", "lowered"):
        name = f"tiller {height}"
        share = found(judged, name, "front share, nose up")
        assert share.value == pytest.approx(moment / (mass * 1.62))
        rear = found(judged, name, "rear axle load")
        assert rear.value == pytest.approx(mass - moment / 1.62)


def test_a_rear_attachment_takes_the_place_of_the_rear_box():
    with_box = check_fit(BRAMBLE, Outfit(rear_ballast="250 kg")).carried
    assert with_box == check_fit(BRAMBLE, Outfit()).carried


def test_a_raised_attachment_lifts_off_earlier_and_steers_less_on_a_grade():
    site = Site(steepest_grade=radians(12))
    judged = check_fit(BRAMBLE, Outfit(), site).carried
    for what in ("front share, nose up", "lift-off slope"):
        raised, lowered = (found(judged, f"tiller {at}", what) for at in ("raised", "lowered"))
        assert raised.value < lowered.value


def test_missing_tables_are_named_and_the_rest_is_there():
    machine = lacking("bramble", "attachment", "loader", "limits")
    judged = check_fit(machine, Outfit(rear_spacer="76 mm"))
    assert [finding.judgement for finding in judged.cover] == ["not checked"]
    assert "[[attachment]]" in judged.cover[0].reason
    assert "[[attachment]]" in judged.carried[0].reason
    assert any("[loader]" in finding.reason for finding in judged.clearance)
    assert found(judged.widths, "rear tyres", "outside width").value == pytest.approx(1.432)


def test_an_attachment_without_clear_width_is_not_checked():
    finding = found(check_fit(BRAMBLE, Outfit()).clearance, "front pusher", "front outside width")
    assert finding.judgement == "not checked"
    assert 'clear_width of [[attachment]] "front pusher"' in finding.reason
