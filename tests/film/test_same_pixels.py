"""The same pixels on every run, in every process, with one process or two."""

import hashlib
import os
import subprocess
import sys
from pathlib import Path

import numpy as np
import pytest
from film.posed import case_of, posed

from sidehill.film.crew import drawn
from sidehill.film.show import Show, build_show
from sidehill.film.words import built_in

ROOT = Path(__file__).parents[2]
DRAW = """
import hashlib
from film.test_same_pixels import a_show
from sidehill.film.crew import drawn
show = a_show()
print(hashlib.sha256(b"".join(drawn(show, show.moments[:60:12], 1))).hexdigest())
"""


def a_show() -> Show:
    """Two machines, one of which lifts a wheel."""
    rolls = list(np.radians(np.linspace(0.0, 9.0, 33)))
    records = [
        posed(case_of("bramble", "bank-stone"), rolls),
        posed(case_of("sorrel", "bank-stone"), [0.0] * 33),
    ]
    return build_show(records, ["a", "b"], (640, 360), 30, "auto", 4.0, "", built_in())


@pytest.fixture(scope="module")
def show() -> Show:
    return a_show()


def test_two_processes_draw_what_one_draws_and_in_order(show: Show) -> None:
    moments = show.moments[:20:2]
    alone = [next(iter(drawn(show, [moment], 1))) for moment in moments]
    assert len(set(alone)) == len(alone)
    assert list(drawn(show, moments, 2)) == alone


def test_a_run_from_scratch_draws_the_same(show: Show) -> None:
    """Another process, another hash seed, another order of what was drawn before."""
    paths = os.pathsep.join([str(ROOT / "sim"), str(ROOT / "tests")])
    done = subprocess.run(
        [sys.executable, "-c", DRAW],
        env=os.environ | {"PYTHONPATH": paths, "PYTHONHASHSEED": "1"},
        capture_output=True,
        text=True,
        check=True,
    )
    frames = b"".join(drawn(show, show.moments[:60:12], 1))
    assert done.stdout.strip() == hashlib.sha256(frames).hexdigest()
