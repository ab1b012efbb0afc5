"""The guide to machine files cannot rot: every field is in it, under the table it belongs to."""

import re
from typing import Any, get_args

import pytest

from sidehill.files.library import folder
from sidehill.files.spec import Spec
from sidehill.machine.file import Machine

GUIDE = (folder("machine") / "README.md").read_text(encoding="utf-8")
WHERE = {"scale", "tape", "brochure", "copy", "yours", "gauge", "side wall", "its plate"}


def table(annotation: Any) -> type[Spec] | None:
    """The table that a field of a machine file holds, itself, optional or many of them."""
    if isinstance(annotation, type) and issubclass(annotation, Spec):
        return annotation
    inner = (table(item) for item in get_args(annotation))
    return next((item for item in inner if item is not None), None)


def sections() -> dict[str, str]:
    """What stands under each heading, by every table it names; "" for the top of the file."""
    found: dict[str, str] = {}
    for part in GUIDE.split("\n## ")[1:]:
        heading, _, body = part.partition("\n")
        names = re.findall(r"\[+(\w+)\]+", heading)
        for name in names or ([""] if heading.startswith("Top") else []):
            found[name] = body
    return found


FIELDS = [
    (name, field)
    for name, info in Machine.model_fields.items()
    for field in (
        [None] if table(info.annotation) is None else list(table(info.annotation).model_fields)
    )
]


@pytest.mark.parametrize(("name", "field"), FIELDS, ids=lambda value: str(value))
def test_every_field_is_told_where_it_belongs(name: str, field: str | None) -> None:
    if field is None:
        assert f"`{name}`" in sections()[""]
    else:
        assert re.search(rf"`(?:{name}\.)?{field}`", sections()[name])


def test_every_row_says_where_to_find_it_and_what_it_moves() -> None:
    rows = [line for line in GUIDE.splitlines() if line.startswith("| `")]
    assert len(rows) > 40
    for row in rows:
        cells = [cell.strip() for cell in row.strip("|").split(" | ")]
        assert len(cells) == 4, row
        assert any(cells[2].startswith(word) for word in WHERE), row
        assert cells[3], row
