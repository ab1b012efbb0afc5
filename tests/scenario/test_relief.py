"""The relief is made once and kept; nobody who changes his copy changes that of the next."""

import numpy as np
import pytest

from sidehill.scenario.file import load_scenario
from sidehill.terrain import roughness
from sidehill.terrain.relief import build_relief

ROUGH = load_scenario("bank-rough")
TURN = load_scenario("turn-uphill").with_values({"ground.roughness": "B"})


def test_a_kept_relief_is_the_one_that_is_made_anew() -> None:
    relief, place = build_relief(ROUGH)
    relief[:] = 0.0
    place[:] = 0.0
    kept = build_relief(ROUGH)
    roughness.rough_relief.cache_clear()
    made = build_relief(ROUGH)
    assert all(np.array_equal(a, b) for a, b in zip(kept, made, strict=True))
    assert made[0].any()


@pytest.mark.parametrize(
    ("scenario", "values"),
    [
        (ROUGH, {"ground.seed": 7}),
        (ROUGH, {"ground.roughness": 1e-4}),
        (ROUGH, {"ground.coherence": 0.1}),
        (ROUGH, {"course.length": 17.0}),
        (TURN, {"ground.downhill": "left"}),
        (TURN, {"course.radius": 9.0}),
        (TURN, {"course.after": 3.0}),
    ],
)
def test_all_that_shapes_it_makes_another(scenario, values) -> None:  # type: ignore[no-untyped-def]
    other = scenario.with_values(values)
    before, after = build_relief(scenario), build_relief(other)
    assert not all(np.array_equal(a, b) for a, b in zip(before, after, strict=True))


def test_what_does_not_shape_it_finds_it_kept() -> None:
    build_relief(ROUGH)
    hits = roughness.rough_relief.cache_info().hits
    build_relief(ROUGH.with_values({"ground.slope": 0.1, "drive.speed": 1.0}))
    assert roughness.rough_relief.cache_info().hits == hits + 1
