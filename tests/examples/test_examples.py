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


def test_a_wheel_s_forces(tmp_path: Path) -> None:
    example = load("tyre_forces")
    record = example.drive()
    frame = record.to_pandas()
    # the stone is under the left, uphill wheels: they take it up, one after the other
    assert frame["load_rear_left_n"].idxmax() > frame["load_front_left_n"].idxmax()
    example.figure(record).savefig(tmp_path / "forces.png")


def test_all_round(tmp_path: Path) -> None:
    example = load("all_round")
    found = example.table()
    plain, wide = found["as delivered_deg"], found["rear spacers 76 mm_deg"]
    side = found["direction_deg"] == 90.0
    assert (wide[side] > plain[side] + 1.0).all()
    assert np.allclose(plain, plain[::-1], atol=0.5)  # nearly the same to either side
    example.figure(found).savefig(tmp_path / "all-round.png")


@pytest.mark.slow
def test_the_paper_of_spacers_small(tmp_path: Path) -> None:
    paper = load("spacers_paper")
    results = sh.run_study(paper.study(16), tmp_path, engine="compiled")
    table = paper.table(results)
    # Gibson, Elliott and Persson 1971: the wider rear track moves the hinge line out, so that the
    # first wheel lifts later, and the more so the wider
    gains = table["gain 50% deg"].to_numpy()
    assert gains[0] == 0.0 and (np.diff(gains) > 0.0).all()
    assert table["draws"].min() == 32 and table["gain known"].min() >= 24
    assert table["unproved"].max() <= 4  # strips that no wheel's lifting ended
    paper.figure(results).savefig(tmp_path / "spacers.png")
    assert (tmp_path / "spacers.png").stat().st_size > 10_000


@pytest.mark.slow
def test_a_cluster_that_loses_a_worker_gives_the_same_table(tmp_path: Path) -> None:
    example = load("on_a_cluster")
    alone = sh.run_study(example.study(60), tmp_path / "alone", engine="compiled", workers=1)
    killed, _ = example.on_a_cluster(60, tmp_path / "killed", kill=True)
    assert killed.file.read_bytes() == alone.file.read_bytes()
    assert killed.table(["problem"])["problem"].isna().all()
