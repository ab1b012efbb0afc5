"""Stretches of a film in which nothing happens, so that it may run through them quickly."""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray
from scipy.ndimage import maximum_filter1d, minimum_filter1d

from sidehill.film.pane import Pane
from sidehill.film.render.shapes import Array

STEP = 0.05  # [s] at which it is looked
AROUND = 1.0  # [s] before and after anything that happens
LEAST = 3.0  # [s] a shorter stretch is not worth a change of pace
STILL_ROLL = np.radians(0.5)  # a body that rolls by less within `AROUND` does nothing
STILL_PLACE = 0.05  # [m] nor does a bucket that moves by less on its machine
ENDS = 1.5  # [s] of the start and of the end of every run

Spans = tuple[tuple[float, float], ...]


def quiet(panes: Sequence[Pane], end: float) -> Spans:
    """[s] from and to, where no wheel is up, no body rolls and no bucket moves in any pane."""
    times = np.arange(0.0, end + STEP, STEP)
    busy = np.zeros(len(times), dtype=bool)
    for pane in panes:
        busy |= happens(pane, times)
    reach = 2 * round(AROUND / STEP) + 1
    calm = ~(maximum_filter1d(busy.astype(np.uint8), reach) > 0)
    edges = np.flatnonzero(np.diff(np.concatenate([[False], calm, [False]])))
    found = [(float(times[a]), float(times[b - 1])) for a, b in edges.reshape(-1, 2)]
    return tuple(span for span in found if span[1] - span[0] >= LEAST)


def happens(pane: Pane, times: Array) -> NDArray[np.bool_]:
    """(n,) whether a pane has something to be seen at times [s]; once it has ended, nothing."""
    assert pane.scene is not None
    take = pane.scene.take
    up = np.asarray((take.loads <= 0.0).any(axis=1))
    # a short spell may lie between two of the times
    rows = np.searchsorted(take.times, times).clip(0, len(up) - 1)
    counted = np.concatenate([[0], np.cumsum(up)])
    last = np.searchsorted(take.times, times + STEP).clip(0, len(up) - 1)
    lifts = counted[last + 1] > counted[rows]
    rolls = _range(np.interp(times, take.times, take.roll)) > STILL_ROLL
    moves = np.zeros(len(times), dtype=bool)
    if "bucket" in take.links:
        away = np.linalg.norm(take.place("bucket") - take.place("chassis"), axis=1)
        moves = _range(np.interp(times, take.times, away)) > STILL_PLACE
    starts_or_ends = (times < ENDS) | ((times > pane.end - ENDS) & (times < pane.end))
    return np.asarray((lifts | rolls | moves | starts_or_ends) & (times <= pane.end + AROUND))


def _range(values: Array) -> Array:
    """(n,) greatest less least within `AROUND`, half of it on either side."""
    reach = round(AROUND / STEP) + 1
    return np.asarray(maximum_filter1d(values, reach) - minimum_filter1d(values, reach))
