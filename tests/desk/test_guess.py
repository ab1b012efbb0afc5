"""What guesses cost: the interval of `spread` where all was measured, wider where it was copied."""

from dataclasses import replace
from pathlib import Path
from threading import Event

import pytest
from desk.conftest import OWN, eventually, opened

from sidehill.desk import guess
from sidehill.desk.guess import Guess, guess_of
from sidehill.desk.state import first_state, put
from sidehill.desk.tractor import Tractor, read_tractor
from sidehill.machine.outfit import Outfit
from sidehill.spread.closed import closed_form_spread
from sidehill.spread.subject import Subject


def own(**more: str) -> Tractor:
    state = first_state()
    put(state, "tractor/kind", "own")
    for path, text in (OWN | {k.replace("__", "."): v for k, v in more.items()}).items():
        put(state, f"tractor/own/{path}", text)
    return read_tractor(state, Path())


def made(tractor: Tractor) -> Guess:
    found = guess_of(tractor, Outfit())
    assert not isinstance(found, str)
    return found


def wide(found: Guess) -> float:
    return found.interval.high - found.interval.low


def test_a_shipped_machine_has_the_interval_of_the_sheet() -> None:
    tractor = read_tractor(first_state(), Path())
    assert tractor.machine is not None
    sheet = closed_form_spread(Subject(tractor.machine, Outfit(), gaps={}))[0]
    found = made(tractor).interval
    assert (found.low, found.best, found.high) == (sheet.low, sheet.best, sheet.high)


def test_what_is_named_to_measure_next_narrows_it_more_than_anything_else() -> None:
    """Against brute force: each guess ended in turn."""
    tractor = own()
    found = made(tractor)
    assert found.narrowed is not None
    best = found.narrowed[1] - found.narrowed[0]
    assert best < wide(found)
    for path in tractor.origins:
        if path in {"front_axle.pivot_height"}:
            other = {k: v for k, v in tractor.origins.items() if k != path}
            assert best <= wide(made(replace(tractor, origins=other))) + 0.05


@pytest.mark.parametrize("path", ["weighed.front_axle", "weighed.rear_axle", "rear_tyre.track"])
def test_a_copied_figure_is_worth_less_than_a_typed_one(path: str) -> None:
    tractor = own()
    copied = replace(tractor, origins={**tractor.origins, path: "copied"})
    assert wide(made(copied)) > wide(made(tractor))
    assert made(copied).interval.low < made(tractor).interval.low


def test_a_weighed_height_ends_the_asking_for_it() -> None:
    tractor = own(weighed__cg_height="25 in", weighed__cg_height_from="weighed")
    assert made(tractor).best_next != guess.CG_HEIGHT
    assert made(own()).best_next == guess.CG_HEIGHT


def test_words_round_the_lower_end_down() -> None:
    found = made(own())
    shown = float(found.words.split(" lifts at ")[1].split(" deg")[0])
    assert shown <= found.interval.low < shown + 0.1


def test_an_interval_of_other_figures_is_not_shown_meanwhile(tmp_path: Path) -> None:
    with opened(tmp_path / "desk") as desk:
        desk.searches.end()
        eventually(lambda: "a wheel lifts at" in desk.guessed)
        release = Event()
        desk.guesser._work = lambda question: (release.wait(60), desk._guess(question))  # type: ignore[func-returns-value]
        before = desk.guessed
        told = desk.change([("bank/typed/ground.slope", "5 deg")], False)["parts"]
        assert told["guess"] == before  # the bank has no bearing on it
        told = desk.change([("options/1/typed/rear_ballast", "200 kg")], False)["parts"]
        assert "being computed" in told["guess"]
        assert "deg" not in told["guess"]
        release.set()
        eventually(lambda: "a wheel lifts at" in desk.guessed)
        assert desk.guessed != before
