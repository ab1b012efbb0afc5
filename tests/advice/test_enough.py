"""How much is enough: the answer, plugged back, gives the wanted slope; or none does."""

from math import degrees, nan, radians

import numpy as np
import pytest
from advice.machines import lacking
from hypothesis import given
from hypothesis import strategies as st

from sidehill.advice.ballast import MOST_BALLAST
from sidehill.advice.enough import (
    WIDEST_SPACER,
    enough_ballast,
    enough_spacer,
    smallest_setting,
)
from sidehill.advice.site import Site
from sidehill.files.errors import InputError
from sidehill.machine.build import fit
from sidehill.machine.file import load_machine
from sidehill.machine.outfit import Outfit
from sidehill.statics.axles import axle_loads
from sidehill.statics.report import tip

BRAMBLE = load_machine("bramble")
HIGH = Outfit(bucket_load="250 kg", bucket_height="full")
SLOPE_OF = {"lift-off": "lift_off_slope_deg", "overturn": "overturn_slope_deg"}
GOAL = 0.01  # [deg] the wanted slope is reached within


def plugged_back(machine, outfit, option, setting, event, site=None):
    """[deg]"""
    site = site or Site()
    fitted = fit(machine, outfit.with_values({option: setting}), site.downhill)
    return getattr(tip(fitted, grade=site.grade, downhill=site.downhill), SLOPE_OF[event])


@pytest.mark.parametrize("name", ["sorrel", "bramble", "hawthorn"])
@pytest.mark.parametrize("event", ["lift-off", "overturn"])
@pytest.mark.parametrize("gain", [0.5, 1.0, 3.0])
def test_the_spacer_plugged_back_gives_the_wanted_slope(name, event, gain):
    machine, outfit = load_machine(name), Outfit(bucket_height="full", bucket_load="150 kg")
    wanted = plugged_back(machine, outfit, "rear_spacer", 0.0, event) + gain
    found = enough_spacer(machine, outfit, radians(wanted), event=event)
    back = plugged_back(machine, outfit, "rear_spacer", found.setting, event)
    assert wanted <= back <= wanted + GOAL
    assert degrees(found.slope) == pytest.approx(back)
    less = plugged_back(machine, outfit, "rear_spacer", found.setting - 0.001, event)
    assert less < wanted


@pytest.mark.parametrize("event", ["lift-off", "overturn"])
@pytest.mark.parametrize("wanted", [13.0, 16.0, 18.0])
def test_the_ballast_plugged_back_gives_the_wanted_slope(event, wanted):
    found = enough_ballast(BRAMBLE, HIGH, radians(wanted), event=event)
    back = plugged_back(BRAMBLE, HIGH, "rear_ballast", found.setting, event)
    assert wanted <= back <= wanted + GOAL


def test_site_and_side_are_kept():
    machine = BRAMBLE.with_values({"weighed.cg_offset": "40 mm"})
    site = Site(grade=radians(6), downhill="left")
    found = enough_spacer(machine, HIGH, radians(14), site=site)
    back = plugged_back(machine, HIGH, "rear_spacer", found.setting, "lift-off", site)
    assert 14.0 <= back <= 14.0 + GOAL
    other = enough_spacer(machine, HIGH, radians(14), site=Site(grade=radians(6)))
    assert other.setting != pytest.approx(found.setting, abs=0.01)


def test_a_front_spacer_buys_no_lift_off_but_some_overturn():
    """The front track does not appear in the lift-off slope (three-point hinge principle)."""
    wanted = radians(13)
    none = enough_spacer(BRAMBLE, HIGH, wanted, axle="front")
    assert none.setting is None
    assert none.words.startswith("no front spacer up to 150 mm")
    assert enough_spacer(BRAMBLE, HIGH, wanted, axle="front", event="overturn").setting > 0.0


def test_that_none_reaches_it_is_said_with_the_most_there_is():
    found = enough_spacer(BRAMBLE, HIGH, radians(25))
    widest = plugged_back(BRAMBLE, HIGH, "rear_spacer", WIDEST_SPACER, "lift-off")
    assert found.setting is None
    assert degrees(found.slope) == pytest.approx(widest)
    assert "no rear spacer up to 150 mm" in found.words
    assert "16.2 deg" in found.words  # 16.24, rounded down


def test_what_is_there_already_needs_none():
    found = enough_spacer(BRAMBLE, HIGH, radians(8))
    assert found.setting == 0.0
    assert "without a rear spacer" in found.words


def test_ballast_stops_at_the_rear_axles_rating():
    found = enough_ballast(BRAMBLE, HIGH, radians(40))
    assert found.setting is None
    full = fit(BRAMBLE, HIGH.with_values({"rear_ballast": found.most}))
    assert axle_loads(full)[1] == pytest.approx(BRAMBLE.limits.rear_axle)
    assert enough_ballast(lacking("bramble", "limits"), HIGH, radians(40)).most == MOST_BALLAST


def test_no_place_for_ballast_is_said():
    found = enough_ballast(lacking("bramble", "ballast"), HIGH, radians(16))
    assert found.setting is None
    assert "[ballast] rear_box" in found.words


@pytest.mark.parametrize("wanted", [0.0, -5.0, 90.0])
def test_a_wanted_slope_out_of_range_is_refused(wanted):
    with pytest.raises(InputError, match=f"{wanted:g} deg"):
        enough_spacer(BRAMBLE, HIGH, radians(wanted))


@given(st.floats(0.05, 0.95), st.floats(0.5, 4.0))
def test_the_search_finds_the_root_of_any_rising_slope(part, power):
    setting, slope = smallest_setting(lambda s: s**power, part**power, 1.0, 1e-9)
    assert setting == pytest.approx(part, abs=1e-8)
    assert slope >= part**power


def test_the_search_takes_the_first_rise_of_several():
    setting, _ = smallest_setting(lambda s: np.sin(7 * s), 0.5, 2.0, 1e-9, scan=41)
    assert setting == pytest.approx(np.arcsin(0.5) / 7, abs=1e-8)


def test_the_search_passes_settings_without_a_slope():
    setting, slope = smallest_setting(lambda s: nan if s < 0.3 else 0.4, 0.2, 1.0, 1e-6)
    assert 0.3 <= setting <= 0.3 + 1e-6
    assert slope == 0.4
    nothing, best = smallest_setting(lambda _: nan, 0.2, 1.0, 1e-6)
    assert nothing is None and np.isnan(best)


def test_the_search_reaches_the_wanted_slope_on_steps():
    """A simulated limit comes in steps of its own tolerance."""
    setting, slope = smallest_setting(lambda s: np.floor(s / 0.01) * 0.01, 0.155, 1.0, 1e-6)
    assert slope >= 0.155
    assert setting == pytest.approx(0.16, abs=1e-5)
