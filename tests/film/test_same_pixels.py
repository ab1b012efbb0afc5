"""The same pixels on every run, in every process, with one thread or more."""

import hashlib
import os
import subprocess
import sys
from pathlib import Path

import numpy as np
import pytest
from film.posed import case_of, posed

from sidehill.film.clock import Tempo
from sidehill.film.crew import drawn
from sidehill.film.encode import Mp4
from sidehill.film.show import Show, build_show
from sidehill.film.words import built_in

ROOT = Path(__file__).parents[2]
DRAW = """
import hashlib
from film.test_same_pixels import a_show
from sidehill.film.crew import drawn
from sidehill.film.encode import Mp4
show = a_show()
print(hashlib.sha256(b"".join(drawn(show, show.moments[:60:12], Mp4.pack, 1))).hexdigest())
"""


def a_show() -> Show:
    """Two machines, one of which lifts a wheel."""
    rolls = list(np.radians(np.linspace(0.0, 9.0, 33)))
    records = [
        posed(case_of("bramble", "bank-stone"), rolls),
        posed(case_of("sorrel", "bank-stone"), [0.0] * 33),
    ]
    return build_show(records, ["a", "b"], (640, 360), 30, "auto", Tempo(), "", built_in())


@pytest.fixture(scope="module")
def show() -> Show:
    return a_show()


def digest(show: Show, workers: int) -> str:
    return hashlib.sha256(
        b"".join(drawn(show, show.moments[:60:12], Mp4.pack, workers))
    ).hexdigest()


@pytest.mark.parametrize("workers", [2, 5])
def test_one_thread_and_more_draw_the_same(show: Show, workers: int) -> None:
    assert digest(show, 1) == digest(show, workers)


def test_two_runs_from_scratch_draw_the_same(show: Show) -> None:
    """Another process, another hash seed, another order of what was drawn before."""
    found = {digest(show, 1)}
    for seed in ("1", "2"):
        paths = os.pathsep.join([str(ROOT / "sim"), str(ROOT / "tests")])
        environment = os.environ | {"PYTHONPATH": paths, "PYTHONHASHSEED": seed}
        done = subprocess.run(
            [sys.executable, "-c", DRAW],
            env=environment,
            capture_output=True,
            text=True,
            check=True,
        )
        found.add(done.stdout.strip())
    assert len(found) == 1


def test_frames_come_in_order(show: Show) -> None:
    moments = show.moments[:40:4]
    alone = [next(iter(drawn(show, [moment], Mp4.pack, 1))) for moment in moments]
    assert list(drawn(show, moments, Mp4.pack, 2)) == alone
