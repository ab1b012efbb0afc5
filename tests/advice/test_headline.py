"""What is said first: free before bought, and nothing from what cannot be told."""

import pytest
from advice.strips import look

from sidehill.advice.changes import BALLAST, LOWER_BUCKET, SPACERS
from sidehill.advice.finding import Figure
from sidehill.advice.free import Free
from sidehill.advice.headline import answer
from sidehill.advice.offer import Offer, gain, highest, holds, worth_buying

ASKED = 10.0
FIRST = look("as delivered", "h" * 6 + "l" * 10)  # good to 6, lifts on the bank
RADIAN = FIRST.case.scenario.ground.slope
SHARE = Figure("rear axle", "share with the bucket full", "share", 0.15, "least")
LACKING, ENOUGH = SHARE.check(0.25, "25 %"), SHARE.check(0.10, "10 %")


def offer(name: str, letters: str, thing: str, kind: str = SPACERS, **how) -> Offer:
    return Offer(look(name, letters, **how), frozenset({kind}), frozenset({thing}))


def say(free=(), offers=(), kept=(), share=ENOUGH, first=FIRST, past=None) -> tuple[str, ...]:
    looks = {item.name: item for item in free}
    return answer(first, looks, kept, offers, share, past or {}).lines


def test_the_bank_comes_first_then_what_is_free_then_what_is_bought() -> None:
    lines = say(
        free=[look("half the speed", "p" * 15 + "l")],
        offers=[offer("spacers 3 in", "h" * 13 + "lll", "rear spacers")],
        kept=[Free("the bucket carried low", None, "the bucket is low: keep it there", True)],
    )
    assert lines[0].startswith("On this bank, as delivered: a wheel lifts: why l.")
    assert "up to 6.0 deg (10 %) it only hops" in lines[0]
    assert lines[1] == (
        "Costs nothing: half the speed: all wheels stay down up to 15.0 deg (26 %)."
    )
    assert lines[2] == "The bucket is low: keep it there."
    assert lines[3].startswith("If one thing is bought: “spacers 3 in”: ")
    assert len(lines) == 4


def test_what_a_rule_asks_for_anyway_is_bought_first() -> None:
    spacers = offer("spacers 4 in", "h" * 15 + "l", "rear spacers")
    box = offer("box", "h" * 12 + "llll", "rear box", BALLAST)
    assert say(offers=[spacers, box])[1].startswith("If one thing is bought: “spacers 4 in”")
    told = say(offers=[spacers, box], share=LACKING)[1]
    assert told.startswith("If one thing is bought: “box”")
    assert "rear share with the bucket full 15.0 %, wants at least 25.0 %" in told


def test_what_is_bought_says_what_it_is_past() -> None:
    box = offer("box", "h" * 12 + "llll", "rear box", BALLAST)
    told = say(offers=[box], past={"box": ("roll bar", "rear tyre")})[1]
    assert told.endswith("; but past a rating or rule, new with it: roll bar, rear tyre.")


def test_one_thing_comes_before_two_though_two_reach_further() -> None:
    one = offer("spacers", "h" * 12 + "llll", "rear spacers")
    two = Offer(look("both", "p" * 16), frozenset({SPACERS, BALLAST}), frozenset({"a", "b"}))
    best, further = worth_buying([two, one], FIRST, RADIAN, frozenset())
    assert (best.look.name, further.look.name) == ("spacers", "both")


def test_a_second_one_that_keeps_wheels_down_less_far_is_not_told() -> None:
    down = offer("box", "p" * 12 + "llll", "rear box", BALLAST)
    further = offer("spacers", "p" * 8 + "h" * 8, "rear spacers")
    chosen = worth_buying([down, further], FIRST, RADIAN, frozenset())
    assert [item.look.name for item in chosen] == ["box"]


def test_what_costs_nothing_is_no_purchase() -> None:
    low = Offer(look("low", "p" * 16), frozenset({LOWER_BUCKET}), frozenset())
    assert worth_buying([low], FIRST, RADIAN, frozenset()) == ()


@pytest.mark.parametrize(
    "letters",
    [
        "h" * 10 + "l" * 6,  # good on the bank itself, and not a step beyond
        "h" * 12 + "lhll",  # good and bad alternate below what is spoken of
        "h" * 9 + "s" * 7,  # stuck on the bank
        "h" * 9 + "m" * 7,  # beside the stone
        "h" * 9 + "?" * 7,  # not computed
    ],
)
def test_no_purchase_from_what_does_not_surely_hold(letters: str) -> None:
    others = [offer("far", "h" * 15 + "l", "front spacers")]
    chosen = worth_buying(
        [offer("it", letters, "rear spacers"), *others], FIRST, RADIAN, frozenset()
    )
    assert [item.look.name for item in chosen] == ["far"]


def test_a_difference_below_twice_the_tolerance_is_none() -> None:
    top = highest([FIRST], RADIAN)
    near, far = (look("x", "h" * n + "l" * (16 - n), tolerance=0.6) for n in (7, 8))
    assert gain(near, FIRST, top) is None
    assert gain(far, FIRST, top) is not None


def test_where_nothing_holds_it_says_keep_off() -> None:
    lines = say(
        free=[look("half the speed", "h" * 8 + "l" * 8)],
        offers=[offer("spacers", "h" * 7 + "l" * 9, "rear spacers")],
    )
    assert lines[1].startswith("Costs nothing, helps, and is not enough here: half the speed")
    assert lines[2] == "Nothing compared that is bought, by itself, is enough on this bank."
    assert lines[3].endswith("keep this machine off this bank.")
    assert not holds(FIRST, RADIAN, highest([FIRST], RADIAN))


def test_just_enough_is_told_as_just_enough() -> None:
    told = say(free=[look("half the speed", "h" * 10 + "l" * 6)])
    assert told[1].startswith("Costs nothing, but only just enough here, with nothing to spare")


def test_what_could_not_be_computed_is_said() -> None:
    lost = type(FIRST)("as delivered", FIRST.case, None, None, "its engine failed")
    assert say(first=lost)[0] == (
        "On this bank, as delivered: not computed: its engine failed. On other slopes: "
        "not computed."
    )
