"""Sign and size of a swinging load and of ground that gives way, on the demo's strips: printed."""

from math import degrees, radians
from typing import Any

import pytest
from population import MACHINES, RATED

from sidehill.case import Case
from sidehill.machine.file import load_machine
from sidehill.machine.outfit import Outfit
from sidehill.scenario.file import load_scenario
from sidehill.strip.strip import take_strip

EVENTS = ("hopped", "lifted", "on_stop", "overturned")
SCAN, TOLERANCE = radians(1.0), radians(0.1)


def limits(name: str, outfit: Outfit, changes: dict[str, Any]) -> dict[str, float | None]:
    """[deg] up to which every slope is short of each event, on the demo's course, creeping."""
    scenario = load_scenario("bank-stone-creep").with_values(changes)
    strip = take_strip(
        Case(load_machine(name), scenario, outfit), low=radians(1.0), high=radians(30.0),
        scan=SCAN, tolerance=TOLERANCE, until=EVENTS, engine="compiled",
    )  # fmt: skip
    found = {event: strip.limit(event).good_up_to for event in EVENTS}
    return {event: None if value is None else degrees(value) for event, value in found.items()}


def tell(name: str, what: str, found: dict[str, float | None]) -> None:
    told = ", ".join(
        f"{event} {'-' if value is None else f'{value:.1f}'}" for event, value in found.items()
    )
    print(f"{name}, {what}: {told}")


@pytest.mark.slow
@pytest.mark.parametrize("name", MACHINES)
def test_a_hung_load_beside_the_same_load_in_the_bucket(name: str) -> None:
    """On tyres the two stand alike; driven, the swing may take or give."""
    mass, height = f"{0.5 * RATED[name]:.0f} kg", "1.1 m"
    outfits = {
        "in the bucket, low": Outfit(bucket_load=mass),
        "in the bucket, 1.1 m up": Outfit(bucket_load=mass, bucket_height=height),
        "hung 0.3 m below 1.1 m": Outfit(hung_load=mass, rope="0.3 m", bucket_height=height),
        "hung 0.8 m below 1.1 m": Outfit(hung_load=mass, rope="0.8 m", bucket_height=height),
    }
    found = {}
    for what, outfit in outfits.items():
        found[what] = limits(name, outfit, {})
        tell(name, f"{mass} {what}", found[what])
    low, high, short, long = (
        -1.0 if each["overturned"] is None else each["overturned"] for each in found.values()
    )
    assert max(short, long) < low  # hanging as low as a low bucket does not make it one
    assert abs(short - high) < 2.0 and abs(long - high) < 2.0


@pytest.mark.slow
@pytest.mark.parametrize("name", MACHINES)
def test_ground_that_gives_way_beside_a_hole_as_deep(name: str) -> None:
    """The faster it goes the lower the limits; over 3 s it is the hole of its slow limit."""
    patch = load_scenario("bank-washout").feature[0].model_dump(exclude_none=True)
    overturned = []
    for time in (3.0, 0.3, 0.05):
        found = limits(name, Outfit(), {"feature": [patch | {"at": 4.0, "time": time}]})
        tell(name, f"100 mm that give way over {time:g} s", found)
        overturned.append(found["lifted"] or -1.0)
    slow, fast, sudden = overturned
    assert fast <= slow + 0.5 and sudden <= fast + 0.5
