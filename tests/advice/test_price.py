"""What an outfit costs, by hand calculation, and what is said where the file is silent."""

from math import radians, tan

import pytest
from advice.machines import SHIPPED, G, found, lacking
from hypothesis import given
from hypothesis import strategies as st

from sidehill.advice.axles import bucket_poses, least_front_share, least_rear_share
from sidehill.advice.loaded import Worked, bearing_moment, loaded
from sidehill.advice.price import price
from sidehill.advice.site import Site
from sidehill.machine.build import fit
from sidehill.machine.file import load_machine
from sidehill.machine.linkage import WHEELS
from sidehill.machine.outfit import Outfit

BRAMBLE = load_machine("bramble")
BARE = lacking("bramble", "loader")
ALONE = Outfit(operator="0 kg")
PEAKS = {"front_left": 5000.0, "front_right": 7000.0, "rear_left": 4000.0, "rear_right": 9000.0}


def alone(machine=BARE, outfit=ALONE, site=None, peaks=None, as_delivered=ALONE):
    peaks = peaks or {}
    return price(machine, Worked(outfit, peaks), Worked(as_delivered, peaks), site)


def test_bearing_moment_as_delivered_by_hand():
    """280 kg on each rear wheel, 52 kg of it the wheel itself, 100 mm outboard of the bearing."""
    finding = found(alone().bearings, "rear left bearing", "static moment")
    assert finding.value == pytest.approx((280 - 52) * G * 0.100)
    assert finding.ratio == pytest.approx(1.0)
    assert finding.judgement == "not checked"


def test_bearing_moment_with_a_spacer_by_hand():
    """A 76 mm spacer weighs 18.24 kg and hangs 38 mm inside the tyre's centre plane."""
    priced = alone(outfit=Outfit(operator="0 kg", rear_spacer="76 mm"))
    finding = found(priced.bearings, "rear right bearing", "static moment")
    own = 52 * 0.176 + 18.24 * (0.176 - 0.038)
    moment = (298.24 * 0.176 - own) * G
    assert finding.value == pytest.approx(moment)
    assert finding.ratio == pytest.approx(moment / ((280 - 52) * G * 0.100))


def test_bearing_moment_of_a_reset_rim_has_no_spacer_part():
    priced = alone(outfit=Outfit(operator="0 kg", rear_track="1.152 m"))
    finding = found(priced.bearings, "rear left bearing", "static moment")
    assert finding.value == pytest.approx((280 - 52) * G * 0.176)


def test_front_bearing_moment_by_hand():
    finding = found(alone().bearings, "front left bearing", "static moment")
    assert finding.value == pytest.approx((215 - 24) * G * 0.090)


def test_peak_moment_uses_the_run():
    priced = alone(outfit=Outfit(operator="0 kg", rear_track="1.152 m"), peaks=PEAKS)
    finding = found(priced.bearings, "rear right bearing", "peak moment")
    assert finding.value == pytest.approx((9000.0 - 52 * G) * 0.176)
    assert finding.ratio == pytest.approx(1.76)


def test_liquid_in_a_tyre_does_not_bear_on_its_bearing():
    filled = alone(outfit=Outfit(operator="0 kg", rear_fill=0.75))
    dry = alone()
    what = ("rear left bearing", "static moment")
    assert found(filled.bearings, *what).value == pytest.approx(found(dry.bearings, *what).value)


def test_ballast_on_the_tractor_does_bear_on_it():
    boxed = alone(outfit=Outfit(operator="0 kg", rear_ballast="250 kg"))
    assert found(boxed.bearings, "rear left bearing", "static moment").ratio > 1.5


machines = st.sampled_from(SHIPPED).map(load_machine)
thicknesses = st.floats(0.0, 0.15)


@given(machines, thicknesses, thicknesses, st.sampled_from(WHEELS), st.floats(2e3, 2e4))
def test_a_wider_spacer_never_lowers_the_moment_of_the_same_load(machine, a, b, wheel, load):
    end = wheel.split("_")[0]
    thin, thick = (
        bearing_moment(fit(machine, Outfit(**{f"{end}_spacer": f"{t} m"})), wheel, load, Site())
        for t in sorted((a, b))
    )
    assert thick >= thin - 1e-9


