"""What a picture needs of a record: plain numbers over time, and poses in between."""

from dataclasses import dataclass

import numpy as np
from scipy.spatial.transform import Rotation

from sidehill.files.errors import InputError
from sidehill.film.recorded import Recorded, name_of
from sidehill.film.render.shapes import Array
from sidehill.machine.linkage import WHEELS

FEWEST = 2  # rows between which something can move
PLACE, TURN = ("x_m", "y_m", "z_m"), ("qx", "qy", "qz", "qw")  # of every link
NEEDED = ("t_s", "slope_deg", "roll_slope_deg", "pin_deg")


@dataclass(frozen=True)
class Take:
    """A record's rows, n of them, in the hillside frame."""

    links: tuple[str, ...]
    times: Array  # (n,) [s] rising
    places: Array  # (n, links, 3) [m]
    turns: Array  # (n, links, 4) unit quaternions x y z w
    loads: Array  # (n, 4) [N] wheels in the order of WHEELS
    gaps: Array  # (n, 4) [m] daylight under them, 0 while loaded
    slope: Array  # (n,) [rad] side slope of the ground
    roll: Array  # (n,) [rad] body to the slope
    pin: Array  # (n,) [rad] front axle to the body

    def place(self, link: str) -> Array:
        """(n, 3) [m] of a link."""
        return self.places[:, self.links.index(link)]

    def at(self, values: Array, time: float) -> Array:
        """A row of values (n, ...) at a time [s], between the rows; the ends hold."""
        i, share = self._between(time)
        return np.asarray(values[i] + share * (values[i + 1] - values[i]))

    def pose(self, time: float) -> tuple[Array, Array]:
        """Rotations (links, 3, 3) and places (links, 3) [m] at a time [s]."""
        i, share = self._between(time)
        return slerp(self.turns[i], self.turns[i + 1], share), self.at(self.places, time)

    def _between(self, time: float) -> tuple[int, float]:
        """The row before a time, and how far on the time is to the next."""
        i = int(np.clip(np.searchsorted(self.times, time, "right") - 1, 0, len(self.times) - 2))
        share = (time - self.times[i]) / (self.times[i + 1] - self.times[i])
        return i, float(np.clip(share, 0.0, 1.0))


def slerp(start: Array, end: Array, share: float) -> Array:
    """(k, 3, 3) rotations a share of the way, at even rate, between quaternions (k, 4)."""
    turn = Rotation.from_quat(start)
    step = (turn.inv() * Rotation.from_quat(end)).as_rotvec()
    return np.asarray((turn * Rotation.from_rotvec(share * step)).as_matrix())


def read_take(record: Recorded, links: tuple[str, ...]) -> Take:
    """The rows of a record for the links that are drawn.

    Raises:
        InputError: a column that is missing, too few rows, or numbers that went bad.
    """
    name, columns = name_of(record), record.columns
    loads = [f"load_{wheel}_n" for wheel in WHEELS]
    gaps = [f"daylight_{wheel}_m" for wheel in WHEELS]
    poses = [f"{link}_{part}" for link in links for part in (*PLACE, *TURN)]
    for column in (*NEEDED, *loads, *gaps, *poses):
        if column not in columns:
            raise InputError(f'{name}: column "{column}" is missing, so it cannot be drawn')
    times = np.asarray(columns["t_s"], dtype=float)
    if len(times) < FEWEST or not (np.diff(times) > 0.0).all():
        raise InputError(f"{name}: {len(times)} rows; a film needs {FEWEST} or more, in time order")
    take = Take(
        links=links,
        times=times,
        places=_stacked(record, links, PLACE),
        turns=_stacked(record, links, TURN),
        loads=np.stack([columns[name] for name in loads], axis=1),
        gaps=np.stack([columns[name] for name in gaps], axis=1),
        slope=np.radians(columns["slope_deg"]),
        roll=np.radians(columns["roll_slope_deg"]),
        pin=np.radians(columns["pin_deg"]),
    )
    for values in (take.places, take.turns, take.loads, take.gaps, take.slope, take.roll):
        if not np.isfinite(values).all():
            raise InputError(f"{name}: holds numbers that are not finite, so it cannot be drawn")
    return take


def _stacked(record: Recorded, links: tuple[str, ...], parts: tuple[str, ...]) -> Array:
    """(n, links, parts) columns of every link."""
    rows = [[record.columns[f"{link}_{part}"] for part in parts] for link in links]
    return np.moveaxis(np.array(rows, dtype=float), 2, 0)
