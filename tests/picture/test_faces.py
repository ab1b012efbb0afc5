"""Facts as drawn: the worse the darker, told apart in grey and without the middle cones."""

from itertools import pairwise, product

import pytest
from picture.colours import DEUTERANOPIA, lightness

from sidehill.picture.faces import FACES, HATCHES, UNKNOWN_FACE, face, keys
from sidehill.picture.shade import NOWHERE_FACE, RAMP
from sidehill.run.facts import ARRIVAL, STABILITY

STEP = 9.0  # [L*] apart, of 100: several times what is just seen


def test_the_simulation_leaves_grey_grey() -> None:
    assert DEUTERANOPIA.sum(axis=1) == pytest.approx([1.0, 1.0, 1.0], abs=2e-6)
    assert lightness("#ffffff") == pytest.approx(100.0, abs=0.01)
    assert lightness("#777777", deuteranopia=True) == pytest.approx(lightness("#777777"), abs=0.01)


@pytest.mark.parametrize("deuteranopia", [False, True])
def test_the_worse_the_darker(deuteranopia: bool) -> None:
    order = ["planted", "hopped", "lifted", "on_stop", "overturned"]
    assert list(FACES) == list(STABILITY) == order
    shades = [lightness(FACES[name].fill, deuteranopia=deuteranopia) for name in order]
    assert all(better - worse > STEP for better, worse in pairwise(shades))
    assert lightness(NOWHERE_FACE.fill) < shades[-1]


@pytest.mark.parametrize("deuteranopia", [False, True])
def test_hatches_stand_out_of_every_fill(deuteranopia: bool) -> None:
    for known in FACES.values():
        ink, fill = (lightness(c, deuteranopia=deuteranopia) for c in (known.ink, known.fill))
        assert abs(ink - fill) > 25.0


@pytest.mark.parametrize("deuteranopia", [False, True])
def test_the_ramp_of_numbers_darkens_all_along(deuteranopia: bool) -> None:
    from matplotlib.colors import to_hex

    shades = [lightness(to_hex(RAMP(k / 20)), deuteranopia=deuteranopia) for k in range(21)]
    assert all(better - worse > 1.5 for better, worse in pairwise(shades))
    assert lightness(FACES["overturned"].fill) < shades[-1]  # beyond any number


def test_only_what_got_there_is_plain() -> None:
    """A plain pale place means: across or halted, everything met. All else is marked."""
    for stability, arrival in product(STABILITY, ARRIVAL):
        drawn = face(stability, arrival)
        assert drawn.fill == FACES[stability].fill
        says_all = (stability, arrival) == ("overturned", "not_across")
        assert bool(drawn.hatch) == (arrival != "arrived" and not says_all)
    assert len(set(HATCHES.values()) | {UNKNOWN_FACE.hatch}) == 4


@pytest.mark.parametrize("facts", [(None, None), ("planted", None), (None, "arrived")])
def test_what_is_not_known_is_crossed_over_white(facts: tuple[str | None, str | None]) -> None:
    assert face(*facts) is UNKNOWN_FACE
    assert UNKNOWN_FACE.fill == "white" and UNKNOWN_FACE.hatch


def test_the_legend_names_what_was_drawn() -> None:
    drawn = [UNKNOWN_FACE, face("lifted", "not_started"), face("planted", "arrived"), None]
    named = [str(entry.get_label()) for entry in keys(drawn)]
    assert named == [
        STABILITY["planted"], STABILITY["lifted"], ARRIVAL["not_started"], UNKNOWN_FACE.words
    ]  # fmt: skip
