"""A population of random cases: outfits of the shipped machines over a stone or a rut."""

from math import radians

import numpy as np

from sidehill.case import Case
from sidehill.files.library import shipped
from sidehill.machine.file import load_machine
from sidehill.machine.outfit import Outfit
from sidehill.scenario.file import load_scenario

SEED = 11


def population(count: int, seed: int = SEED) -> list[Case]:
    """Random outfits of the shipped machines over a stone or a rut."""
    rng, names = np.random.default_rng(seed), sorted(shipped("machine"))
    return [_drawn(rng, names) for _ in range(count)]


def _drawn(rng: np.random.Generator, names: list[str]) -> Case:
    machine = load_machine(names[rng.integers(len(names))])
    rated = machine.loader.rated_load if machine.loader is not None else 0.0
    outfit = Outfit(
        rear_spacer=float(rng.uniform(0.0, 0.15)),
        bucket_load=float(rng.uniform(0.0, rated)),
        bucket_height=("carry", "full")[rng.integers(2)],
    )
    course = load_scenario(("bank-stone", "bank-rut")[rng.integers(2)])
    values = {
        "ground.slope": radians(rng.uniform(1.0, 16.0)),
        "drive.speed": float(rng.uniform(0.4, 2.2)),
        "feature.1.height": float(rng.uniform(0.02, 0.14)),
        "feature.1.length": float(rng.uniform(0.4, 1.5)),
    }
    return Case(machine, course.with_values(values), outfit)
