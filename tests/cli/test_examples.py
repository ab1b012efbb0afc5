"""The worked examples in the help of every command run as they stand."""

import json
import shlex
from collections.abc import Callable
from math import radians
from pathlib import Path

import pytest
from cli.runner import run
from fuzz.files import SHORT

from sidehill.case import Case
from sidehill.cli import crosscheck_run
from sidehill.cli.main import COMMANDS
from sidehill.crosscheck import derating, ladder
from sidehill.crosscheck.check import Result
from sidehill.crosscheck.measured import STANDARD, compare
from sidehill.crosscheck.population import population
from sidehill.machine.file import load_machine
from sidehill.run import table
from sidehill.run.record import Record, save_record, simulate
from sidehill.scenario.file import load_scenario
from sidehill.spread import critical

SHORT_DRIVE = ("feature.1.at=2.6 m", "course.length=3.2 m")


@pytest.fixture(scope="module")
def short_run() -> Record:
    """A bump and a lift in under two seconds."""
    return simulate(
        Case(load_machine("bramble"), load_scenario("bank-stone", SHORT_DRIVE)), "mujoco"
    )


@pytest.fixture
def coarse(published: tuple[Result, ...], monkeypatch: pytest.MonkeyPatch) -> None:
    """Every part of a crosscheck is there, with wider searches, one stone and one table; the
    published values are those that were computed for their own tests."""
    for module, name in ((table, "TOLERANCE"), (derating, "TOLERANCE"), (critical, "_TOLERANCE")):
        monkeypatch.setattr(module, name, radians(1.0))
    monkeypatch.setattr(derating, "STONES", derating.STONES[:1])
    monkeypatch.setattr(derating, "SPEEDS", derating.SPEEDS[1:2])
    monkeypatch.setattr(ladder, "TABLES", ladder.TABLES[1:])
    monkeypatch.setattr(crosscheck_run, "run_checks", lambda: published)
    row = compare("standard", 0.0, 0.0, STANDARD[0])
    monkeypatch.setattr(crosscheck_run, "effects", lambda: (row,))
    monkeypatch.setattr(crosscheck_run, "cornerings", lambda: ())
    monkeypatch.setattr(crosscheck_run, "over_obstacle", lambda: None)
    monkeypatch.setattr(crosscheck_run, "population", lambda _: population(2))


@pytest.fixture(autouse=True)
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """An empty folder to work in."""
    monkeypatch.chdir(tmp_path)
    return tmp_path


ELSEWHERE = (
    "demo",
    "sheet",
    "sweep",
    "map",
    "desk",
)  # commands whose examples have tests of their own
LONG = ("crosscheck", "film")  # they are run here on small cases, and as they are when asked for


def examples(of: Callable[[str], bool]) -> list[str]:
    """The worked examples of the help of those commands."""
    names = {module: module.__name__.rpartition(".")[2] for module in COMMANDS}
    return [text for module in COMMANDS if of(names[module]) for text in module.EXAMPLES]


def check_example(example: str, more: str = "") -> None:
    """It runs, and tells what it is worth."""
    words = shlex.split(example)
    assert words[0] == "sidehill"
    result = run(f"{example.removeprefix('sidehill ')} {more}")
    assert result.exit_code == 0, result.output
    said = result.stdout if "--json" not in words else json.loads(result.stdout)["caution"]
    assert "it does not permit" in said or words[1] == "urdf"


@pytest.mark.parametrize(
    "example", examples(lambda name: name not in (*ELSEWHERE, *LONG, "replay"))
)
def test_the_examples_of_the_help_run(example: str) -> None:
    is_slow = example.split()[1] == "drive" and "--engine" not in example
    check_example(example, "--engine mujoco" if is_slow else "")


@pytest.mark.parametrize("example", examples("film".__eq__))
def test_the_examples_of_films_run_on_small_ones(example: str, short_run: Record) -> None:
    save_named(example, short_run)
    small = " --size 480x270" if "--still" in example else " --size 480x270 --fps 5 --workers 1"
    of_a_study = " ".join(f'--set "{change}"' for change in SHORT_DRIVE) + " --engine compiled"
    check_example(example, small if ".parquet" in example else f"{small} {of_a_study}")


@pytest.mark.parametrize("example", examples("replay".__eq__))
def test_the_examples_of_replays_run(example: str, short_run: Record) -> None:
    save_named(example, short_run)
    check_example(example)


@pytest.mark.parametrize("example", examples("crosscheck".__eq__))
@pytest.mark.usefixtures("coarse")
def test_the_examples_of_crosschecks_run_on_coarse_ones(example: str, folder: Path) -> None:
    (folder / "short.toml").write_text(SHORT, encoding="utf-8")
    check_example(example, "" if "--published" in example else "--scenario short.toml")


@pytest.mark.slow
@pytest.mark.parametrize("example", examples(LONG.__contains__))
def test_the_long_examples_of_the_help_run_as_they_are(example: str, short_run: Record) -> None:
    save_named(example, short_run)
    check_example(example)


def save_named(example: str, record: Record) -> None:
    """The record under every name that an example reads one from."""
    for name in shlex.split(example):
        if name.endswith(".parquet"):
            Path(name).parent.mkdir(exist_ok=True)
            save_record(record, Path(name))


@pytest.mark.parametrize("module", COMMANDS)
def test_every_help_shows_its_examples(module: object) -> None:
    name = module.__name__.rpartition(".")[2]  # type: ignore[attr-defined]
    shown = " ".join(run(f"{name} --help").stdout.split())
    for example in module.EXAMPLES:  # type: ignore[attr-defined]
        assert example in shown
