"""A case as flat arrays: what an engine and the kernels run on."""

from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np
from scipy.spatial.transform import Rotation

from sidehill.case import Case
from sidehill.flat.discs import discs_notes
from sidehill.flat.hung import hang
from sidehill.flat.mechanism import mechanism
from sidehill.flat.points import contact_points
from sidehill.flat.suits import features_end, overlap_notes, refuse_features, refuse_misfits
from sidehill.flat.values import case_values
from sidehill.kernels.fall import LONGEST
from sidehill.kernels.height import Ground
from sidehill.kernels.layout import ROW, STATE, Records, Vector, blank
from sidehill.machine.fitted import Fitted
from sidehill.machine.linkage import Link
from sidehill.terrain.build import build_ground
from sidehill.urdf import generate


@dataclass(frozen=True)
class Flat:
    """Everything a run needs, as arrays and one URDF text."""

    case: Records  # (1,) CASE
    model: Records  # (1,) MODEL
    ground: Ground
    points: Vector  # (n, 5) what meets the ground in a fall; none unless asked for
    links: tuple[Link, ...]
    moving: tuple[str, ...]  # link names of the bodies, in order
    fitted: Fitted
    source: Case  # what it was made from

    @cached_property
    def notes(self) -> tuple[str, ...]:
        """Defaults, estimates and what lies where."""
        return (
            *self.fitted.notes,
            *overlap_notes(self.source, self.fitted),
            *discs_notes(self.source),
        )

    @cached_property
    def bare_urdf(self) -> str:
        """URDF text without pictures, for the engines."""
        return generate(self.fitted, self.links, visuals=False)

    @cached_property
    def urdf(self) -> str:
        """URDF text with pictures."""
        return generate(self.fitted, self.links)

    def start(self) -> Records:
        """(1,) state: level, at rest, standing on its tyres at the start of the course.

        It heads as far uphill as its tyres' slip will need on the slope.
        """
        case, state = self.case[0], blank(STATE)
        sink = case["level_load"] / case["stiffness"]
        nose_down = (sink[:2].mean() - sink[2:].mean()) / case["wheelbase"]
        values = state[0]
        values["position"][2] = -sink[2:].mean()
        heading = Rotation.from_euler("ZY", [case["crab"], nose_down])
        values["quaternion"][:] = heading.as_quat()
        values["steer"] = values["steer_target"] = case["crab_steer"]
        values["joint"][:] = self.model["angle"][0]
        hang(values, case, self.fitted, heading.as_matrix())
        return state

    def rows(self) -> Records:
        """(capacity,) empty record rows."""
        case = self.case[0]
        longest = max(case["most_steps"] + case["extra_steps"], case["settle_most"] / case["step"])
        longest += LONGEST / case["step"]
        return blank(ROW, int(longest // case["row_steps"]) + 3)


def flatten(case: Case, falls: bool = False) -> Flat:
    """The arrays of a case.

    Args:
        falls: a fall may be followed to the ground, so that contact points are needed.

    Raises:
        InputError: the outfit does not suit the machine, or the course the outfit.
    """
    machine, outfit = case.machine, case.outfit
    refuse_misfits(case)
    lifts = case.scenario.loader
    heights = tuple(height for _, height in lifts.height) if lifts is not None else ()
    made = mechanism(machine, outfit, case.scenario.ground.downhill, heights)
    fitted = replace(made.fitted, machine=machine, outfit=outfit)
    refuse_features(case, fitted)
    return Flat(
        case=case_values(case, made, features_end(case, fitted)),
        model=made.model.copy(),
        ground=build_ground(case.scenario, fitted),
        points=contact_points(fitted, made.links, made.moving) if falls else np.zeros((0, 5)),
        links=made.links,
        moving=made.moving,
        fitted=fitted,
        source=case,
    )
