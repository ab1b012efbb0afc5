"""A checked copy with some values changed is the copy that a new reading of the file would give."""

from typing import Any

import pytest

from sidehill.files.errors import InputError
from sidehill.files.fields import SI
from sidehill.files.library import shipped
from sidehill.files.spec import FileSpec
from sidehill.machine.file import load_machine
from sidehill.scenario.file import load_scenario

BRAMBLE, STONE = load_machine("bramble"), load_scenario("bank-stone-and-rut")
CHANGES: list[tuple[FileSpec, dict[str, Any]]] = [
    (BRAMBLE, {"weighed.cg_height": 0.61}),
    (BRAMBLE, {"weighed.cg_height": "61 cm", "rear_tyre.stiffness": 2e5, "name": "other"}),
    (BRAMBLE, {"attachment.1.mass": 300.0}),
    (STONE, {"ground.slope": 0.2, "drive.speed": 1.0}),
    (STONE, {"feature.1.height": 0.1, "feature.2.height": 0.05}),
    (STONE, {"feature.2.at": 6.5, "run.step": 2e-3}),
    (STONE, {"ground.roughness": "B", "ground.seed": 3}),
]


def read_again(spec: FileSpec, values: dict[str, Any]) -> FileSpec:
    """The whole of it, written out, changed there, and checked from the start."""
    data = spec.model_dump(exclude_unset=True)
    for path, value in values.items():
        table: Any = data
        *way, last = path.split(".")
        for part in way:
            if isinstance(table, dict):
                inner = table.setdefault(part, {})
                table[part] = list(inner) if isinstance(inner, tuple) else inner
                table = table[part]
            else:
                table = table[int(part) - 1]
        table[last] = value
    return type(spec).model_validate(data, context={SI: True})


@pytest.mark.parametrize(("spec", "values"), CHANGES)
def test_a_changed_copy_is_as_one_read_again(spec: FileSpec, values: dict[str, Any]) -> None:
    before = spec.model_dump()
    changed, wanted = spec.with_values(values), read_again(spec, values)
    assert changed.model_dump() == wanted.model_dump()
    assert changed.model_dump(exclude_unset=True) == wanted.model_dump(exclude_unset=True)
    assert changed.file == spec.file
    assert spec.model_dump() == before


@pytest.mark.parametrize("name", shipped("machine"))
def test_tables_are_checked_against_each_other_though_only_one_changed(name: str) -> None:
    machine = load_machine(name)
    with pytest.raises(
        InputError, match=r"front_axle\.mass = [\d.]+: allowed: over its two wheels"
    ):
        machine.with_values({"weighed.front_axle": machine.front_axle.mass - 1.0})


@pytest.mark.parametrize(
    ("spec", "values", "words"),
    [
        (BRAMBLE, {"weighed.cg_height": 9.0}, "weighed.cg_height = 9.0: not plausible"),
        (BRAMBLE, {"weighed.cg_heigt": 0.6}, 'unknown key; did you mean "cg_height"'),
        (STONE, {"feature.3.height": 0.1}, "feature.3: no such item"),
        (STONE, {"course.length": 2.0}, "feature.1.at = 5.0: the bump reaches"),
        (STONE, {"ground.slope.x": 1.0}, "ground.slope is not a table"),
    ],
)
def test_what_is_refused_is_named(spec: FileSpec, values: dict[str, Any], words: str) -> None:
    with pytest.raises(InputError, match=words.replace("?", r"\?")):
        spec.with_values(values)
