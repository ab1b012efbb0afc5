"""Every kind of bad input: exit 2, one message with file, field, value, what is allowed."""

from pathlib import Path

import pytest
from cli.runner import process, refused, run

from sidehill.cli.weigh import EXAMPLES
from sidehill.files.library import find

WEIGH = EXAMPLES[0].removeprefix("sidehill ")
BRAMBLE = find("machine", "bramble").read_text(encoding="utf-8")


@pytest.fixture(autouse=True)
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """An empty folder to work in."""
    monkeypatch.chdir(tmp_path)
    return tmp_path


def own(folder: Path, old: str, new: str) -> str:
    """A machine file of one's own: bramble with one piece replaced."""
    assert old in BRAMBLE
    (folder / "own.toml").write_text(BRAMBLE.replace(old, new), encoding="utf-8")
    return "own.toml"


@pytest.mark.parametrize(
    ("options", "words"),
    [
        ("--rear-spacer 76", ('rear_spacer = "76"', "without a unit", "from -300 mm to 400 mm")),
        ('--rear-spacer "3 kg"', ('rear_spacer = "3 kg"', "does not measure a length", "mm, in")),
        ('--bucket-load "-5 kg"', ('bucket_load = "-5 kg"', "allowed: a mass from 0 kg")),
        ('--bucket-load "9 t"', ('bucket_load = "9 t"', "allowed: a mass from 0 kg to 3000 kg")),
        ('--rear-spacer "-290 mm"', ("rear_spacer -290 mm", "through the body", "at least")),
        ('--bucket-height "5 m"', ("bucket_height 5,000 mm", "out of the arm's reach", "allowed")),
        ("--rops sideways", ('rops = "sideways"', "'up' or 'folded'")),
        ("--liquid brine", ('liquid = "brine"', '"beet juice"')),
        ("--attachment plough", ('attachment "plough"', "it has: tiller")),
    ],
)
@pytest.mark.parametrize("command", ["tip bramble", "drive bramble bank-stone", "urdf bramble"])
def test_options(command: str, options: str, words: tuple[str, ...], folder: Path) -> None:
    message = refused(f"{command} {options}")
    for word in words:
        assert word in message
    assert list(folder.iterdir()) == []


@pytest.mark.parametrize(
    ("old", "new", "words"),
    [
        ('"430 kg"', "430", ("weighed.front_axle = 430", "without a unit", "allowed: a mass")),
        ('"430 kg"', '"430 mm"', ('weighed.front_axle = "430 mm"', "does not measure a mass")),
        ("cg_offset", "cg_ofset", ("weighed.cg_ofset: unknown key", 'did you mean "cg_offset"?')),
        ('"1.62 m"', '"-1.62 m"', ('body.wheelbase = "-1.62 m"', "allowed: a length from")),
        ('"1.62 m"', '"162 m"', ('body.wheelbase = "162 m"', "allowed: a length from")),
        ('mass = "130 kg"', 'mass = "450 kg"', ("front_axle.mass", "under weighed.front_axle")),
    ],
)
@pytest.mark.parametrize("command", ["tip {}", "limit {} bank-plain"])
def test_machine_files(
    command: str, old: str, new: str, words: tuple[str, ...], folder: Path
) -> None:
    file = own(folder, old, new)
    message = refused(command.format(file))
    assert message.startswith("own.toml, line ")
    for word in words:
        assert word in message
    assert [path.name for path in folder.iterdir()] == ["own.toml"]


def test_files_that_are_none(folder: Path) -> None:
    (folder / "broken.toml").write_text("name = = 3\n", encoding="utf-8")
    (folder / "latin.toml").write_bytes('name = "Bär"\n'.encode("latin-1"))
    (folder / "folder.toml").mkdir()
    before = sorted(folder.iterdir())
    for file, words in {
        "missing.toml": "missing.toml: no such file",
        "broken.toml": "broken.toml, line 1: not valid TOML",
        "latin.toml": "latin.toml, line 1: not UTF-8 text",
        "folder.toml": "folder.toml: a folder, not a file",
        "brambel": 'no machine called "brambel"; did you mean "bramble"?',
    }.items():
        assert words in refused(f"drive {file} bank-stone")
    assert sorted(folder.iterdir()) == before


