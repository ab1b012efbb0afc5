"""A figure and its judgement: unknown is never within, and no rounding is to the kinder side."""

import math

import pytest
from advice.machines import fitted_outfits
from hypothesis import given
from hypothesis import strategies as st

from sidehill.advice.finding import Figure
from sidehill.advice.fit import check_fit
from sidehill.advice.loaded import Worked
from sidehill.advice.price import price
from sidehill.advice.site import Site
from sidehill.machine.outfit import Outfit

slopes = st.floats(0.0, 0.35)


@pytest.mark.parametrize(
    ("bound", "value", "judgement", "ratio"),
    [
        ("most", 90.0, "within", 0.9),
        ("most", 100.0, "within", 1.0),
        ("most", 100.001, "over", 1.00001),
        ("least", 125.0, "within", 0.8),
        ("least", 100.0, "within", 1.0),
        ("least", 80.0, "over", 1.25),
        ("least", -5.0, "over", None),
    ],
)
def test_judgement_and_ratio_follow_the_limit(bound, value, judgement, ratio):
    finding = Figure("axle", "load", "mass", value, bound).check(100.0, "why")
    assert finding.judgement == judgement
    assert finding.ratio == (None if ratio is None else pytest.approx(ratio))


@pytest.mark.parametrize(
    ("value", "limit"), [(None, 100.0), (90.0, None), (math.nan, 100.0), (math.inf, 100.0)]
)
def test_what_is_unknown_is_not_checked(value, limit):
    finding = Figure("axle", "load", "mass", value).check(limit, "why", "nobody weighed it")
    assert (finding.judgement, finding.reason) == ("not checked", "nobody weighed it")
    assert finding.ratio is None
    assert finding.value is None or math.isfinite(finding.value)


def test_no_text_is_rounded_to_the_kinder_side():
    most = Figure("axle", "load", "mass", 1199.2).check(1200.8, "why")
    assert most.value_text().startswith("1,200 kg")
    assert most.limit_text().startswith("1,200 kg")
    least = Figure("axle", "share", "share", 0.20009, "least").check(0.20001, "why")
    assert (least.value_text(), least.limit_text()) == ("20.0 %", "20.1 %")
    slope = Figure("machine", "lift-off", "slope", math.radians(20.09), "least").unchecked("why")
    assert slope.value_text().startswith("20.0 deg")


@given(fitted_outfits(), slopes, st.floats(0.0, 0.3))
def test_within_always_means_known_and_on_the_right_side_of_the_limit(pair, slope, grade):
    machine, outfit = pair
    site = Site(slope, 0.0, grade)
    priced = price(machine, Worked(outfit), Worked(Outfit()), site)
    judged = check_fit(machine, outfit, site).findings + priced.findings
    for finding in judged:
        assert finding.reason
        if finding.judgement == "within":
            assert finding.value is not None and finding.limit is not None
            slack = finding.limit - finding.value
            assert (slack if finding.bound == "most" else -slack) >= -1e-9
            assert finding.ratio is None or finding.ratio <= 1.0 + 1e-6
        if finding.judgement == "not checked" and finding.as_delivered is None:
            assert finding.ratio is None


@given(fitted_outfits(), slopes)
def test_no_reason_permits_anything(pair, slope):
    machine, outfit = pair
    site = Site(slope)
    worked = Worked(outfit)
    for finding in (
        check_fit(machine, outfit, site).findings + price(machine, worked, worked, site).findings
    ):
        assert "safe" not in finding.reason.lower()
        assert "can take" not in finding.reason.lower()
