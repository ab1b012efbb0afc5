"""Where a run takes place, from the case that a record carries."""

from dataclasses import dataclass

import numpy as np

from sidehill.files.spec import build
from sidehill.files.toml import Document
from sidehill.film.recorded import Recorded, look_up, name_of
from sidehill.kernels.height import COLUMNS, Ground
from sidehill.scenario.file import Scenario
from sidehill.terrain.relief import build_relief

DRY, SOAKED = 0.45, 0.22  # friction at and above which grass is drawn dry, and wet


@dataclass(frozen=True)
class Setting:
    """The ground, as far as it is drawn."""

    slope: float  # [rad] across the course at its start; where a tilt table ends
    grade: float  # [rad] along the course, nose up positive
    uphill: float  # +1 if +y is uphill, else -1
    friction: float
    is_table: bool  # a tilt table, not a bank
    relief: Ground  # features and roughness, for `terrain.height`

    @property
    def wet(self) -> float:
        """0 dry, 1 wet grass: how slippery it looks."""
        return float(np.clip((DRY - self.friction) / (DRY - SOAKED), 0.0, 1.0))


def read_setting(record: Recorded) -> Setting:
    """The setting of a record.

    Raises:
        InputError: the record does not say.
    """
    ground = ("case", "scenario", "ground")
    return Setting(
        slope=float(look_up(record, *ground, "slope")),
        grade=float(look_up(record, *ground, "grade")),
        uphill=1.0 if look_up(record, *ground, "downhill") == "right" else -1.0,
        friction=float(look_up(record, *ground, "friction")),
        is_table=look_up(record, "case", "scenario", "course", "path") == "tilt table",
        relief=read_relief(record),
    )


def read_relief(record: Recorded) -> Ground:
    """Features as recorded; roughness made again from its seed, or heights, as in the run."""
    features = np.array(look_up(record, "features"), dtype=float).reshape(-1, COLUMNS)
    document = Document(name_of(record), dict(look_up(record, "case", "scenario")))
    return Ground(features, *build_relief(build(Scenario, document, si=True)))
