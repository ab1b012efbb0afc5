"""What is past a limit already, and what is new with an option; what to ask before buying."""

import pytest
from advice.machines import lacking

from sidehill.advice.apart import apart, new_lines, new_names, past_words
from sidehill.advice.asks import asks
from sidehill.advice.finding import Figure, Finding
from sidehill.machine.file import load_machine


def over(item: str, value: float, limit: float = 100.0, what: str = "load") -> Finding:
    return Figure(item, what, "mass", value).check(limit, "a rating")


def test_only_what_as_delivered_keeps_to_is_new() -> None:
    found = apart(
        {
            "first": [over("rear axle", 120.0), over("front axle", 90.0)],
            "wide": [over("rear axle", 150.0), over("front axle", 110.0)],
        },
        {"first": ["HAZARD: roll bar folded"], "wide": ["HAZARD: roll bar folded", "another 5 kg"]},
        "first",
    )
    assert [finding.value for finding in found.already] == [120.0]
    assert [finding.item for finding in found.new["wide"]] == ["front axle"]
    assert found.new["first"] == ()
    assert found.warned == ("HAZARD: roll bar folded",)
    assert new_names(found, "wide") == ("front axle", "another 5 kg")


def test_both_sides_are_one_and_the_worst_one_is_told() -> None:
    found = apart(
        {
            "first": [],
            "a": [over("rear left tyre", 110.0), over("rear right tyre", 130.0)],
            "b": [over("rear left tyre", 140.0)],
            "c": [over("rear right tyre", 135.0, what="peak load")],
        },
        {name: [] for name in ("first", "a", "b", "c")},
        "first",
    )
    assert [finding.value for finding in found.new["a"]] == [130.0]
    assert found.new["c"] == ()  # ratings are for a steady load
    assert new_lines(found, ["a", "b", "c"]) == (
        "rear tyre: load 140 kg (309 lb), at most 100 kg (220 lb)",
    )


def test_a_limit_of_nothing_has_a_worst_as_well() -> None:
    strips = [
        Figure("bucket", "strip of tyre outside", "length", value).check(0.0, "common practice")
        for value in (0.05, 0.12, 0.02)
    ]
    names = ["a", "b", "c"]
    found = apart(
        {"first": [], **{n: [s] for n, s in zip(names, strips, strict=True)}},
        dict.fromkeys(["first", *names], ()),
        "first",
    )
    assert new_lines(found, names)[0].startswith("bucket: strip of tyre outside 120 mm")


def test_a_least_reads_at_least() -> None:
    share = Figure("rear axle", "share", "share", 0.151, "least").check(0.25, "25 %")
    assert past_words(share) == "rear axle: share 15.1 %, at least 25.0 %"


def test_the_same_warning_with_another_figure_is_one() -> None:
    warned = {"first": ["tyre is 5 kg over"], "wide": ["tyre is 1,205.5 kg over"]}
    found = apart({"first": [], "wide": []}, warned, "first")
    assert found.warned_too["wide"] == ()


def test_what_is_asked_depends_on_what_is_bought() -> None:
    machine = load_machine("bramble")
    wider = " ".join(asks(machine, frozenset({"rear spacers"})))
    for words in ("bolt circle", "pilot", "fenders", "ramps", "gauge-wheel arms", "in writing"):
        assert words in wider
    nothing = " ".join(asks(machine, frozenset()))
    assert "bolt circle" not in nothing
    assert "in writing" in nothing
    assert "which liquid" in " ".join(asks(machine, frozenset({"filled rear tyres"})))


@pytest.mark.parametrize(
    ("field", "value", "word"),
    [("body.fender_gap", "80 mm", "fenders"), ("attachment.2.ramp_width", "1.5 m", "ramps")],
)
def test_what_the_file_says_is_not_asked_again(field: str, value: str, word: str) -> None:
    known = load_machine("bramble").with_values({field: value})
    assert word not in " ".join(asks(known, frozenset({"rear spacers"})))


def test_ratings_that_a_file_lacks_are_named() -> None:
    told = " ".join(asks(lacking("bramble", "limits", "rear_tyre.max_load"), frozenset()))
    assert "axle ratings" in told and "tyre ratings" in told
