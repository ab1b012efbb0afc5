"""One run as the page takes it: plain values, and tables of the block."""

from dataclasses import dataclass
from typing import Any

import numpy as np
from scipy.spatial.transform import Rotation

from sidehill.film.events import wheel_size
from sidehill.film.pane import Pane
from sidehill.film.recorded import Recorded
from sidehill.film.render.hillside import Bank
from sidehill.film.render.scenery import BANK
from sidehill.film.render.shapes import Array
from sidehill.film.speech import result_words, wheel_word
from sidehill.kernels.monitor import tilted
from sidehill.machine.linkage import WHEELS
from sidehill.replay import telling
from sidehill.replay.block import Block
from sidehill.replay.facts import Facts, read_facts
from sidehill.replay.meshes import meshes
from sidehill.replay.motion import FOLLOWED, PLACE_STEP, TURN_STEP, Motion, kept_rows, motion_of

TIME_STEP, ANGLE_STEP, PATH_STEP = 1e-4, 0.01, 0.001  # [s], [deg], [m]
LOAD_STEP, GAP_STEP = 1.0, 0.001  # [N], [m]


@dataclass(frozen=True)
class Run:
    """One run of a replay. Without facts there was nothing to draw."""

    pane: Pane
    facts: Facts | None
    moments: list[telling.Moment]


def read_run(record: Recorded, pane: Pane) -> Run:
    """A record with what is told of it."""
    if pane.scene is None:
        return Run(pane, None, [])
    facts = read_facts(record, pane)
    return Run(pane, facts, telling.moments(pane, facts))


def packed(run: Run, block: Block) -> dict[str, Any]:
    """The run for the page."""
    pane, facts = run.pane, run.facts
    words = telling.words_of_film()
    if facts is None or pane.scene is None:
        return {"title": pane.title, "drawn": False, "said": result_words(pane, words)}
    moved = motion_of(pane)
    return {
        "title": pane.title,
        "drawn": True,
        "end": pane.end,
        "downhill": pane.downhill,
        "overAt": None if pane.over is None else pane.over[1],
        "swing": float(np.degrees(pane.swing)),
        "weight": float(max(pane.scene.take.loads[0].sum(), 1.0)),
        "wheels": [wheel_word(pane, wheel, words) for wheel in range(len(WHEELS))],
        "tyres": tyres(pane),
        "badges": telling.badges(facts.outcome),
        "states": telling.states(pane, facts),
        "always": telling.always(pane),
        "moments": [{"name": m.name, "time": m.time} for m in run.moments],
        "bands": telling.bands(pane, facts),
        "meshes": meshes(pane.scene.model, block),
        "bank": None if pane.scene.bank is None else bank(pane.scene.bank),
        "motion": motion(moved, block),
        "traces": traces(pane, facts, rolls(moved, pane.downhill), block),
    }


def motion(moved: Motion, block: Block) -> dict[str, Any]:
    """Times, places and turns of the rows that are kept."""
    kept = kept_rows(moved)
    return {
        "links": list(moved.links),
        "followed": moved.links.index(FOLLOWED),
        "hill": moved.links.index(BANK),
        "times": block.add(moved.times[kept], TIME_STEP),
        "places": block.add(moved.places[kept].reshape(len(kept), -1), PLACE_STEP),
        "turns": block.add(moved.turns[kept].reshape(len(kept), -1), TURN_STEP),
    }


def rolls(moved: Motion, downhill: float) -> Array:
    """(n,) [deg] of the body to level, positive toward the side that is downhill at the start."""
    turns = Rotation.from_quat(moved.turns[:, moved.links.index("chassis")]).as_matrix()
    return np.degrees([downhill * tilted(turn[2, 1], turn[2, 2]) for turn in turns])


def traces(pane: Pane, facts: Facts, level: Array, block: Block) -> dict[str, Any]:
    """What is drawn over time and read at the cursor, at every row of the record.

    Loads and gaps are rounded up, so that a wheel reads 0 only where it carries nothing; balance
    is rounded down.
    """
    assert pane.scene is not None
    take = pane.scene.take
    return {
        "times": block.add(take.times, TIME_STEP),
        "roll": block.add(np.degrees(take.roll), ANGLE_STEP),
        "level": block.add(level, ANGLE_STEP),
        "pin": block.add(np.degrees(take.pin), ANGLE_STEP),
        "loads": block.add(np.ceil(take.loads / LOAD_STEP) * LOAD_STEP, LOAD_STEP),
        "daylight": block.add(np.ceil(facts.daylight / GAP_STEP) * GAP_STEP, GAP_STEP),
        "path": block.add(facts.path, PATH_STEP),
        "balance": block.add(np.floor(facts.balance / ANGLE_STEP) * ANGLE_STEP, ANGLE_STEP),
    }


def tyres(pane: Pane) -> list[list[float]]:
    """Radius and half width [m] of every wheel as drawn."""
    assert pane.scene is not None
    model = pane.scene.model
    return [[round(size, 4) for size in wheel_size(model, wheel)] for wheel in range(len(WHEELS))]


def bank(shape: Bank) -> dict[str, list[float]]:
    """The profile of the ground, to keep an eye above it."""
    return {
        "uphill": shape.uphill.round(6).tolist(),
        "up": shape.up.round(3).tolist(),
        "rise": shape.rise.round(3).tolist(),
    }
