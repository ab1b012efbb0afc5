"""Ballast sits where the machine's file says: weighed as a whole, by moments of the test's own."""

import numpy as np
import pytest
from population import MACHINES

from sidehill.machine.build import fit
from sidehill.machine.file import load_machine
from sidehill.machine.fitted import Part
from sidehill.machine.outfit import Outfit

MASS = 120.0  # [kg]
PLACES = {"rear_ballast": "rear_box", "front_weight": "front"}


def moments(parts: list[Part]) -> np.ndarray:
    """(4,) mass [kg] and its first moments [kg m]."""
    return np.sum([part.mass * np.array([1.0, *part.cg]) for part in parts], axis=0)


@pytest.mark.parametrize("kind", PLACES)
@pytest.mark.parametrize("name", MACHINES)
def test_it_moves_the_whole_by_its_own_moment(name: str, kind: str) -> None:
    machine = load_machine(name)
    forward, high = getattr(machine.ballast, PLACES[kind])
    bare = moments(list(fit(machine, Outfit()).parts))
    added = moments(list(fit(machine, Outfit(**{kind: f"{MASS} kg"})).parts)) - bare
    assert added == pytest.approx(MASS * np.array([1.0, forward, 0.0, high]), abs=1e-9)
