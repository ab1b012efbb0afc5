"""What a replay tells of a run, read from its record: the one place that knows its words."""

from dataclasses import dataclass

import numpy as np

from sidehill.film.pane import Pane
from sidehill.film.recorded import Recorded
from sidehill.film.render.shapes import Array
from sidehill.machine.linkage import WHEELS
from sidehill.run.outcome import Outcome, Spell


@dataclass(frozen=True)
class Facts:
    """Of one run; columns have the rows of its take. Past 60 deg nothing is followed."""

    outcome: Outcome
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
    return Facts(
        outcome=outcome,
        daylight=np.where(is_up, gaps, 0.0),
        balance=np.where(upright, columns["balance_angle_deg"], 0.0),
        path=np.asarray(columns["path_m"]),
    )
