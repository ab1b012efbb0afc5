"""What a replay tells of a run, read from its record: the one place that knows its words."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sidehill.film.pane import Pane
from sidehill.film.recorded import Recorded
from sidehill.film.render.shapes import Array
from sidehill.film.take import Take
from sidehill.machine.linkage import WHEELS
from sidehill.run.outcome import Outcome, Spell

TOUCHING = np.radians(0.1)  # the axle this near to its stop is on it
HUNG = ("on_stop", "overturned")  # what a machine that came onto its stop is called
REAR = ((2, 0), (3, 1))  # rear wheels and the front ones before them


@dataclass(frozen=True)
class Facts:
    """Of one run; columns have the rows of its take. Past 60 deg nothing is followed."""

    outcome: Outcome
    on_stop: tuple[tuple[float, float], ...]  # [s] from and to
    daylight: Array  # (n, wheels) [m], 0 while a wheel is loaded
    balance: Array  # (n,) [deg]
    path: Array  # (n,) [m] along the course

    @property
    def spells(self) -> tuple[Spell, ...]:
        """Those with a wheel up, in order of their start."""
        return tuple(sorted(self.outcome.spells, key=lambda spell: spell.start_s))


def read_facts(record: Recorded, pane: Pane) -> Facts:
    """The facts of a run that has rows."""
    assert pane.scene is not None
    take, outcome, columns = pane.scene.take, pane.outcome, record.columns
    upright = take.times <= (pane.over[1] if pane.over else np.inf)
    gaps = np.stack([columns[f"daylight_{wheel}_m"] for wheel in WHEELS], axis=1)
    is_up = (take.loads <= 0.0) & upright[:, None]
    stops = stretches(on_its_stop(take, pane.swing) & upright, take.times)
    return Facts(
        outcome=outcome,
        on_stop=tuple(stops) if pane.table or outcome.stability in HUNG else (),
        daylight=np.where(is_up, gaps, 0.0),
        balance=np.where(upright, columns["balance_angle_deg"], 0.0),
        path=np.asarray(columns["path_m"]),
    )


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
