"""Bit for bit the same: repeats, threads, chunks, a snapshot restored."""

from concurrent.futures import ThreadPoolExecutor

import numpy as np
import pytest
from population import random_cases

from sidehill.case import Case
from sidehill.engines import open_engine
from sidehill.flat import Flat, flatten
from sidehill.kernels.layout import RUNNING, Records
from sidehill.run import run
from sidehill.run.stages import launch, settle
from sidehill.run.track import Track


def bytes_of(case: Case) -> bytes:
    """Final state and record of a run."""
    track = run(case, "compiled")
    return track.state.tobytes() + track.written().tobytes()


@pytest.fixture(scope="module")
def cases() -> list[Case]:
    return random_cases(6, seed=23)


@pytest.fixture(scope="module")
def flat(cases: list[Case]) -> Flat:
    return flatten(cases[0])


def launched(flat: Flat) -> Records:
    """The state at the start of the drive."""
    with open_engine("compiled", flat) as engine:
        track = Track(flat, engine, engine.init(), flat.rows(), lambda _: None)
        assert settle(track)
        launch(track)
    return track.state


def to_the_end(flat: Flat, state: Records, rows: Records, chunk: int) -> bytes:
    with open_engine("compiled", flat) as engine:
        while state["finish"][0] == RUNNING:
            engine.advance(state, rows, chunk)
    return state.tobytes() + rows.tobytes()


def test_repeats(cases: list[Case]) -> None:
    assert bytes_of(cases[0]) == bytes_of(cases[0])


@pytest.mark.parametrize("threads", [1, 2, 5])
def test_threads(cases: list[Case], threads: int) -> None:
    alone = [bytes_of(case) for case in cases]
    assert len(set(alone)) == len(cases)
    with ThreadPoolExecutor(threads) as pool:
        assert list(pool.map(bytes_of, cases)) == alone


@pytest.mark.parametrize("chunk", [1, 7, 1000])
def test_chunks(flat: Flat, chunk: int) -> None:
    start = launched(flat)
    whole = to_the_end(flat, start.copy(), flat.rows(), 10**9)
    assert to_the_end(flat, start.copy(), flat.rows(), chunk) == whole


def test_a_copy_of_the_state_is_a_snapshot(flat: Flat) -> None:
    state, rows = launched(flat), flat.rows()
    with open_engine("compiled", flat) as engine:
        engine.advance(state, rows, 1500)
        kept, kept_rows = state.copy(), rows.copy()
        engine.advance(state, rows, 1500)
        assert not np.array_equal(state.view(float), kept.view(float))
    end = to_the_end(flat, state, rows, 1000)
    assert to_the_end(flat, kept, kept_rows, 1000) == end
