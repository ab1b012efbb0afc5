"""The guide to studies cannot rot: its examples load, its tables name what there is."""

import re
from pathlib import Path
from typing import get_args

import pytest

from sidehill.files.library import folder
from sidehill.strip.limits import ALL_EVENTS
from sidehill.strip.quantity import VARIED
from sidehill.study.draw import design, size
from sidehill.study.sample import GROWS, Method
from sidehill.study.study import load_study
from sidehill.study.vary import FORMS

GUIDE = (folder("study") / "README.md").read_text(encoding="utf-8")
HEAD, *BLOCKS = re.findall(r"^```toml\n(.*?)^```$", GUIDE, re.DOTALL | re.MULTILINE)


@pytest.mark.parametrize("number", range(len(BLOCKS)))
def test_every_example_loads(number: int, tmp_path: Path) -> None:
    path = tmp_path / "mine.toml"
    path.write_text(HEAD + BLOCKS[number], encoding="utf-8")
    study = load_study(path)
    assert study.axes and len(study.options) == 2
    sample = study.sample
    if sample is not None:
        assert design(study.axes, sample).n == size(study.axes, sample)


def test_it_names_every_method_form_event_and_quantity() -> None:
    rows = re.findall(r"^\| `(\w+)` \|.*\| (yes|no)\b.*\|$", GUIDE, re.MULTILINE)
    assert [name for name, _ in rows] == list(get_args(Method))
    for name, keeps in rows:
        assert (keeps == "yes") == (name in (*GROWS, "grid"))
    for keys in FORMS:
        assert ", ".join(f"`{key}`" for key in keys) in GUIDE
    for name in (*ALL_EVENTS, *VARIED):
        assert name in GUIDE
