"""Verdict classes: the worse the darker, told apart in grey and without the middle cones."""

from itertools import pairwise

import pytest
from picture.colours import DEUTERANOPIA, lightness

from sidehill.picture.shade import RAMP
from sidehill.picture.style import DARK_GREY
from sidehill.picture.verdicts import FACES, UNKNOWN_FACE, face, keys, worst
from sidehill.run.outcome import UNKNOWN, VERDICTS

STEP = 9.0  # [L*] apart, of 100: several times what is just seen


def test_the_simulation_leaves_grey_grey() -> None:
    assert DEUTERANOPIA.sum(axis=1) == pytest.approx([1.0, 1.0, 1.0], abs=2e-6)
    assert lightness("#ffffff") == pytest.approx(100.0, abs=0.01)
    assert lightness("#777777", deuteranopia=True) == pytest.approx(lightness("#777777"), abs=0.01)


@pytest.mark.parametrize("deuteranopia", [False, True])
def test_the_worse_the_darker(deuteranopia: bool) -> None:
    by_badness = [name for name in reversed(VERDICTS) if name not in UNKNOWN]
    assert list(FACES) == by_badness
    shades = [lightness(FACES[name].fill, deuteranopia=deuteranopia) for name in by_badness]
    assert all(better - worse > STEP for better, worse in pairwise(shades))


@pytest.mark.parametrize("deuteranopia", [False, True])
def test_the_ramp_of_numbers_darkens_all_along(deuteranopia: bool) -> None:
    from matplotlib.colors import to_hex

    shades = [lightness(to_hex(RAMP(k / 20)), deuteranopia=deuteranopia) for k in range(21)]
    assert all(better - worse > 1.5 for better, worse in pairwise(shades))
    assert lightness(FACES["overturned"].fill) < shades[-1]  # beyond any number


def test_the_unknown_is_hatched_as_nothing_else() -> None:
    assert UNKNOWN_FACE.hatch and UNKNOWN_FACE.ink == DARK_GREY
    assert all(one.hatch != UNKNOWN_FACE.hatch for one in FACES.values())
    for name in (*UNKNOWN, None, float("nan"), "nonsense"):
        assert face(name) is UNKNOWN_FACE


def test_hatches_of_known_classes_differ() -> None:
    hatches = [one.hatch for one in FACES.values() if one.hatch]
    assert len(hatches) == len(set(hatches)) == 3


def test_the_worst_of_several_is_the_worst_known() -> None:
    assert worst(["crossed", "stalled", "failed"]) == "stalled"
    assert worst(["not_settled", None]) is None


def test_the_legend_names_what_was_drawn() -> None:
    named = [entry.get_label() for entry in keys([UNKNOWN_FACE, FACES["slid"], None])]
    assert named == ["slid", UNKNOWN_FACE.words]
