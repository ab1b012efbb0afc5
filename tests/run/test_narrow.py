"""Features narrower than the gaps between a wheel's discs, and features that no wheel meets."""

import numpy as np
import pytest

from sidehill.case import Case, Settings
from sidehill.flat import Flat, flatten
from sidehill.kernels.height import features_height
from sidehill.machine.file import load_machine
from sidehill.run.record import simulate
from sidehill.scenario.file import load_scenario

BRAMBLE = load_machine("bramble")
SPAN = 0.9  # of the section, that the discs stand on (design)
AT = 5.0  # [m]
SHAPES = {
    "bump": {"shape": "bump", "height": 0.06, "length": 0.3},
    "log": {"shape": "log", "height": 0.06},
    "ridge": {"shape": "ridge", "height": 0.06, "length": 0.3},
    "kerb": {"shape": "kerb", "height": 0.06, "length": 0.3},
}


def flat_with(feature: dict, settings: Settings | None = None) -> Flat:
    bank = load_scenario("bank-plain").with_values({"feature": [{"at": AT, **feature}]})
    return flatten(Case(BRAMBLE, bank, settings=settings or Settings()))


def disc_places(flat: Flat, wheel: int) -> np.ndarray:
    """[m] across, from the middle of the section: evenly, each in the middle of its own strip."""
    count, section = int(flat.case["discs"][0]), float(flat.case["section"][0, wheel])
    return SPAN * section * ((np.arange(count) + 0.5) / count - 0.5)


@pytest.mark.parametrize("shape", SHAPES)
@pytest.mark.parametrize("width", [0.02, 0.03, 0.05, 0.08, 0.2])
def test_wherever_it_lies_between_the_outermost_discs_one_of_them_climbs_it(shape, width):
    """Scanned finely over the section of each rear wheel and each front wheel."""
    for wheel, track in ((0, BRAMBLE.front_tyre.track), (2, BRAMBLE.rear_tyre.track)):
        for offset in np.arange(-0.14, 0.14, 0.0037):
            y = track / 2.0 + offset
            flat = flat_with({**SHAPES[shape], "width": width, "y": float(y)})
            places = track / 2.0 + disc_places(flat, wheel)
            if not places.min() <= y <= places.max():
                continue
            heights = [features_height(AT, float(p), flat.ground.features) for p in places]
            least = 0.99 if shape != "kerb" or width >= 0.2 else 0.8  # a narrow kerb is a crest
            assert max(heights) >= least * 0.06


@pytest.mark.parametrize("offset", [0.0, 0.025, 0.05])
def test_a_narrow_bump_lifts_the_wheel_wherever_it_is_met(offset):
    """The middle one of five discs stands at 0, the next at 50 mm: in between they missed it."""
    rolls = []
    for width in (0.03, 0.06):
        feature = {**SHAPES["bump"], "width": width, "y": 0.5 + offset}
        bank = load_scenario("bank-plain").with_values(
            {"feature": [{"at": AT, **feature}], "ground.slope": 0.05, "course.length": 7.0}
        )
        record = simulate(Case(BRAMBLE, bank), "compiled")
        loads = record.columns["load_rear_left_n"]
        rolls.append(float(loads.max() / np.median(loads)))
    assert min(rolls) > 1.05


def test_wide_features_keep_the_usual_discs_and_nothing_is_said():
    wide = {**SHAPES["bump"], "width": 0.6, "wheels": "uphill"}
    for feature in (wide, SHAPES["log"]):
        flat = flat_with(feature)
        assert flat.case["discs"][0] == 5
        assert not any("discs" in note for note in flat.notes)


def test_more_discs_are_told():
    flat = flat_with({**SHAPES["bump"], "width": 0.03, "y": 0.5})
    count = int(flat.case["discs"][0])
    assert count > 5
    assert any(f"{count} discs a wheel instead of 5" in note for note in flat.notes)


def test_a_wheel_without_width_stays_one():
    flat = flat_with({**SHAPES["bump"], "width": 0.03, "y": 0.5}, Settings(discs=1))
    assert flat.case["discs"][0] == 1


@pytest.mark.parametrize(
    ("y", "is_met"), [(0.0, False), (2.5, False), (-2.5, False), (0.5, True), (-0.5, True)]
)
def test_a_feature_that_no_wheel_meets_is_named(y, is_met):
    flat = flat_with({**SHAPES["bump"], "width": 0.2, "y": y})
    told = [note for note in flat.notes if "no wheel's way meets it" in note]
    assert bool(told) is not is_met
    if told:
        assert told[0].startswith("feature 1, a bump at y = ")


def test_it_is_met_from_where_the_outermost_disc_reaches():
    outer = 0.5 * BRAMBLE.rear_tyre.track + disc_places(flat_with({**SHAPES["log"]}), 2).max()
    front = 0.5 * BRAMBLE.front_tyre.track + disc_places(flat_with({**SHAPES["log"]}), 0).max()
    edge = max(outer, front) + 0.1
    for y, is_met in ((edge - 1e-3, True), (edge + 1e-3, False)):
        flat = flat_with({**SHAPES["bump"], "width": 0.2, "y": float(y)})
        assert any("no wheel's way" in note for note in flat.notes) is not is_met
