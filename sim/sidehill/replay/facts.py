"""What a replay tells of a run, read from its record: the one place that knows the record's words.

PROVISIONAL: records of format 2 carry one verdict and no daylight. Until the next format brings
`stability`, `progress`, `why`, `spells`, `balance_angle_deg` and `daylight_<wheel>_m`, they are
made here from the columns. Nothing else in this folder reads an outcome or a state.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sidehill.film.events import lowest
from sidehill.film.pane import Pane
from sidehill.film.recorded import Recorded
from sidehill.film.render.shapes import Array
from sidehill.film.take import Take
from sidehill.kernels.layout import FINISHED, STALLED, TIMED_OUT
from sidehill.kernels.monitor import LIFT_TIME
from sidehill.machine.linkage import WHEELS

TOUCHING = np.radians(0.1)  # the axle this near to its stop is on it
HOP_TIME, HOP_GAP = 0.5, 0.050  # [s], [m]: more of either is no hop
REAR = ((2, 0), (3, 1))  # rear wheels and the front ones before them
UNKNOWN_FACTS = ("failed", "not_started")


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
    balance: Array | None  # (n,) [deg]; None in a record that does not carry it
    peak_roll: float  # [deg] to the slope
    roll: Array  # (n,) [rad] to the slope, positive toward the side downhill at the start
    path: Array  # (n,) [m] along the course


def read_facts(record: Recorded, pane: Pane) -> Facts:
    """The facts of a run that has rows."""
    assert pane.scene is not None
    take = pane.scene.take
    upright = take.times <= (pane.over[1] if pane.over else np.inf)
    daylight = gaps(pane, upright)
    spells = spells_of(take, daylight, upright)
    on_stop = stretches(on_its_stop(take, pane.swing) & upright, take.times)
    balance = record.columns.get("balance_angle_deg")
    return Facts(
        stability=stability(pane, spells, bool(on_stop)),
        progress=progress(record, pane),
        why="",
        spells=spells,
        on_stop=tuple(on_stop),
        daylight=daylight,
        balance=None if balance is None else np.asarray(balance),
        peak_roll=float(np.degrees(np.abs(take.roll[upright]).max())),
        roll=take.roll,
        path=np.asarray(record.columns["path_m"]),
    )


def gaps(pane: Pane, upright: NDArray[np.bool_]) -> Array:
    """(n, wheels) [m] of air under each wheel that carries nothing."""
    assert pane.scene is not None
    take = pane.scene.take
    found = np.zeros(take.loads.shape)
    for row, wheel in np.argwhere((take.loads <= 0.0) & upright[:, None]):
        _, gap = lowest(pane.scene, int(wheel), float(take.times[row]))
        found[row, wheel] = max(gap, 0.0)
    return found


def spells_of(take: Take, daylight: Array, upright: NDArray[np.bool_]) -> tuple[Spell, ...]:
    """Every spell with a wheel up, in order of its start."""
    found = []
    for wheel in range(len(WHEELS)):
        up = (take.loads[:, wheel] <= 0.0) & upright
        for start, end in stretches(up, take.times):
            if end - start > LIFT_TIME:
                during = (take.times >= start) & (take.times <= end)
                still = end >= take.times[upright][-1]
                found.append(Spell(wheel, start, end, still, float(daylight[during, wheel].max())))
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


def stability(pane: Pane, spells: tuple[Spell, ...], stopped: bool) -> str:
    """The worst that the wheels did."""
    if pane.over is not None:
        return "overturned"
    if stopped:
        return "on_stop"
    if any(s.end - s.start > HOP_TIME or s.daylight > HOP_GAP for s in spells):
        return "lifted"
    return "hopped" if spells else "planted"


def progress(record: Recorded, pane: Pane) -> str:
    """Whether it got there."""
    last = record.state[0]
    if last["unsettled"] > 0:
        return "not_started"
    if pane.over is not None:
        return "over"
    if last["slid"] > 0:
        return "slid"
    return {FINISHED: "across", STALLED: "stuck", TIMED_OUT: "cut"}.get(int(last["finish"]), "cut")
