"""Numbers beyond what is plausible: refused by the name of their field, or answered soundly."""

import json
from collections.abc import Iterator
from math import inf, nan
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from properties.generated import course_tables, machine_tables, outfit_tables

from sidehill.case import Case
from sidehill.files.errors import InputError
from sidehill.files.spec import build
from sidehill.files.toml import Document
from sidehill.flat import flatten
from sidehill.machine.build import fit
from sidehill.machine.file import Machine
from sidehill.machine.outfit import Outfit
from sidehill.scenario.file import Scenario
from sidehill.statics.report import tip

ABSURD = st.one_of(
    st.sampled_from([nan, inf, -inf, 0.0, -0.0, -1.0, 1e-300, 1e300, 10**400, True, None]),
    st.sampled_from(["", "1", "1 kg", "nan m", "inf kg", "1e400 m", "٣ m", "\x00", "-", "1:0"]),
    st.sampled_from([[], {}, [1.0], {"x": 1.0}, [[[[[]]]]]]),
    st.floats(),
    st.floats(1e-6, 1e6),
)


def places(table: dict[str, Any], above: tuple[str, ...] = ()) -> Iterator[tuple[str, ...]]:
    """The key of every value."""
    for name, value in table.items():
        if isinstance(value, dict):
            yield from places(value, (*above, name))
        else:
            yield (*above, name)


@st.composite
def spoiled(draw: st.DrawFn, tables: st.SearchStrategy[dict[str, Any]]) -> Any:
    """A table with up to three of its values replaced, and the keys of those."""
    table = draw(tables)
    keys = draw(st.lists(st.sampled_from(list(places(table))), min_size=1, max_size=3))
    for key in keys:
        inner = table
        for part in key[:-1]:
            inner = inner[part]
        inner[key[-1]] = draw(ABSURD)
    return table, keys


def assert_told(error: InputError, model: type) -> None:
    """Each line names the file and a field that the format has."""
    for line in str(error).splitlines():
        place, _, rest = line.partition(": ")
        assert place.startswith("own.toml") or line.startswith("and ")
        field = rest.split(":")[0].split(" = ")[0]
        assert line.startswith("and ") or field.split(".")[0] in model.model_fields, line


@given(spoiled(machine_tables()), st.booleans())
@settings(max_examples=300)
def test_machine_files(drawn, si):
    table, _ = drawn
    try:
        machine = build(Machine, Document("own.toml", table), si=si)
    except InputError as error:
        assert_told(error, Machine)
        return
    try:
        fitted = fit(machine, Outfit())
    except InputError:
        return
    json.dumps(tip(fitted).to_dict(), allow_nan=False)


@given(spoiled(outfit_tables()), st.booleans())
@settings(max_examples=200)
def test_outfits(drawn, si):
    table, _ = drawn
    try:
        build(Outfit, Document("own.toml", table), si=si)
    except InputError as error:
        assert_told(error, Outfit)


@given(spoiled(course_tables()), st.booleans())
@settings(max_examples=200)
def test_scenarios(bramble, drawn, si):
    table, _ = drawn
    try:
        scenario = build(Scenario, Document("own.toml", table), si=si)
    except InputError as error:
        assert_told(error, Scenario)
        return
    try:
        flat = flatten(Case(bramble, scenario))
    except InputError:
        return
    assert flat.case["most_steps"][0] > 0


@pytest.fixture(scope="session")
def bramble() -> Machine:
    from sidehill.machine.file import load_machine

    return load_machine("bramble")