@pytest.mark.parametrize(
    ("line", "words"),
    [
        ("tip bramble --slope 14", ('slope = "14"', "deg, %, or 1:4")),
        ('tip bramble --friction "3"', ('friction = "3"', "from 0 to 1.5")),
        ("tip bramble --picture out.jpg", ("out.jpg", "end in .png")),
        ("urdf bramble --json", ("--json", "give it a file with -o")),
        ("urdf bramble -o out.xml", ("out.xml", "end in .urdf")),
        ("drive bramble bank-ston", ('"bank-ston"', 'did you mean "bank-stone"?')),
        ("drive bramble bank-stone --set ground.slop=3", ("ground.slop", 'mean "slope"?')),
        ("drive bramble bank-stone --set ground.slope=3", ("ground.slope = 3", "without a unit")),
        ("drive bramble bank-stone --engine bulet", ("'bulet'", "auto, pybullet, mujoco")),
        ('limit bramble bank-stone --low "3 kg"', ('low = "3 kg"', "does not measure a slope")),
        ('limit bramble bank-stone --of speed --high "9 deg"', ("high", "a speed in km/h")),
        (
            'limit bramble bank-stone --low "9 deg" --high "3 deg"',
            ("9.0 deg", "must be below high"),
        ),
        ("limit bramble bank-plain --of bump", ("no [[feature]]",)),
        ("limit bramble tilt-table", ("nothing is driven on a tilt table",)),
        ("limit bramble bank-stone --of width", ("'slope', 'speed' or 'bump'",)),
        ("limit bramble bank-stone --of bump --feature 2", ("feature 2", "allowed: 1 to 1")),
        ("limit bramble bank-stone --out strip.jpg", ("strip.jpg", ".png or .svg")),
    ],
)
def test_commands(line: str, words: tuple[str, ...], folder: Path) -> None:
    message = refused(line)
    for word in words:
        assert word in message
    assert list(folder.iterdir()) == []


def test_typos_in_options_and_choices_are_usage_errors() -> None:
    for line in ("tip bramble --rear-spacr 3", "tip bramble --downhill north", "tipp bramble"):
        result = run(line)
        assert result.exit_code == 2
        assert result.stdout == ""


def test_an_output_that_cannot_be_written_is_refused_before_the_run(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (folder / "taken").write_text("mine", encoding="utf-8")
    monkeypatch.setattr("sidehill.cli.drive_run.simulate", lambda *_: pytest.fail("it ran"))
    assert "a file, not a folder" in refused("drive bramble bank-stone --out taken")
    assert "cannot be written to" in refused("drive bramble bank-stone --out taken/below")
    assert (folder / "taken").read_text(encoding="utf-8") == "mine"


def test_an_overload_is_allowed_and_loud() -> None:
    result = run('tip bramble --bucket-load "450 kg"')
    assert result.exit_code == 0
    assert "WARNING: OVERLOADED: 450 kg" in result.stdout
    as_json = run('tip bramble --bucket-load "450 kg" --json')
    assert "OVERLOADED" in as_json.stderr


def test_a_fault_of_our_own_exits_1_and_asks_for_a_report(monkeypatch: pytest.MonkeyPatch) -> None:
    def divide(*_: object) -> None:
        raise ZeroDivisionError("by nothing")

    monkeypatch.setattr("sidehill.cli.tip.fit", divide)
    result = run("tip bramble")
    assert result.exit_code == 1
    assert result.stdout == ""
    assert "internal fault: ZeroDivisionError: by nothing" in result.stderr
    assert "Traceback" not in result.stderr
    monkeypatch.setenv("SIDEHILL_DEBUG", "1")
    assert "Traceback" in run("tip bramble").stderr


@pytest.mark.parametrize(("stop", "code"), [(KeyboardInterrupt(), 130), (SystemExit(143), 143)])
def test_a_stop_that_a_library_calls_a_failed_import(
    stop: BaseException, code: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    def load(*_: object) -> None:
        raise ImportError("initialization failed") from stop

    monkeypatch.setattr("sidehill.cli.tip.fit", load)
    result = run("tip bramble")
    assert result.exit_code == code
    assert "internal fault" not in result.stderr


def test_a_real_process_exits_with_2(folder: Path) -> None:
    done = process("drive bramble bank-stone --rear-spacer 76", folder)
    assert done.returncode == 2
    assert done.stdout == ""
    assert len(done.stderr.strip().splitlines()) == 1
    assert list(folder.iterdir()) == []


def test_weigh_writes_over_no_file_perhaps_a_machine(folder: Path) -> None:
    mine = own(folder, "430 kg", "431 kg")
    before = (folder / mine).read_bytes()
    assert "own.toml: there is such a file already" in refused(f"{WEIGH} -o {mine}")
    assert (folder / mine).read_bytes() == before
    assert run(f"{WEIGH} -o block.toml").exit_code == 0
    assert (folder / "block.toml").read_text(encoding="utf-8").startswith("[weighed]")
