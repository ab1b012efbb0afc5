"""The language file: complete, careful, and checked before it is used."""

from pathlib import Path
from string import Formatter

import pytest

from sidehill.caution import CAUTION
from sidehill.errors import InputError
from sidehill.film.words import built_in, read_words
from sidehill.outcome import VERDICTS


def test_every_verdict_has_its_words() -> None:
    assert {f"verdict_{name}" for name in VERDICTS} <= set(built_in().texts)


def test_the_caution_is_the_one_of_every_report() -> None:
    assert built_in().texts["caution"] == CAUTION


def test_no_caption_calls_a_machine_safe() -> None:
    for name, text in built_in().texts.items():
        assert "safe" not in text.lower(), name
        assert "can take" not in text.lower(), name


def test_a_translation_replaces_what_it_gives(tmp_path: Path) -> None:
    file = tmp_path / "de.toml"
    file.write_text('downhill = "hangab"\nclock = "{time} Sek."\n', encoding="utf-8")
    words = read_words(file)
    assert words.say("downhill") == "hangab"
    assert words.say("clock", time="1.00") == "1.00 Sek."
    assert words.say("level") == built_in().say("level")


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
