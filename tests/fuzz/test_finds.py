"""What the mutation campaign and the property tests have found, each in its smallest form."""

from pathlib import Path

import pytest
from cli.runner import refused, run

from sidehill.files.errors import InputError
from sidehill.files.library import find
from sidehill.files.spec import build
from sidehill.files.toml import Document
from sidehill.machine.file import Machine, load_machine

BRAMBLE = find("machine", "bramble").read_text(encoding="utf-8")
STONE = find("scenario", "bank-stone").read_text(encoding="utf-8")
DIGITS = "0x" + "f" * 6000  # a whole number that Python will not write in decimal


@pytest.fixture(autouse=True)
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """An empty folder to work in."""
    monkeypatch.chdir(tmp_path)
    return tmp_path


def own(text: str, old: str, new: str) -> str:
    """A file of one's own with one piece replaced."""
    assert old in text
    Path("own.toml").write_text(text.replace(old, new, 1), encoding="utf-8")
    return "own.toml"


@pytest.mark.parametrize(
    ("text", "old", "command", "place"),
    [
        (BRAMBLE, '"430 kg"', "tip {}", "own.toml, line 7: weighed.front_axle"),
        (STONE, '"none"', "picture {}", "own.toml, line 12: ground.roughness"),
    ],
)
def test_a_whole_number_of_thousands_of_digits(
    text: str, old: str, command: str, place: str
) -> None:
    message = refused(command.format(own(text, old, DIGITS)))
    assert message.startswith(place)
    assert "not a finite number" in message


def test_a_huge_seed_and_the_words_for_what_is_allowed() -> None:
    file = own(STONE, 'roughness = "none"', f'roughness = "none"\nseed = {DIGITS}')
    message = refused(f"picture {file}")
    assert message.startswith("own.toml, line 13: ground.seed = a number of thousands of digits")
    assert message.endswith("allowed: a whole number from 0 to 2147483647")


def test_a_whole_number_too_large_for_a_float_in_values_that_are_si_already() -> None:
    data = load_machine("bramble").model_dump(mode="json")
    data["weighed"]["front_axle"] = 10**400
    with pytest.raises(InputError, match=r"weighed\.front_axle = .*: not a finite number; allowed"):
        build(Machine, Document("record", data), si=True)


@pytest.mark.parametrize("option", ['--rear-spacer "1e-17 m"', '--rear-wheel-weight "1e-14 kg"'])
@pytest.mark.filterwarnings("error")
def test_what_is_too_thin_to_draw_leaves_no_nan_in_the_urdf(option: str) -> None:
    text = run(f"urdf bramble {option}").stdout
    assert text.startswith("<robot")
    assert "nan" not in text


@pytest.mark.parametrize("char", ["\\u001b[31m", "\\u202e", "\\ufeff"])
def test_a_unit_with_control_characters_does_not_reach_the_terminal(char: str) -> None:
    message = refused(f"tip {own(BRAMBLE, '430 kg', f'430 k{char}g')}")
    assert message.startswith("own.toml, line 7: weighed.front_axle")
    assert message.isprintable()


@pytest.mark.parametrize(
    ("deep", "place"),
    [
        (f"[{'.'.join('a' * 150)}]", "own.toml: a: "),
        (f"x = {'[' * 40}1{']' * 40}", "own.toml, line 22: feature: "),
    ],
)
def test_tables_and_lists_nested_beyond_reason(deep: str, place: str) -> None:
    message = refused(f"picture {own(STONE, '[course]', deep + chr(10) + '[course]')}")
    assert message.startswith(place)
    assert "over 20 deep" in message


@pytest.mark.parametrize("form", ["[{}]", "{} = 1"])
def test_a_key_of_thousands_of_parts_is_refused_before_it_is_parsed(form: str) -> None:
    """The parser's time grows with the square of the parts: 200,000 took all memory."""
    long = form.format(".".join("a" * 200_000))
    message = refused(f"picture {own(STONE, '[course]', long + chr(10) + '[course]')}")
    assert message.startswith("own.toml, line ")
    assert "over 200 dots in one line" in message
