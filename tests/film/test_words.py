"""The language file: complete, careful, and checked before it is used."""

from math import radians
from pathlib import Path
from string import Formatter

import pytest
from film.posed import case_of, posed

from sidehill.caution import CAUTION
from sidehill.files.errors import InputError
from sidehill.files.units import show_slope
from sidehill.film.clock import Tempo
from sidehill.film.pane import build_pane
from sidehill.film.show import build_show
from sidehill.film.speech import figures
from sidehill.film.words import built_in, read_words
from sidehill.run import words
from sidehill.run.facts import PROGRESS, STABILITY


def test_every_fact_has_its_words() -> None:
    known = set(built_in().texts)
    assert {f"stability_{name}" for name in STABILITY if name != "overturned"} <= known
    assert {f"progress_{name}" for name in PROGRESS} <= known


def test_the_caution_is_the_one_of_every_report() -> None:
    assert built_in().texts["caution"] == CAUTION


def test_no_caption_calls_a_machine_safe() -> None:
    for name, text in built_in().texts.items():
        assert "safe" not in text.lower(), name
        assert "can take" not in text.lower(), name


def captions(*changes: str, scenario: str = "bank-plain", own: str | None = None) -> str:
    """The caption of a film of records, each of which is on ground changed in one way."""
    records = [posed(case_of("bramble", scenario, [c] if c else []), [0.0] * 3) for c in changes]
    names = [str(k) for k in range(len(records))]
    show = build_show(records, names, (480, 270), 30, "auto", Tempo(), own, built_in())
    return show.caption


def test_a_film_without_a_caption_says_slope_and_caution() -> None:
    assert captions("ground.slope=12.8 deg") == (
        "slope 12.8 deg (23 %): a model compares; it does not permit"
    )
    assert captions("", scenario="tilt-table") == "a model compares; it does not permit"
    told = captions("ground.slope=8 deg", "ground.slope=9 deg")
    assert told == "a model compares; it does not permit; the panes differ in ground slope too"


def test_words_of_one_s_own_stand_before_slope_and_caution() -> None:
    assert captions("ground.slope=12.8 deg", own="spring course") == (
        "spring course; slope 12.8 deg (23 %): a model compares; it does not permit"
    )


@pytest.mark.parametrize("degrees", [12.8, 9.99, 14.0, 0.0])
def test_a_slope_reads_the_same_in_a_film_and_in_a_table(degrees: float) -> None:
    """A given slope goes to the nearest: 12.8 deg is 22.7 %."""
    pane = build_pane(
        posed(case_of("bramble", "bank-plain", [f"ground.slope={degrees} deg"]), [0.0] * 3), "x"
    )
    assert show_slope(radians(degrees)) in figures(pane, built_in())
    assert show_slope(radians(12.8)) == "12.8 deg (23 %)"
    assert words.threshold(12.8) == "12.8 deg (22 %)"  # where something was found to start


def test_a_translation_replaces_what_it_gives(tmp_path: Path) -> None:
    file = tmp_path / "de.toml"
    file.write_text('downhill = "hangab"\nclock = "{time} Sek."\n', encoding="utf-8")
    read = read_words(file)
    assert read.say("downhill") == "hangab"
    assert read.say("clock", time="1.00") == "1.00 Sek."
    assert read.say("level") == built_in().say("level")


@pytest.mark.parametrize(
    ("line", "told"),
    [
        ('downhil = "x"', "downhil"),
        ('clock = "no place for it"', "{time}"),
        ('clock = "{time} {date}"', "{time}"),
        ('clock = "{time"', "clock"),
        ('clock = "{time:>400000}"', "only a name"),
        ("clock = 3", "text"),
        ('clock = ""', "text"),
        ("clock = ", "not valid TOML"),
    ],
)
def test_a_bad_line_is_named(tmp_path: Path, line: str, told: str) -> None:
    file = tmp_path / "words.toml"
    file.write_text(line, encoding="utf-8")
    with pytest.raises(InputError, match=r"words\.toml") as error:
        read_words(file)
    assert told in str(error.value)


def test_a_language_file_that_is_missing(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="no such file"):
        read_words(tmp_path / "none.toml")


def test_every_text_can_be_filled_in() -> None:
    for name, text in built_in().texts.items():
        parts = {field for _, field, _, _ in Formatter().parse(text) if field}
        assert built_in().say(name, **dict.fromkeys(parts, "x"))
