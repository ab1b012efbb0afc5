"""What a replay tells of a run, read from its record: the one place that knows the record's words.

Nothing else in this folder reads an outcome or a state.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sidehill.film.pane import Pane
from sidehill.film.recorded import Recorded
from sidehill.film.render.shapes import Array
from sidehill.film.take import Take
from sidehill.machine.linkage import WHEELS
from sidehill.run.outcome import Outcome

TOUCHING = np.radians(0.1)  # the axle this near to its stop is on it
REAR = ((2, 0), (3, 1))  # rear wheels and the front ones before them
UNKNOWN = "not computed"


@dataclass(frozen=True)
class Spell:
    """One wheel that carries nothing for a while."""

    wheel: int  # place in WHEELS
    start: float  # [s]
    end: float  # [s]
    still_up: bool
    daylight: float  # [m] the most under it


@dataclass(frozen=True)
class Facts:
    """Of one run; columns have the rows of its take."""

    stability: str
    progress: str
    why: str
    spells: tuple[Spell, ...]
    on_stop: tuple[tuple[float, float], ...]  # [s] from and to
    daylight: Array  # (n, wheels) [m], 0 while a wheel is loaded
    balance: Array  # (n,) [deg]
    peak_roll: float  # [deg] to the slope
    roll: Array  # (n,) [rad] to the slope, positive toward the side downhill at the start
    path: Array  # (n,) [m] along the course


def read_facts(record: Recorded, pane: Pane) -> Facts:
    """The facts of a run that has rows."""
    assert pane.scene is not None
    take = pane.scene.take
    upright = take.times <= (pane.over[1] if pane.over else np.inf)
    daylight = np.stack([record.columns[f"daylight_{wheel}_m"] for wheel in WHEELS], axis=1)
    spells = spells_of(pane.outcome)
    on_stop = stretches(on_its_stop(take, pane.swing) & upright, take.times)
    return Facts(
        stability=pane.outcome.stability or UNKNOWN,
        progress=pane.outcome.progress or UNKNOWN,
        why=pane.outcome.why,
        spells=spells,
        on_stop=tuple(on_stop),
        daylight=daylight,
        balance=np.asarray(record.columns["balance_angle_deg"]),
        peak_roll=float(np.degrees(np.abs(take.roll[upright]).max())),
        roll=take.roll,
        path=np.asarray(record.columns["path_m"]),
    )


def spells_of(outcome: Outcome) -> tuple[Spell, ...]:
    """Every spell with a wheel up, in order of its start."""
    found = (
        Spell(WHEELS.index(s.wheel), s.start_s, s.end_s, s.still_up, s.daylight_m)
        for s in outcome.spells
    )
    return tuple(sorted(found, key=lambda spell: (spell.start, spell.wheel)))


def stretches(flags: NDArray[np.bool_], times: Array) -> list[tuple[float, float]]:
    """[s] first and last time of every unbroken row of flags."""
    edges = np.flatnonzero(np.diff(np.concatenate([[False], flags, [False]])))
    return [(float(times[a]), float(times[b - 1])) for a, b in edges.reshape(-1, 2)]


def on_its_stop(take: Take, swing: float) -> NDArray[np.bool_]:
    """(n,) a rear wheel is up and the pin at its stop on the side the body rolled away to.

    The axle lags behind a body that leans to the right: its pin is then turned to the negative.
    """
    up = take.loads <= 0.0
    found = np.zeros(len(take.times), dtype=bool)
    for (rear, front), side in zip(REAR, (-1.0, 1.0), strict=True):
        stopped = up[:, front] if swing < TOUCHING else side * take.pin >= swing - TOUCHING
        found |= up[:, rear] & stopped
    return found
