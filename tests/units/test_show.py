"""What people read: both systems, converted first and rounded after, never to the unsafe side."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sidehill.files.units import round_to, show, show_angle, show_slope


def test_metric_first_and_turned_round() -> None:
    assert show(0.0762, "length") == "76 mm (3.0 in)"
    assert show(0.0762, "length", us=True) == "3.0 in (76 mm)"


def test_converted_first_and_rounded_after() -> None:
    # 76.49 mm is 3.011 in; rounding to 76 mm first would give 2.99 in, shown as 3.0 too,
    # but 0.449 kg is 0.990 lb: rounded first it would be 0 lb.
    assert show(0.449, "mass") == "0 kg (1 lb)"


def test_thresholds_and_energies_down_loads_and_peaks_up() -> None:
    assert show(107.99, "energy", rounding="down") == "107 J (79 ft lbf)"
    assert show(3855.01, "force", rounding="up") == "3,856 N (867 lbf)"
    assert show_slope(math.radians(17.99), "down") == "17.9 deg (32 %)"
    assert show_angle(math.radians(9.91), "up") == "10.0 deg"


def test_slopes_show_both_forms_in_both_systems() -> None:
    assert show_slope(math.radians(14.0)) == "14.0 deg (25 %)"
    assert show_slope(math.atan(0.25)) == "14.0 deg (25 %)"


def test_round_trip_noise_does_not_cost_a_digit() -> None:
    for tenths in range(0, 600):
        angle = math.radians(tenths / 10.0)
        assert show_angle(angle, "down") == show_angle(angle, "up") == f"{tenths / 10.0:.1f} deg"


@pytest.mark.parametrize("value", [math.nan, math.inf, -math.inf])
def test_what_could_not_be_computed_is_said_so(value: float) -> None:
    assert show(value, "mass") == show_slope(value) == show_angle(value) == "not computed"


@given(st.floats(-1e6, 1e6), st.integers(0, 3))
def test_down_is_never_above_and_up_never_below(value: float, decimals: int) -> None:
    noise = 10.0 ** -(decimals + 6)
    assert round_to(value, decimals, "down") <= value + noise
    assert round_to(value, decimals, "up") >= value - noise
    assert abs(round_to(value, decimals) - value) <= 0.5 * 10.0**-decimals + noise
