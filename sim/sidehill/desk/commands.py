"""The command lines that repeat what the desk shows, in its folder."""

import shlex
from collections.abc import Sequence

from sidehill.desk.question import SAVED as STUDY
from sidehill.desk.question import Question
from sidehill.desk.save import bank_name, machine_name
from sidehill.desk.search import HIGH, LOW, SCAN, TOLERANCE
from sidehill.desk.state import State

ENGINE = "compiled"  # of films and replays on the desk
SHEET, FILM, REPLAY = "sheet.html", "film.mp4", "replay.html"
MOST_SHOWN = 4  # options side by side in a film or a replay


def limit_line(question: Question, state: State, place: int) -> str:
    """The strip of an option, by its place from 0."""
    words = ["sidehill", "limit", machine_name(question, state), bank_name(state)]
    for option, text in (("low", LOW), ("high", HIGH), ("scan", SCAN), ("tolerance", TOLERANCE)):
        words += [f"--{option}", text]
    for name, text in state["options"][place]["typed"].items():
        words += [f"--{name.replace('_', '-')}", text]
    return shlex.join([*words, "--json"])


def sheet_line(quick: bool, us: bool) -> str:
    """The sheet."""
    words = ["sidehill", "sheet", STUDY, "-o", SHEET]
    words += ["--quick"] if quick else []
    words += ["--film", "none"]
    return shlex.join([*words, "--units", "us"] if us else words)


def film_line(names: Sequence[str]) -> str:
    """The film of some options."""
    return shlex.join(["sidehill", "film", STUDY, "--out", FILM, *_chosen(names)])


def replay_line(names: Sequence[str]) -> str:
    """The replay of some options."""
    return shlex.join(["sidehill", "replay", STUDY, "-o", REPLAY, *_chosen(names)])


def _chosen(names: Sequence[str]) -> list[str]:
    options = [word for name in names for word in ("--option", name)]
    return [*options, "--engine", ENGINE]
