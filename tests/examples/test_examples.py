"""The examples are scripts of under 80 lines through the API; they run, small."""

import importlib.util
from pathlib import Path

import numpy as np
import pytest

import sidehill as sh

HERE = Path(__file__).parent
NAMES = [path.stem for path in sorted(HERE.glob("*.py")) if not path.stem.startswith("test_")]


def load(name: str) -> object:
    spec = importlib.util.spec_from_file_location(name, HERE / f"{name}.py")
    assert spec is not None and spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


@pytest.mark.parametrize("name", NAMES)
def test_it_is_short_and_uses_the_api_alone(name: str) -> None:
    text = (HERE / f"{name}.py").read_text(encoding="utf-8")
    assert len(text.splitlines()) < 80
    assert "from sidehill" not in text and "import sidehill as sh" in text
    load(name)


@pytest.mark.slow
def test_the_paper_of_spacers_small(tmp_path: Path) -> None:
    paper = load("spacers_paper")
    results = sh.run_study(paper.study(16), tmp_path, engine="compiled")
    table = paper.table(results)
    # Gibson, Elliott and Persson 1971: the wider rear track moves the hinge line out, so that the
    # first wheel lifts later, and the more so the wider
    gains = table["gain 50% deg"].to_numpy()
    assert gains[0] == 0.0 and (np.diff(gains) > 0.0).all()
    assert table["machines"].min() >= 24
    paper.figure(results).savefig(tmp_path / "spacers.png")
    assert (tmp_path / "spacers.png").stat().st_size > 10_000
