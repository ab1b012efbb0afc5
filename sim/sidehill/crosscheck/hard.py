"""Compliant statics of a machine on thin tyres that hardly give, carried on to none at all."""

from math import degrees

import numpy as np

from sidehill.case import Case, Settings
from sidehill.flat import flatten
from sidehill.machine.file import Machine
from sidehill.machine.outfit import Outfit
from sidehill.rest import rest_slopes
from sidehill.run.table import table_scenario
from sidehill.statics.vector import Array

_STIFFNESS = 1e7  # [N/m]
_STOP = 1e8  # [N m/rad] a stop that gives adds to the swing
_THIN = Settings(discs=1, lateral_ratio=3.0)


def rest_slopes_on_hard_tyres(machine: Machine, outfit: Outfit) -> tuple[float, float]:
    """Lift-off and second-stage slope [deg].

    What tyres of half the stiffness add is what is left of the give: it is in proportion to it.
    """
    hard, half = (_slopes(machine, outfit, k) for k in (_STIFFNESS, _STIFFNESS / 2))
    lift_off, second_stage = 2 * hard - half
    return degrees(lift_off), degrees(second_stage)


def _slopes(machine: Machine, outfit: Outfit, stiffness: float) -> Array:
    """(2,) [rad] lift-off and second stage."""
    tyres = {"front_tyre.stiffness": stiffness, "rear_tyre.stiffness": stiffness}
    flat = flatten(Case(machine.with_values(tyres), table_scenario(), outfit, _THIN))
    flat.case["stop_stiffness"] = _STOP
    found = rest_slopes(flat)
    return np.array([found.lift_off, found.second_stage])
