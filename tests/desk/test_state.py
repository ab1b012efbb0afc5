"""The form is kept as it was typed, and takes nothing that it does not know."""

import json
from pathlib import Path

import pytest
from desk.conftest import OWN, opened
from hypothesis import given
from hypothesis import strategies as st

from sidehill.desk import fields
from sidehill.desk.bank import read_bank
from sidehill.desk.keep import ASIDE, FORM, read_form
from sidehill.desk.question import read_question
from sidehill.desk.state import (
    MOST_OPTIONS,
    add_option,
    first_state,
    put,
    remove_option,
    restored,
)
from sidehill.files.errors import InputError

TEXT = st.text(st.characters(min_codepoint=32, exclude_categories=["Cs"]), max_size=60)


@given(st.dictionaries(st.sampled_from(sorted(fields.OF_A_TRACTOR)), TEXT, max_size=8), TEXT)
def test_whatever_is_typed_comes_back_letter_by_letter(typed: dict[str, str], name: str) -> None:
    state = first_state()
    for path, text in typed.items():
        put(state, f"tractor/own/{path}", text)
    put(state, "options/2/name", name)
    assert restored(json.loads(json.dumps(state))) == state
    kept = {path: text for path, text in typed.items() if text.strip()}
    assert state["tractor"]["own"] == kept


@pytest.mark.parametrize(
    "path",
    ["", "units/x", "tractor", "tractor/own", "tractor/own/__class__", "tractor/other/name",
     "options/0/name", "options/4/name", "options/-1/name", "options/1/typed/nothing",
     "bank/typed/run.step", "bank/base/x", "../units", "options/1", "tractor/own/name/x",
     "tractor/file/loader_on", "tractor/file/weigh.tilt"],
)  # fmt: skip
def test_a_field_that_is_none_is_refused_and_changes_nothing(path: str) -> None:
    state = first_state()
    with pytest.raises(InputError, match=r"no such field|there are"):
        put(state, path, "1")
    assert state == first_state()


@pytest.mark.parametrize(
    ("path", "text"),
    [("units", "feet"), ("tractor/kind", "stolen"), ("tractor/base", "../x"), ("units", ""),
     ("tractor/opened", "../../x.toml"), ("bank/base", "a/b"), ("title", "two\nlines"),
     ("options/1/name", "x" * 201)],
)  # fmt: skip
def test_a_text_that_cannot_be_is_refused(path: str, text: str) -> None:
    state = first_state()
    with pytest.raises(InputError):
        put(state, path, text)
    assert state == first_state()


def test_options_are_added_and_removed_within_bounds() -> None:
    state = first_state()
    while len(state["options"]) < MOST_OPTIONS:
        add_option(state, 2)
    assert state["options"][-1]["typed"] == state["options"][1]["typed"]
    with pytest.raises(InputError, match="remove one first"):
        add_option(state, 1)
    for _ in range(MOST_OPTIONS - 1):
        remove_option(state, 1)
    with pytest.raises(InputError, match="one option stays"):
        remove_option(state, 1)


@pytest.mark.parametrize(
    "text",
    ["", "{", "[]", "null", "7", '{"options": 3}', '{"options": [], "evil": {"x": "y"}}',
     '{"options": [{"typed": {"rear_spacer": 4}}]}', "[" * 3000, "\udcff"],
)  # fmt: skip
def test_a_form_that_is_none_is_put_aside_and_said(text: str, tmp_path: Path) -> None:
    (tmp_path / FORM).write_bytes(text.encode("utf-8", "surrogateescape"))
    state, said = read_form(tmp_path)
    assert state == first_state()
    assert ASIDE in said
    assert (tmp_path / ASIDE).read_bytes() == text.encode("utf-8", "surrogateescape")


def test_a_form_is_there_again_when_the_desk_is_opened_again(tmp_path: Path) -> None:
    changes = [(f"tractor/own/{path}", text) for path, text in OWN.items() if path != "loader"]
    with opened(tmp_path / "desk") as desk:
        desk.change([("tractor/kind", "own"), *changes], False)
        left = desk.state
    with opened(tmp_path / "desk") as desk:
        assert desk.state == left
        assert not desk.notice


def test_a_desk_opens_with_what_every_tractor_can_be(tmp_path: Path) -> None:
    """Also one without a loader: its first answer waits for nothing that nobody typed."""
    state = first_state()
    put(state, "tractor/kind", "own")
    for path, text in (OWN | {"loader": "no"}).items():
        if path != "loader_on":
            put(state, f"tractor/own/{path}", text)
    question = read_question(state, tmp_path)
    assert question.study is not None
    assert [bool(way.problems) for way in question.ways] == [False, False, True]
    assert "loader" in question.ways[2].problems["bucket_load"]


def test_a_bank_that_moves_the_bucket_can_leave_it_as_fitted(tmp_path: Path) -> None:
    state = first_state()
    put(state, "bank/typed/loader.height", "as fitted")
    assert read_bank(state).scenario is not None  # on a bank that moves none it is not asked
    put(state, "bank/base", "raise-on-bank")
    scenario = read_bank(state).scenario
    assert scenario is not None
    assert scenario.loader is None
    put(state, "bank/typed/loader.height", "")
    scenario = read_bank(state).scenario
    assert scenario is not None
    assert scenario.loader is not None
