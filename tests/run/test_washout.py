"""Ground that gives way under a rear wheel: its slow limit, its depth over time, its refusals."""

from math import asin, degrees
from typing import Any

import numpy as np
import pytest

from sidehill.case import Case
from sidehill.crosscheck.checks.bump import CHECKS
from sidehill.engines import here
from sidehill.files.errors import InputError
from sidehill.flat import flatten
from sidehill.kernels.height import height
from sidehill.machine.file import load_machine
from sidehill.machine.outfit import Outfit
from sidehill.run import run
from sidehill.run.track import Track
from sidehill.scenario.file import Scenario, load_scenario

BRAMBLE = load_machine("bramble")
BANK = load_scenario("bank-washout")


def crossed(changes: dict[str, Any], engine: str = "compiled") -> Track:
    return run(Case(BRAMBLE, BANK.with_values(changes), Outfit()), engine)


def test_its_slow_limit_is_in_the_table_of_checks() -> None:
    """asin(depth / track): textbook geometry; the table runs it on tyres that hardly give."""
    slow = [check for check in CHECKS if "gives way" in check.quantity]
    expected = [degrees(asin(depth / 1.10)) for depth in (0.05, 0.10, 0.15)]
    assert [check.expected for check in slow] == pytest.approx(expected, abs=5e-4)


def test_it_is_even_ground_until_a_rear_wheel_stands_on_it_and_goes_as_deep_as_it_says() -> None:
    track = crossed({"ground.slope": 0.0})
    rows = track.written()
    before = rows["path"] < 4.4  # its middle half begins at 4.5 m; the front wheels are past it
    assert np.abs(np.degrees(rows["roll_slope"][before])).max() < 0.2
    begun = float(track.state["give_step"][0][0]) * 1e-3
    assert rows["path"][np.searchsorted(rows["t_s"], begun)] == pytest.approx(4.5, abs=0.1)
    assert height(5.0, -BRAMBLE.rear_tyre.track / 2.0, track.flat.ground) == pytest.approx(-0.1)
    assert degrees(track.state["peak_roll"][0]) > 3.0


def test_the_faster_it_gives_way_the_further_it_rolls_the_body() -> None:
    """Not so a hole of the same shape that is there from the start, which is the slow limit."""
    rolls = [crossed({"feature.1.time": time}).outcome.peak_roll_deg for time in (3.0, 0.6, 0.1)]
    print(f"over 3, 0.6 and 0.1 s: peak roll {', '.join(f'{roll:.2f}' for roll in rolls)} deg")
    assert rolls[0] < rolls[1] < rolls[2]


def test_engines_agree_on_it_and_it_repeats() -> None:
    changes = {"feature.1.time": 0.2}
    tracks = [crossed(changes, engine) for engine in (*here(), "compiled")]
    assert np.ptp([track.outcome.peak_roll_deg for track in tracks]) < 1e-3
    same = [track.written().tobytes() for track in tracks if track.engine.name == "compiled"]
    assert len(same) == 2 and same[0] == same[1]


def with_features(*items: dict[str, Any]) -> Scenario:
    return BANK.with_values({"feature": list(items)})


def test_a_time_is_for_what_gives_way_alone() -> None:
    hole = {"shape": "hole", "at": 5.0, "height": 0.1, "length": 1.0, "width": 0.6, "y": 0.0}
    with pytest.raises(InputError, match="a hole does not give way; leave it out"):
        with_features(hole | {"time": 0.5})


def test_more_patches_than_can_be_followed_are_refused() -> None:
    patch = BANK.feature[0].model_dump(exclude_none=True) | {"length": 0.3}
    many = with_features(*(patch | {"at": 4.0 + 0.4 * k} for k in range(9)))
    with pytest.raises(InputError, match="9 patches that give way; allowed: up to 8"):
        flatten(Case(BRAMBLE, many, Outfit()))