@given(machines, thicknesses, thicknesses, st.floats(0.0, 0.30), st.sampled_from(("front", "rear")))
def test_a_wider_spacer_never_lowers_the_static_moment_downhill(machine, a, b, slope, end):
    """Wider wheels take load off the downhill one, but less than the lever grows."""
    site = Site(slope)
    thin, thick = (
        loaded(machine, Worked(Outfit(**{f"{end}_spacer": f"{t} m"})), site).moment(
            "static", f"{end}_right"
        )
        for t in sorted((a, b))
    )
    assert thin is not None
    assert thick >= thin - 1e-9


def test_heaviest_bearing_is_the_downhill_one():
    priced = alone(site=Site(radians(10)))
    for end in ("front", "rear"):
        assert priced.heaviest_bearing(end, "static").item == f"{end} right bearing"
    assert priced.heaviest_bearing("rear", "peak") is None


def test_tyre_loads_stand_beside_their_own_rating():
    priced = alone(peaks={**PEAKS, "rear_right": 1050 * G + 1.0})
    static = found(priced.tyres, "rear right tyre", "static load")
    assert static.value == pytest.approx(280.0)
    assert (static.limit, static.judgement) == (1050.0, "within")
    assert found(priced.tyres, "rear right tyre", "peak load").judgement == "over"
    assert found(priced.tyres, "rear left tyre", "peak load").judgement == "within"


def test_axle_loads_by_hand():
    priced = alone(machine=BARE, outfit=Outfit(operator="80 kg"))
    front = found(priced.axles, "front axle", "load")
    rear = found(priced.axles, "rear axle", "load")
    assert front.value == pytest.approx(430 + 80 * 0.10 / 1.62)
    assert rear.value == pytest.approx(560 + 80 * (1 - 0.10 / 1.62))
    assert rear.ratio == pytest.approx(rear.value / 1400)


def test_a_grade_loads_the_lower_axle():
    """Square to the ground: m (x cos g +- h sin g) / L, by hand."""
    grade = radians(15)
    priced = alone(site=Site(steepest_grade=grade))
    x, h = 430 * 1.62 / 990, 0.60
    nose_down = 990 * (x + h * tan(grade)) / 1.62 / (1 + tan(grade) ** 2) ** 0.5
    assert found(priced.axles, "front axle", "load").value == pytest.approx(nose_down)


def test_a_loaded_bucket_overloads_the_front_axle():
    outfit = Outfit(bucket_load="420 kg")
    priced = alone(machine=BRAMBLE, outfit=outfit)
    assert found(priced.axles, "front axle", "load").judgement == "over"
    assert found(priced.loader, "loader", "load").judgement == "within"
    over = alone(machine=BRAMBLE, outfit=Outfit(bucket_load="421 kg"))
    assert found(over.loader, "loader", "load").judgement == "over"


def test_steering_share_follows_the_published_rule():
    """20 % of the mass on the front axle: published, implement manuals."""
    light = alone(outfit=Outfit(operator="0 kg", rear_ballast="600 kg"))
    share = (430 * 1.62 - 600 * 0.85) / ((990 + 600) * 1.62)
    finding = found(light.shares, "front axle", "share as fitted")
    assert finding.value == pytest.approx(share)
    assert (finding.limit, finding.judgement) == (0.20, "over")
    assert found(alone().shares, "front axle", "share as fitted").judgement == "within"


def test_rear_share_with_the_bucket_full_follows_common_practice():
    """25 % of the mass on the rear axle: common practice, no source."""
    bare, boxed = (
        found(
            alone(machine=BRAMBLE, outfit=Outfit(rear_ballast=f"{mass} kg")).shares,
            "rear axle",
            "share with the bucket full",
        )
        for mass in (0, 250)
    )
    assert (bare.limit, bare.judgement, boxed.judgement) == (0.25, "over", "within")


