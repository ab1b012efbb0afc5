"""What is packed is what the film shows, judged by a reader of the test's own."""

import base64
import zlib
from math import degrees
from typing import Any

import numpy as np
import pytest
from film.posed import case_of, posed
from hypothesis import given
from hypothesis import strategies as st
from scipy.spatial.transform import Rotation, Slerp

from sidehill.film.pane import Pane, build_pane
from sidehill.replay.block import Block
from sidehill.replay.motion import FOLLOWED, PLACE_STEP, TURN_STEP, kept_rows, motion_of
from sidehill.replay.run import rolls
from sidehill.run.record import Record, simulate

PLACE, TURN = 0.0005, 0.05  # [m], [deg] promised
ROUNDING = 1e-9


def read(block: Block) -> list[np.ndarray]:
    """The tables of a block, byte by byte."""
    data = zlib.decompress(base64.b64decode(block.text()))
    tables, start = [], 0
    for table in block.tables:
        rows, columns = table["rows"], table["columns"]
        count = rows * columns
        found = np.empty((rows, columns))
        for column in range(columns):
            value = 0
            for row in range(rows):
                k = start + column * rows + row
                folded = sum(data[k + plane * count] << (8 * plane) for plane in range(4))
                value += -(folded + 1) // 2 if folded % 2 else folded // 2
                found[row, column] = value * table["step"]
        tables.append(found)
        start += 4 * count
    assert start == len(data)
    return tables


@given(
    st.lists(
        st.lists(st.integers(-(2**30) + 1, 2**30 - 1), min_size=3, max_size=3),
        min_size=1,
        max_size=30,
    )
)
def test_any_table_comes_back(rows: list[list[int]]) -> None:
    block = Block()
    block.add(np.array(rows, dtype=float) * 0.5, 0.5)
    block.add([1.0, -2.0, 3.0], 1.0)
    whole, column = read(block)
    assert (whole == np.array(rows) * 0.5).all()
    assert column.ravel().tolist() == [1.0, -2.0, 3.0]


def test_what_is_given_twice_is_kept_once() -> None:
    block = Block()
    numbers = [block.add([1.0, 2.0], 1.0), block.add([1.0, 3.0], 1.0), block.add([1.0, 2.0], 1.0)]
    assert numbers == [0, 1, 0]
    assert len(block.tables) == 2


def packed(pane: Pane) -> tuple[Any, np.ndarray, np.ndarray, np.ndarray]:
    """The motion, and what a page would read of it: times, places, turns of the kept rows."""
    moved = motion_of(pane)
    kept, block = kept_rows(moved), Block()
    block.add(moved.times[kept], 1e-4)
    block.add(moved.places[kept].reshape(len(kept), -1), PLACE_STEP)
    block.add(moved.turns[kept].reshape(len(kept), -1), TURN_STEP)
    times, places, turns = read(block)
    links = len(moved.links)
    return moved, times[:, 0], places.reshape(-1, links, 3), turns.reshape(-1, links, 4)


def worst(pane: Pane, times: np.ndarray) -> tuple[float, float]:
    """[m], [deg] the furthest that any link is from where the film has it, at some times."""
    assert pane.scene is not None
    moved, kept, places, turns = packed(pane)
    assert moved.links[-1] == FOLLOWED
    off, turned = 0.0, 0.0
    for k in range(len(moved.links) - 1):
        shown = np.stack([np.interp(times, kept, places[:, k, axis]) for axis in range(3)], axis=1)
        heads = Slerp(kept, Rotation.from_quat(turns[:, k]))(times)
        for row, time in enumerate(times):
            rotations, points = pane.scene.poses(float(time))
            off = max(off, float(np.linalg.norm(shown[row] - points[k])))
            apart = (heads[row].inv() * Rotation.from_matrix(rotations[k])).magnitude()
            turned = max(turned, degrees(float(apart)))
    return off, turned


def test_a_run_is_where_the_film_has_it(runs: list[Record]) -> None:
    """Over a stone and over onto its side; at rows, and at times between them."""
    for record in runs:
        pane = build_pane(record, "run")
        times = np.random.default_rng(3).uniform(0.0, pane.end, 150)
        off, turned = worst(pane, np.append(times, record.columns["t_s"][::7]))
        assert off <= PLACE and turned <= TURN


@pytest.mark.parametrize("name", ["bank-rough", "turn-downhill"])
def test_every_row_of_other_runs_is_near_enough(name: str) -> None:
    record = simulate(case_of("sorrel", name, ["ground.downhill=left"]), "compiled")
    off, turned = worst(build_pane(record, "run"), record.columns["t_s"][::11])
    assert off <= PLACE and turned <= TURN


def test_rows_are_left_out_where_little_happens() -> None:
    """300 rows of a steady drive: few are kept, the ends among them."""
    moved = motion_of(build_pane(posed(case_of("bramble", "bank-plain"), [0.0] * 300), "still"))
    kept = kept_rows(moved)
    assert kept[0] == 0 and kept[-1] == 299
    assert len(kept) < 45


def test_a_jerk_of_one_row_is_kept() -> None:
    rolls = [0.0] * 100
    rolls[50] = 0.01
    moved = motion_of(build_pane(posed(case_of("bramble", "bank-plain"), rolls), "jerk"))
    assert {49, 50, 51} <= set(kept_rows(moved).tolist())
    assert moved.times[-1] == pytest.approx(0.99, abs=ROUNDING)


def test_the_roll_gauge_reads_as_in_the_film(runs: list[Record]) -> None:
    for record in runs:
        pane = build_pane(record, "run")
        assert pane.scene is not None
        shown = rolls(motion_of(pane), pane.downhill)
        for row in range(0, len(shown), 29):
            film = degrees(pane.scene.roll(float(record.columns["t_s"][row])))
            assert shown[row] == pytest.approx(film, abs=1e-6)
