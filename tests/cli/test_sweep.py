"""`sidehill sweep`: what it says, what it refuses, what it asks about first."""

import json
import shlex
from collections.abc import Iterator
from concurrent.futures import Executor, ThreadPoolExecutor
from contextlib import contextmanager
from pathlib import Path

import pandas as pd
import pytest
from cli.runner import answer, process, refused, run
from sweep.cheap import cheap_file

from sidehill.caution import CAUTION
from sidehill.cli.sweep import EXAMPLES


def test_a_sweep_in_words_and_as_json(tmp_path: Path) -> None:
    study, out = cheap_file(tmp_path, 6), tmp_path / "out"
    said = run(f"sweep {study} --out {out} --engine compiled --workers 1")
    assert said.exit_code == 0, said.output
    assert "12 cases, 12 of them computed now" in said.stdout
    assert CAUTION.split(".")[0] in said.stdout
    for word in ("safe", "can take"):
        assert word not in said.stdout
    found = answer(f"sweep {study} --out {out} --engine compiled --workers 1")
    assert (found["cases"], found["computed_now"]) == (12, 0)
    table = pd.read_parquet(found["table"])
    counted = (table["stability"] + ", " + table["progress"]).value_counts().to_dict()
    assert found["facts"] == counted and sum(counted.values()) == 12
    calm = table["stability"].isin(("planted", "hopped"))
    there = table["progress"].isin(("across", "halted")) & table["met"].astype(bool)
    assert found["good"] == int((calm & there).sum())
    assert (found["engine"], found["reference"], found["disagreements"]) == ("compiled", None, 0)
    assert found["caution"] == CAUTION
    assert Path(found["columns"]).is_file()


@pytest.mark.parametrize("example", EXAMPLES)
def test_the_examples_of_the_help_run(
    example: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """On a study that takes no time, in threads for the cluster that they name."""
    monkeypatch.chdir(tmp_path)
    study = cheap_file(tmp_path, 2)
    asked: list[str] = []

    @contextmanager
    def cluster(address: str) -> Iterator[tuple[Executor, int]]:
        asked.append(address)
        with ThreadPoolExecutor(2) as executor:
            yield executor, 2

    monkeypatch.setattr("sidehill.cli.sweep_run.cluster", cluster)
    words = shlex.split(example)[1:]
    found = answer(" ".join(study.name if word == words[1] else word for word in words))
    assert (found["cases"], found["problems"]) == (4, {})
    assert Path(found["table"]).parent.name == ("widths" if "widths" in words else "sidehill-cheap")
    assert asked == [word for word in words if word.startswith("tcp:")]


def test_a_disagreement_is_not_hidden(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("sidehill.sweep.run_row.near", lambda *_: ("hop",))
    monkeypatch.setattr("sidehill.sweep.run_row._facts", lambda *_: (None, None, None))
    study, out = cheap_file(tmp_path, 2), tmp_path / "out"
    said = run(f"sweep {study} --out {out} --workers 1")
    assert "4 DISAGREEMENTS" in said.stdout
    assert "take neither engine's word" in said.stdout
    assert answer(f"sweep {study} --out {out} --workers 1")["disagreements"] == 4


def test_bad_input_is_refused_and_nothing_overwritten(tmp_path: Path) -> None:
    study, out = cheap_file(tmp_path, 2), tmp_path / "out"
    answer(f"sweep {study} --out {out} --engine compiled --workers 1")
    before = {path: path.read_bytes() for path in out.iterdir()}
    other = cheap_file(tmp_path, 3)
    assert "holds another study" in refused(f"sweep {other} --out {out} --engine compiled")
    assert {path: path.read_bytes() for path in before} == before
    text = other.read_text(encoding="utf-8")
    other.write_text(text.replace("drive.speed", "drive.sped"), encoding="utf-8")
    assert 'mean "speed"?' in refused(f"sweep {other} --out {tmp_path / 'b'}")
    other.write_text(text.replace("drive.speed", "teaches"), encoding="utf-8")
    assert 'vary."teaches"' in refused(f"sweep {other} --out {tmp_path / 'b'}")
    assert "did you mean" in refused("sweep spacers-and-balast")
    assert not (tmp_path / "b").exists()


def test_a_scheduler_that_does_not_answer(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    pytest.importorskip("distributed", reason="the extra `cluster` is not installed")
    monkeypatch.setattr("sidehill.sweep.cluster.PATIENCE", 0.5)
    study = cheap_file(tmp_path, 2)
    line = f"sweep {study} --out {tmp_path / 'out'} --dask"
    assert "no scheduler answers there" in refused(f"{line} tcp://127.0.0.1:9")
    assert "no scheduler answers there" in refused(f"{line} nonsense://x")
    assert "give one of them" in refused(f"{line} tcp://127.0.0.1:9 --workers 2")
    assert not (tmp_path / "out").exists()


def test_a_million_cases_are_asked_about(tmp_path: Path) -> None:
    study = cheap_file(tmp_path, 500_000)
    message = refused(f"sweep {study} --out {tmp_path / 'out'} --engine compiled --workers 2")
    assert "1,000,000 cases: about" in message and message.endswith("give --yes to go on")
    assert " min on 2 workers" in message or " h " in message
    assert not (tmp_path / "out").exists()


def test_yes_goes_on(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("sidehill.cli.sweep_run.LONG", 1)
    study, out = cheap_file(tmp_path, 2), tmp_path / "out"
    line = f"sweep {study} --out {out} --engine compiled --workers 1"
    assert "give --yes" in refused(line)
    assert answer(f"{line} --yes")["computed_now"] == 4


def test_a_process_of_its_own(tmp_path: Path) -> None:
    cheap_file(tmp_path, 4)
    done = process("sweep cheap.toml --engine compiled --json", tmp_path)
    assert done.returncode == 0, done.stderr
    assert json.loads(done.stdout)["table"] == "sidehill-cheap/results.parquet"
    assert done.stderr.count("\n") == len(json.loads(done.stdout)["warnings"])  # no progress
