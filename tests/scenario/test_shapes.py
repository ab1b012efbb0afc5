"""Every shape of the table loads, is refused where it should be, and lies where it is put."""

from math import isfinite

import pytest
from features import item

from sidehill.case import Case
from sidehill.files.errors import InputError
from sidehill.flat import flatten
from sidehill.kernels.height import PROFILES, height, tallest
from sidehill.machine.file import load_machine
from sidehill.picture.course_words import feature_lines
from sidehill.picture.survey import survey
from sidehill.scenario.file import Scenario, load_scenario
from sidehill.scenario.shapes import SHAPES

PLAIN = load_scenario("bank-plain")


def with_one(feature: dict[str, object]) -> Scenario:
    return PLAIN.with_values({"feature": [feature]})


def test_profiles_of_the_table_and_of_the_kernel_are_the_same() -> None:
    assert {shape.profile for shape in SHAPES.values()} == set(PROFILES)
    assert len(set(PROFILES.values())) == len(PROFILES)


@pytest.mark.parametrize("shape", SHAPES)
def test_it_lies_where_it_is_put_as_high_as_it_says(shape: str) -> None:
    ground = flatten(Case(load_machine("bramble"), with_one(item(shape, 0.08)))).ground
    upright = -0.08 if SHAPES[shape].sinks else 0.08
    assert height(8.0, 0.0, ground) == pytest.approx(upright)
    assert [height(x, 0.0, ground) for x in (7.0, 9.0)] == [0.0, 0.0]
    assert tallest(ground.features) == pytest.approx(max(upright, 0.0))
    inside = [height(8.0 + 0.01 * k, 0.0, ground) for k in range(-50, 51)]
    assert all(min(0.0, upright) <= z <= max(0.0, upright) for z in inside)
    for left, right in zip(inside, reversed(inside), strict=True):
        assert left == pytest.approx(right)  # the same from either end


@pytest.mark.parametrize(
    ("shape", "size"), [(name, size) for name in SHAPES for size in SHAPES[name].needs]
)
def test_a_size_that_it_needs_is_asked_for(shape: str, size: str) -> None:
    feature = {key: value for key, value in item(shape).items() if key != size}
    with pytest.raises(InputError, match=f"a {shape} needs a {size}; allowed: as"):
        with_one(feature)


@pytest.mark.parametrize("shape", SHAPES)
def test_one_too_steep_for_a_wheel_is_refused(shape: str) -> None:
    """A bump half a metre high and 50 mm long is a wall."""
    steepest = SHAPES[shape].steepest
    if not isfinite(steepest):
        assert with_one(item(shape, height=0.5, length=0.05))
        return
    length = 0.4
    feature = item(shape, height=steepest * length, length=length) | {"length": length}
    assert with_one(feature)
    with pytest.raises(InputError, match=f"too steep for a {shape}"):
        with_one(feature | {"height": 1.01 * steepest * length})


@pytest.mark.parametrize("shape", SHAPES)
def test_it_is_named_in_the_words_of_a_course(shape: str) -> None:
    seen = survey(Case(load_machine("bramble"), with_one(item(shape))))
    said = "\n".join(feature_lines(seen, us=False))
    assert f"1  {shape} " in said
    assert ("deep" if SHAPES[shape].sinks else "high") in said
