"""The schemas of files, held by an outside validator: what is read is valid, and the other way."""

import json
import re
import tomllib
from typing import Any

import pytest
from cli.runner import refused, run
from jsonschema import Draft202012Validator

from sidehill.files.errors import InputError
from sidehill.files.library import Kind, find, folder, shipped
from sidehill.files.spec import build
from sidehill.files.toml import Document
from sidehill.study.schema import MODELS, json_schema

SHIPPED = [(kind, name) for kind in MODELS for name in shipped(kind)]
VALID = {kind: Draft202012Validator(json_schema(kind)) for kind in MODELS}


def read(kind: Kind, name: str) -> dict[str, Any]:
    return tomllib.loads(find(kind, name).read_text(encoding="utf-8"))


@pytest.mark.parametrize("kind", MODELS)
def test_it_is_a_schema_and_the_shipped_one_is_the_same(kind: Kind) -> None:
    Draft202012Validator.check_schema(json_schema(kind))
    beside = folder(kind) / f"{kind}.schema.json"
    assert json.loads(beside.read_text(encoding="utf-8")) == json_schema(kind), (
        f"write it anew: sidehill schema {kind} -o {beside.name}"
    )


@pytest.mark.parametrize(("kind", "name"), SHIPPED)
def test_shipped_files_are_valid_and_name_it(kind: Kind, name: str) -> None:
    text = find(kind, name).read_text(encoding="utf-8")
    assert text.startswith(f"#:schema ./{kind}.schema.json\n")
    assert not list(VALID[kind].iter_errors(tomllib.loads(text)))


STUDY = {"title": "x", "machine": "bramble", "scenario": "bank-stone"}
SLOPE = {"slope": "10 deg"}
COURSE = {"title": "x", "teaches": "y", "course": {"path": "contour", "length": "9 m"}}
COURSE |= {"drive": {"speed": "5 km/h"}}
FILES: dict[str, tuple[Kind, dict[str, Any], bool]] = {
    "a slope in percent": ("scenario", COURSE | {"ground": {"slope": "18 %"}}, True),
    "a slope as a ratio": ("scenario", COURSE | {"ground": {"slope": "1:4"}}, True),
    "a slope without a unit": ("scenario", COURSE | {"ground": {"slope": 10}}, False),
    "a bare number as text": ("scenario", COURSE | {"ground": {"slope": "10"}}, False),
    "an unknown key": ("scenario", COURSE | {"ground": SLOPE | {"frictoin": 0.5}}, False),
    "a ratio": ("scenario", COURSE | {"ground": SLOPE | {"friction": 0.5}}, True),
    "a ratio in percent": ("scenario", COURSE | {"ground": SLOPE | {"friction": "50 %"}}, True),
    "too large a ratio": ("scenario", COURSE | {"ground": SLOPE | {"friction": 3.0}}, False),
    "a word": ("scenario", COURSE | {"ground": SLOPE | {"roughness": "D"}}, True),
    "another word": ("scenario", COURSE | {"ground": SLOPE | {"roughness": "Z"}}, False),
    "a missing table": ("scenario", COURSE, False),
    "a list": ("study", STUDY | {"vary": {"ground.slope": ["4 deg", "8 deg"]}}, True),
    "an empty list": ("study", STUDY | {"vary": {"ground.slope": []}}, False),
    "a normal": (
        "study", STUDY | {"vary": {"ground.slope": {"mean": "4 deg", "spread": "1 deg"}}}, True,
    ),
    "half a normal": ("study", STUDY | {"vary": {"ground.slope": {"mean": "4 deg"}}}, False),
    "one event": ("study", STUDY | {"find": {"until": "lifted"}}, True),
    "several events": ("study", STUDY | {"find": {"until": ["lifted", "overturned"]}}, True),
    "no event": ("study", STUDY | {"find": {"until": ["rolled"]}}, False),
    "a method": ("study", STUDY | {"vary": {"a": [1]}, "sample": {"method": "sobol"}}, True),
    "no method": ("study", STUDY | {"vary": {"a": [1]}, "sample": {"method": "dice"}}, False),
}  # fmt: skip


@pytest.mark.parametrize("name", FILES)
def test_what_is_read_is_valid_and_what_is_not_is_refused_by_both(name: str) -> None:
    kind, data, is_good = FILES[name]
    assert VALID[kind].is_valid(data) == is_good
    try:
        build(MODELS[kind], Document("x", data))
    except InputError:
        assert not is_good
    else:
        assert is_good


@pytest.mark.parametrize("kind", MODELS)
def test_it_refuses_no_key_that_a_file_takes(kind: Kind) -> None:
    """Every key of the shipped files, taken out and written wrong, one after the other."""
    data = read(kind, shipped(kind)[0])
    for key in list(data):
        assert not VALID[kind].is_valid(data | {f"{key}x": data[key]})


def test_the_command_prints_and_writes_it(tmp_path: Any, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    assert json.loads(run("schema study").stdout) == json_schema("study")
    assert run("schema study -o s.json").exit_code == 0
    assert json.loads((tmp_path / "s.json").read_text()) == json_schema("study")
    assert "give machine, scenario, study" in refused("schema tractor")


def test_the_version_is_told() -> None:
    assert re.fullmatch(r"sidehill \d+\.\d+\.\d+\n", run("--version").stdout)
