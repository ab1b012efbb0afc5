"""The cheap helps that a study leaves out are looked at all the same."""

from dataclasses import replace

import pytest
from advice.machines import lacking
from sidehill.advice.left_out import left_out

from sidehill.machine.outfit import Outfit
from sidehill.study.study import Option, load_study

DEMO = load_study("demo")
HIGH = {"bucket_load": "250 kg", "bucket_height": "full"}


def study(*outfits, machine=DEMO.machine):
    options = tuple(Option(str(k), Outfit(**outfit)) for k, outfit in enumerate(outfits))
    return replace(DEMO, machine=machine, options=options)


def test_the_demo_compares_the_lower_bucket_but_not_the_empty_one():
    (found,) = left_out(DEMO)
    assert found.words.startswith("the bucket empty")
    assert found.outfit.bucket_load == 0.0
    assert found.outfit.bucket_height == "full"


@pytest.mark.parametrize(
    ("outfits", "words"),
    [
        ([HIGH], ["carried low", "empty"]),
        ([HIGH, HIGH | {"bucket_height": "carry", "rear_spacer": "3 in"}], ["low", "empty"]),
        ([HIGH, HIGH | {"bucket_load": "100 kg"}], ["carried low"]),
        ([{"bucket_load": "250 kg"}], ["empty"]),
        ([{}], []),
    ],
)
def test_what_no_option_shows_alone(outfits, words):
    found = left_out(study(*outfits))
    assert len(found) == len(words)
    for item, word in zip(found, words, strict=True):
        assert word in item.words


def test_without_a_loader_there_is_nothing_to_lower():
    assert left_out(study({}, machine=lacking("bramble", "loader"))) == ()
