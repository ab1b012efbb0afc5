"""One's own tractor: what is refused, what is copied, and what the scales say with a loader on."""

from pathlib import Path
from typing import Any

import pytest
from desk.conftest import OWN

from sidehill.advice.loaded import Worked
from sidehill.advice.price import price
from sidehill.desk import fields
from sidehill.desk.desk import Desk
from sidehill.desk.parts import hints
from sidehill.desk.question import read_question
from sidehill.desk.render import units_of
from sidehill.desk.state import first_state, put
from sidehill.desk.tractor import Tractor, read_tractor
from sidehill.files.library import shipped
from sidehill.machine.build import fit
from sidehill.machine.file import load_machine
from sidehill.machine.outfit import Outfit
from sidehill.statics.axles import axle_loads
from sidehill.statics.report import tip

POUND, INCH = 0.45359237, 0.0254


def read(typed: dict[str, str], base: str = "bramble", kind: str = "own") -> Tractor:
    state = first_state()
    put(state, "tractor/kind", kind)
    put(state, "tractor/base", base)
    for path, text in typed.items():
        put(state, f"tractor/own/{path}", text)
    return read_tractor(state, Path())


CHOSEN = {fields.LOADER, fields.ROPS, fields.LOADER_ON}  # from a list
WORDS = {"name", "summary", "source"}


@pytest.mark.parametrize("path", sorted(fields.OF_A_TRACTOR - WORDS - CHOSEN))
def test_every_field_is_refused_in_words_beside_itself(path: str) -> None:
    found = read(OWN | {path: "12 bananas"})
    assert found.machine is None
    assert "allowed" in found.problems[path]


def test_these_are_enough_and_each_of_them_is_asked_for() -> None:
    assert set(OWN) == {item.path for item in fields.WANTED} | {fields.LOADER_ON}
    assert read(OWN | {"loader": "no"}).is_whole
    assert read(OWN).is_whole
    for path in set(OWN):
        less = read({other: text for other, text in OWN.items() if other != path})
        assert not less.is_whole
        assert [item.path for item in less.missing] == [path]


@pytest.mark.parametrize("base", shipped("machine"))
def test_what_was_typed_stands_in_the_machine_whatever_it_is_copied_from(base: str) -> None:
    machine = read(OWN, base).machine
    assert machine is not None
    assert machine.weighed.front_axle == pytest.approx(1020 * POUND)
    assert machine.weighed.rear_axle == pytest.approx(1330 * POUND)
    assert machine.body.wheelbase == pytest.approx(66 * INCH)
    assert machine.rear_tyre.track == pytest.approx(42.5 * INCH)
    assert machine.front_tyre.diameter == pytest.approx(25 * INCH)
    assert machine.weighed.cg_height_from == "estimated"


@pytest.mark.parametrize("base", shipped("machine"))
def test_no_rating_of_another_machine_says_within(base: str) -> None:
    machine = read(OWN, base).machine
    assert machine is not None
    found = price(machine, Worked(Outfit()), Worked(Outfit()))
    checked = [*found.axles, *found.tyres, *found.roll_bar]
    assert {finding.judgement for finding in checked} == {"not checked"}


@pytest.mark.parametrize("base", shipped("machine"))
@pytest.mark.parametrize("tyre", ["0.70 m", "0.98 m", "1.30 m"])
def test_a_copied_height_never_makes_the_machine_look_steadier(base: str, tyre: str) -> None:
    own, other = load_machine(base), read(OWN | {"rear_tyre.diameter": tyre}, base).machine
    assert other is not None
    assert other.weighed.cg_height >= own.weighed.cg_height - 5e-4
    assert other.front_axle.pivot_height <= own.front_axle.pivot_height + 5e-4


@pytest.mark.parametrize("base", shipped("machine"))
def test_readings_with_the_loader_on_are_those_of_the_machine_with_its_loader(base: str) -> None:
    """The scales' law: put the loader on again, and they show what was typed."""
    typed = OWN | {"loader_on": "yes", "weighed.front_axle": "1500 lb"}
    machine = read(typed, base).machine
    assert machine is not None
    front, rear = axle_loads(fit(machine, Outfit(operator="0 kg")))
    assert front == pytest.approx(1500 * POUND, abs=0.2)
    assert rear == pytest.approx(1330 * POUND, abs=0.2)


