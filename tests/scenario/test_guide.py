"""The guide to the scenario language cannot rot: its examples load, its tables are true."""

import re
import tomllib
from pathlib import Path
from typing import Any, Literal, get_args, get_origin

import pytest

from sidehill.case import Case
from sidehill.files.errors import InputError
from sidehill.files.fields import Quantity
from sidehill.files.library import folder, shipped
from sidehill.files.problems import note_of
from sidehill.files.spec import Spec
from sidehill.machine.file import load_machine
from sidehill.picture.survey import survey
from sidehill.scenario.course import Course
from sidehill.scenario.drive import Brake, Driving, Lifting, Run
from sidehill.scenario.file import Scenario, load_scenario
from sidehill.scenario.ground import Feature, Ground
from sidehill.scenario.profiles import HeightsFile
from sidehill.terrain.roughness import FADE

GUIDE = (folder("scenario") / "README.md").read_text(encoding="utf-8")
BLOCKS = re.findall(r"^```toml\n(.*?)^```$", GUIDE, re.DOTALL | re.MULTILINE)
WHOLE = BLOCKS[0]
(PROFILES,) = re.findall(r"^```csv\n(.*?)^```$", GUIDE, re.DOTALL | re.MULTILINE)
ROWS = [
    [cell.strip() for cell in line.strip("|").split(" | ")]
    for line in GUIDE.splitlines()
    if line.startswith("| ")
]
TABLES: tuple[type[Spec], ...] = (Ground, Feature, Course, Driving, Lifting, Run, HeightsFile)


def whole(block: str) -> str:
    """The block as a file: a piece stands in the first block in place of its own tables."""
    given = tomllib.loads(block)
    if "title" in given:
        return block
    head, *tables = re.split(r"^(?=\[)", WHOLE, flags=re.MULTILINE)
    kept = [table for table in tables if table.splitlines()[0].strip("[]") not in given]
    return "\n".join([head, *kept, block])


def options(annotation: Any) -> list[str]:
    """The words of every Literal inside an annotation."""
    if get_origin(annotation) is Literal:
        return list(get_args(annotation))
    return [word for inner in get_args(annotation) for word in options(inner)]


@pytest.mark.parametrize("number", range(len(BLOCKS)))
def test_every_example_loads_and_suits_a_shipped_machine(number: int, tmp_path: Path) -> None:
    path = tmp_path / "example.toml"
    path.write_text(whole(BLOCKS[number]), encoding="utf-8")
    (tmp_path / "bank.csv").write_text(PROFILES, encoding="utf-8")
    scenario = load_scenario(path)
    for name in tomllib.loads(BLOCKS[number]):
        assert name in scenario.model_fields_set
    assert survey(Case(load_machine("bramble"), scenario)).scenario is scenario


def test_the_examples_use_every_table_and_every_shape() -> None:
    documents = [tomllib.loads(block) for block in BLOCKS]
    assert set(Scenario.model_fields) == {name for found in documents for name in found}
    features = [item for found in documents for item in found.get("feature", ())]
    assert {item["shape"] for item in features} == set(
        options(Feature.model_fields["shape"].annotation)
    )
    assert {field for item in features for field in item} == set(Feature.model_fields)


@pytest.mark.parametrize("table", TABLES)
def test_every_field_has_its_row_with_what_is_allowed(table: type[Spec]) -> None:
    for name, field in table.model_fields.items():
        rows = [" | ".join(row) for row in ROWS if row[0] == f"`{name}`"]
        assert rows, name
        note = note_of(field)
        bounds = [note.low, note.high] if isinstance(note, Quantity) else []
        wanted = [*bounds, *(f"`{option}`" for option in options(field.annotation))]
        assert any(all(item in row for item in wanted) for row in rows), (name, wanted, rows)


def test_a_brake_is_told_of() -> None:
    told = GUIDE[GUIDE.index("A brake has") :].partition("\n")[0]
    for name in Brake.model_fields:
        assert f"`{name}`" in told


REFUSED = [row for row in ROWS if row[0].startswith("`") and "=" in row[0]]


@pytest.mark.parametrize(("setting", "said"), REFUSED)
def test_what_is_said_to_be_refused_is(setting: str, said: str) -> None:
    with pytest.raises(InputError) as refusal:
        survey(Case(load_machine("bramble"), load_scenario("bank-stone", [setting.strip("`")])))
    assert said in str(refusal.value)


def test_shipped_scenarios_are_listed_with_what_they_teach() -> None:
    told = {row[0].strip("`"): row[1] for row in ROWS if row[0].strip("`") in shipped("scenario")}
    assert told == {name: load_scenario(name).teaches for name in shipped("scenario")}


def test_numbers_of_the_prose() -> None:
    assert f"fades in between {FADE[0]:g} m and {FADE[1]:g} m" in GUIDE
    # ISO 8608 geometric means (published, two secondary sources)
    assert "16, 64, 256, 1024, 4096 x 1e-6 m^3" in GUIDE
    assert len(REFUSED) >= 10 and len(BLOCKS) >= 10
