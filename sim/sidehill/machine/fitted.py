"""The machine as fitted: every part with its mass, place and inertia."""

from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from sidehill.machine.file import Machine
from sidehill.machine.notes import notes
from sidehill.machine.outfit import Outfit

Array = NDArray[np.float64]


@dataclass(frozen=True)
class Part:
    """One rigid lump. Machine frame: x forward, y left, z up, origin on the ground
    below the rear axle centre, machine level, loader arm in its fitted pose."""

    name: str
    link: str  # the link it rides on, see `linkage.LINKS`
    mass: float  # [kg]
    cg: Array  # (3,) [m] machine frame
    inertia: Array  # (3, 3) [kg m^2] about its own CG, machine axes


@dataclass(frozen=True)
class Fitted:
    """A machine in an outfit, plain SI."""

    machine: Machine
    outfit: Outfit
    parts: tuple[Part, ...]
    front_track: float  # [m] centre to centre, spacers included
    rear_track: float  # [m] centre to centre, spacers included
    swing: float  # [rad] front axle, each way
    arm_angle: float  # [rad] loader arm above horizontal; 0 without a loader
    warnings: tuple[str, ...]  # allowed, but a person must be told

    @cached_property
    def notes(self) -> tuple[str, ...]:
        """The defaults that were used and the estimates that were made."""
        return notes(self.machine, self.outfit)

    def part(self, name: str) -> Part:
        """The part of that name.

        Raises:
            KeyError: no such part in this outfit.
        """
        for part in self.parts:
            if part.name == name:
                return part
        raise KeyError(name)

    @cached_property
    def mass(self) -> float:
        """[kg] everything on the wheels."""
        return sum(part.mass for part in self.parts)

    @cached_property
    def cg(self) -> Array:
        """(3,) [m] CG of everything, machine frame."""
        masses = np.array([part.mass for part in self.parts])
        places = np.array([part.cg for part in self.parts])
        return np.asarray((masses[:, None] * places).sum(axis=0) / self.mass)
