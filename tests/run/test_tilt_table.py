"""The tilt table of each engine against compliant statics, which integrate nothing."""

from itertools import product
from math import degrees, radians

import pytest
from population import MACHINES, RATED

from sidehill.case import Case
from sidehill.engines import here
from sidehill.flat import flatten
from sidehill.kernels.layout import OVERTURNED
from sidehill.machine.file import load_machine
from sidehill.machine.outfit import Outfit
from sidehill.rest import rest_slopes
from sidehill.run import run
from sidehill.scenario.file import load_scenario

LIFT_OFF = 0.03  # [deg] (design)
SECOND_STAGE = 0.2  # [deg] body lowered gently (design)

OUTFITS = {
    "bare": lambda name: Outfit(),
    "loaded": lambda name: Outfit(bucket_load=f"{0.6 * RATED[name]} kg", bucket_height="full"),
}

OWN, ONE = "compiled", (MACHINES[-1], "loaded")  # every table in our engine, one in the others
TABLES = [
    pytest.param(
        name, outfit, engine,
        marks=() if engine == OWN or (name, outfit) == ONE else pytest.mark.slow,
    )
    for name, outfit, engine in product(MACHINES, OUTFITS, here())
]  # fmt: skip


def tilted(name: str, outfit: str, method: str) -> Case:
    return Case(
        load_machine(name),
        load_scenario("tilt-table", [f"course.method={method}"]),
        OUTFITS[outfit](name),
    )


@pytest.mark.parametrize(("name", "outfit", "engine"), TABLES)
def test_lift_off_is_that_of_compliant_statics(name: str, outfit: str, engine: str) -> None:
    case = tilted(name, outfit, "fall")
    expected = rest_slopes(flatten(case)).lift_off
    found = run(case, engine).state["event_slope"][0, 0]
    assert degrees(found) == pytest.approx(degrees(expected), abs=LIFT_OFF)


@pytest.mark.parametrize(("name", "outfit", "engine"), TABLES)
def test_second_stage_of_a_body_lowered_gently(name: str, outfit: str, engine: str) -> None:
    case = tilted(name, outfit, "lower")
    expected = rest_slopes(flatten(case)).second_stage
    track = run(case, engine)
    assert track.state["finish"][0] == OVERTURNED
    found = track.state["event_slope"][0, 2]
    assert degrees(found) == pytest.approx(degrees(expected), abs=SECOND_STAGE)


def released_at(name: str, outfit: str, slope: float) -> bool:
    """Whether a machine held on four wheels and let go at a slope [rad] goes over."""
    case = tilted(name, outfit, "release").with_slope(slope)
    return bool(run(case, "mujoco").state["finish"][0] == OVERTURNED)


@pytest.mark.parametrize("name", MACHINES)
def test_released_body_goes_over_between_lift_off_and_second_stage(name: str) -> None:
    """Two rest states: let go below lift-off it stays, past the second stage it is gone."""
    slopes = rest_slopes(flatten(tilted(name, "loaded", "release")))
    assert not released_at(name, "loaded", slopes.lift_off - radians(0.3))
    assert released_at(name, "loaded", slopes.second_stage + radians(0.3))