def test_a_shipped_machine_typed_anew_is_the_same_machine() -> None:
    """Whatever is copied grows with nothing when nothing is larger."""
    own = load_machine("bramble")
    typed = {
        "weighed.front_axle": "430 kg", "weighed.rear_axle": "560 kg", "body.wheelbase": "1.62 m",
        "front_tyre.track": "1.02 m", "rear_tyre.track": "1.00 m", "loader": "yes",
        "front_tyre.diameter": "0.62 m", "front_tyre.width": "0.21 m",
        "rear_tyre.diameter": "0.98 m", "rear_tyre.width": "0.28 m",
    }  # fmt: skip
    other = read(typed).machine
    assert other is not None
    slopes = [tip(fit(m, Outfit())).lift_off_slope_deg for m in (own, other)]
    assert slopes[0] == pytest.approx(slopes[1], abs=1e-6)


def test_without_a_loader_there_is_none(tmp_path: Path) -> None:
    machine = read(OWN | {"loader": "no", "rops": "no"}).machine
    assert machine is not None
    assert machine.loader is None
    assert machine.rops is None


def test_a_bare_number_is_refused_with_the_units_that_are_taken() -> None:
    said: Any = read(OWN | {"rear_tyre.track": "42.5"}).problems["rear_tyre.track"]
    assert "without a unit" in said
    assert "in, ft" in said


def test_two_figures_that_contradict_each_other_are_told_beside_one_of_them() -> None:
    found = read(OWN | {"body.wheelbase": "0.8 m"})
    assert "tyres would touch" in found.problems["body.wheelbase"]


@pytest.mark.parametrize("units", ["metric", "us"])
def test_whatever_is_typed_the_page_can_be_written(units: str, quiet: Desk) -> None:
    """Half-typed, nonsense, out of range, in every field of every place, a few more each time."""
    quiet.searches.end()
    odd = ["1", "12 bananas", "-3 in", "1e999 kg", "%", "\N{SNOWMAN}", "0 mm", "1:0"]
    paths = [f"tractor/own/{path}" for path in sorted(fields.OF_A_TRACTOR)]
    paths += [f"bank/typed/{path}" for path in sorted(fields.OF_A_BANK)]
    paths += [f"options/1/typed/{path}" for path in sorted(fields.OF_AN_OPTION)]
    quiet.change([("units", units)], False)
    for start in range(0, len(paths), 6):
        some = paths[start : start + 6]
        quiet.change([(path, odd[(start + k) % len(odd)]) for k, path in enumerate(some)], False)
        assert quiet.question.study is None
    assert len(quiet.everything()["problems"]) > 60
    for path in paths:
        put(quiet.state, path, "")
    quiet.change([("title", "all well")], False)
    assert not quiet.everything()["problems"]


@pytest.mark.parametrize("base", shipped("machine"))
def test_a_field_that_is_needed_never_seems_filled_in(base: str) -> None:
    """A grey figure of another machine in it was taken for an answer."""
    state = first_state()
    put(state, "tractor/kind", "own")
    put(state, "tractor/base", base)
    shown = hints(state, read_question(state, Path()))
    assert not shown.keys() & {item.path for item in fields.WANTED}
    assert "weighed.cg_height" in shown  # what is copied stands in grey
    put(state, "tractor/kind", "shipped")
    assert "body.wheelbase" in hints(state, read_question(state, Path()))


def test_units_of_ones_own_system_are_offered_first() -> None:
    for kind, first in (("mass", "lb"), ("length", "in"), ("speed", "mph"), ("pressure", "psi")):
        assert units_of(kind, us=True).split("|")[0] == first
        assert units_of(kind, us=False).split("|")[-1] in (first, "ft")
        assert sorted(units_of(kind, True)) == sorted(units_of(kind, False))
