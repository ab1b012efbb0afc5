"""Warnings of ratings and shares: judged by sums over the parts, the same in every report."""

from math import cos, radians, tan

from cli.runner import answer, run
from scipy.optimize import brentq

from sidehill.advice.site import Site
from sidehill.advice.warnings import scenario_warnings, warnings
from sidehill.machine.build import fit
from sidehill.machine.file import load_machine
from sidehill.machine.outfit import Outfit
from sidehill.scenario.file import load_scenario

BRAMBLE = load_machine("bramble")
GRADE = 0.12  # [rad]
SITE = Site(slope=0.05, steepest_grade=GRADE)


def lines(word, site=SITE, machine=BRAMBLE, **outfit):
    return [line for line in warnings(machine, Outfit(**outfit), site) if line.startswith(word)]


def axle_mass(end, grade, **outfit):
    """[kg] square to the ground: moments of all parts about the other axle."""
    parts = fit(BRAMBLE, Outfit(**outfit)).parts
    mass = sum(part.mass for part in parts)
    moment = sum(part.mass * (part.cg[0] - part.cg[2] * tan(grade)) for part in parts)
    front = moment / BRAMBLE.body.wheelbase * cos(grade)
    return front if end == "front" else mass * cos(grade) - front


def load_at(function, high=2000.0):
    """[kg] at which a function of a load crosses nothing."""
    return brentq(function, 1.0, high, xtol=1e-6)


def test_the_front_axle_is_warned_of_from_its_rating_on():
    """Nose down on the steepest grade it carries most."""
    limit = load_at(
        lambda load: (
            max(axle_mass("front", g, bucket_load=f"{load} kg") for g in (0.0, GRADE, -GRADE))
            - BRAMBLE.limits.front_axle
        )
    )
    assert lines("front axle, load", bucket_load=f"{limit - 0.1} kg") == []
    (line,) = lines("front axle, load", bucket_load=f"{limit + 0.1} kg")
    assert "over 1,200 kg" in line


def test_the_rear_axle_is_warned_of_from_its_rating_on():
    limit = load_at(
        lambda load: (
            max(axle_mass("rear", g, rear_ballast=f"{load} kg") for g in (0.0, GRADE, -GRADE))
            - BRAMBLE.limits.rear_axle
        )
    )
    assert lines("rear axle, load", rear_ballast=f"{limit - 0.1} kg") == []
    assert len(lines("rear axle, load", rear_ballast=f"{limit + 0.1} kg")) == 1


def test_a_tyre_is_warned_of_from_its_rating_on():
    """On the level both front tyres carry half of the axle."""
    limit = load_at(
        lambda load: (
            axle_mass("front", 0.0, bucket_load=f"{load} kg") - 2.0 * BRAMBLE.front_tyre.max_load
        )
    )
    level = Site()
    before, after = (
        [line.split(",")[0] for line in lines("front", level, bucket_load=f"{load} kg")]
        for load in (limit - 0.1, limit + 0.1)
    )
    assert set(after) - set(before) == {"front left tyre", "front right tyre"}


def test_a_front_axle_under_a_fifth_is_warned_of():
    """The bucket carried low is the least ahead; level, so that nothing else counts."""

    def share(load):
        low, reach, full = (
            axle_mass("front", 0.0, rear_ballast=f"{load} kg", bucket_height=f"{height} m")
            for height in (0.35, 1.15, 2.1)
        )
        mass = fit(BRAMBLE, Outfit(rear_ballast=f"{load} kg")).mass
        return min(low, reach, full) / mass - 0.20

    limit = load_at(share)
    level = Site()
    assert lines("front axle, share", level, rear_ballast=f"{limit - 0.1} kg") == []
    assert "under 20.0 %" in lines("front axle, share", level, rear_ballast=f"{limit + 0.1} kg")[0]


def test_a_rear_axle_under_a_quarter_with_a_full_bucket_is_warned_of():
    def share(load):
        options = {"rear_ballast": f"{load} kg", "bucket_load": "420 kg"}
        rears = [
            axle_mass("rear", 0.0, bucket_height=f"{height} m", **options)
            for height in (0.35, 1.15, 2.1)
        ]
        return min(rears) / fit(BRAMBLE, Outfit(**options)).mass - 0.25

    limit = load_at(share)
    assert "under 25.0 %" in lines("rear axle, share", rear_ballast=f"{limit - 0.1} kg")[0]
    assert lines("rear axle, share", rear_ballast=f"{limit + 0.1} kg") == []


def test_each_is_said_once():
    outfit = Outfit(bucket_load="900 kg", bucket_height="full", rear_ballast="900 kg")
    found = warnings(BRAMBLE, outfit, SITE)
    assert len(set(found)) == len(found)
    for word in ("OVERLOADED", "roll bar was tested for"):
        assert sum(word in line for line in found) == 1
    assert not any(line.startswith(("loader, load", "roll bar, mass")) for line in found)


def test_a_machine_whose_front_lifts_first_is_warned_of():
    wide = {"rear_spacer": "400 mm", "rear_ballast": "600 kg"}
    (line,) = lines("the uphill front wheel lifts first", **wide)
    assert "check tracks, pivot_height and cg_height" in line
    assert lines("the uphill front wheel lifts first") == []


def test_a_very_low_cg_is_warned_of():
    low = BRAMBLE.with_values({"weighed.cg_height": 0.32})
    assert "look at the readings again" in lines("CG height", machine=low)[0]
    assert lines("CG height") == []


def test_a_tilt_table_is_level_before_it_turns():
    table, plain = load_scenario("tilt-table"), load_scenario("bank-plain")
    outfit = Outfit(bucket_load="230 kg")
    level = warnings(BRAMBLE, outfit, Site())
    assert scenario_warnings(BRAMBLE, outfit, table) == level
    steep = plain.with_values({"ground.slope": radians(15.0)})
    assert set(scenario_warnings(BRAMBLE, outfit, steep)) > set(level)


def test_tip_drive_and_film_say_the_same(tmp_path, monkeypatch):
    """Of one machine on one slope, in JSON, in the text and beside it."""
    monkeypatch.chdir(tmp_path)
    outfit = '--bucket-load "300 kg" --bucket-height "0.6 m"'
    drive = (
        f'drive bramble bank-plain {outfit} --set ground.slope="6 deg" --set course.length="3 m" '
        "--engine compiled --out one"
    )
    driven = answer(drive)["warnings"]
    stood = answer(f'tip bramble {outfit} --slope "6 deg"')["warnings"]
    filmed = answer("film one/record.parquet --still end --size 640x360 --out one.png")["warnings"]
    assert driven == stood == filmed
    assert any(line.startswith("front axle, load") for line in driven)
    said = " ".join(run(drive).stdout.split())
    for line in driven:
        assert f"WARNING: {line}" in said