def test_worst_state_empties_the_bucket_keeps_the_box_and_climbs():
    grade = radians(10)
    outfit = Outfit(bucket_load="250 kg", rear_ballast="250 kg", bucket_height="full")
    worst = least_front_share(BRAMBLE, outfit, grade)
    hand = []
    for height in ("carry", "full"):
        fitted = fit(BRAMBLE, Outfit(rear_ballast="250 kg", bucket_height=height))
        hand.append((fitted.cg[0] - fitted.cg[2] * tan(grade)) / 1.62)
    assert worst == pytest.approx(min(hand))


def test_worst_rear_share_is_at_the_furthest_reach():
    outfit = Outfit(rear_ballast="100 kg")
    level_arm = Outfit(rear_ballast="100 kg", bucket_load="420 kg", bucket_height="1.15 m")
    fitted = fit(BRAMBLE, level_arm)
    assert least_rear_share(BRAMBLE, outfit) == pytest.approx(1 - fitted.cg[0] / 1.62)
    assert len(bucket_poses(BRAMBLE, outfit)) == 4


def test_roll_bar_is_held_against_everything_on_the_wheels():
    light, heavy = (
        alone(machine=BRAMBLE, outfit=Outfit(rear_ballast=f"{mass} kg")).roll_bar[0]
        for mass in (0, 300)
    )
    assert (light.value, light.limit) == (pytest.approx(1355.0), 1600.0)
    assert (light.judgement, heavy.judgement) == ("within", "over")


def test_a_folded_roll_bar_is_never_within():
    finding = alone(machine=BRAMBLE, outfit=Outfit(rops="folded")).roll_bar[0]
    assert finding.judgement == "not checked"
    assert "protects nobody" in finding.reason


@pytest.mark.parametrize(
    ("entries", "group", "named"),
    [
        (("limits",), "axles", "[limits]"),
        (("rops",), "roll_bar", "[rops]"),
        (("rops.reference_mass",), "roll_bar", "rops.reference_mass"),
        (("loader",), "loader", "[loader]"),
        (
            ("front_tyre.hub_offset", "rear_tyre.hub_offset"),
            "bearings",
            "_tyre.hub_offset",
        ),
        (("front_tyre.max_load", "rear_tyre.max_load"), "tyres", "_tyre.max_load"),
    ],
)
def test_what_the_file_lacks_is_named_and_the_rest_is_there(entries, group, named):
    whole, part = (
        alone(machine=machine, outfit=Outfit(), peaks=PEAKS)
        for machine in (BRAMBLE, lacking("bramble", *entries))
    )
    for finding in getattr(part, group):
        assert finding.judgement == "not checked"
        assert named in finding.reason
    untouched = {"axles", "loader", "shares", "bearings", "tyres", "roll_bar"} - {group}
    if entries != ("loader",):  # without a loader the loads themselves are others
        for name in untouched:
            assert getattr(part, name) == getattr(whole, name)


def test_the_rear_bearing_is_priced_where_only_the_front_offset_is_missing():
    priced = alone(machine=lacking("bramble", "loader", "front_tyre.hub_offset"))
    assert priced.heaviest_bearing("front", "static") is None
    assert priced.heaviest_bearing("rear", "static").ratio == pytest.approx(1.0)


def test_where_it_does_not_rest_static_loads_are_not_checked():
    outfit = Outfit(bucket_load="250 kg", bucket_height="full")
    priced = alone(machine=BRAMBLE, outfit=outfit, site=Site(radians(25)))
    for finding in priced.tyres:
        assert finding.judgement == "not checked"
    assert "no rest on four wheels" in found(priced.tyres, "rear left tyre", "static load").reason


@pytest.mark.parametrize("peak", [{}, dict.fromkeys(WHEELS, float("nan"))])
def test_a_run_without_peaks_is_not_checked(peak):
    priced = alone(peaks=peak)
    for finding in priced.tyres + priced.bearings:
        if finding.what.startswith("peak"):
            assert (finding.judgement, finding.value) == ("not checked", None)
            assert "no peak load" in finding.reason


def test_peaks_of_the_option_alone_give_no_ratio():
    priced = price(BARE, Worked(ALONE, PEAKS), Worked(ALONE))
    finding = found(priced.bearings, "rear left bearing", "peak moment")
    assert finding.value is not None and finding.ratio is None
    assert finding.reason.startswith("as delivered:")
