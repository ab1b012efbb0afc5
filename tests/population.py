"""Random but reproducible cases for the tests that compare engines, steps and sides."""

from dataclasses import replace

import numpy as np

from sidehill.case import Case
from sidehill.files.library import shipped
from sidehill.machine.file import load_machine
from sidehill.machine.outfit import Outfit
from sidehill.scenario.file import load_scenario

# every shipped one, the lightest first
MACHINES = tuple(sorted(shipped("machine"), key=lambda name: load_machine(name).weighed.mass))
RATED = {name: load_machine(name).loader.rated_load for name in MACHINES}


def random_cases(count: int, seed: int = 11) -> list[Case]:
    """Cases over machine, width, slope, speed, bump or hole, load and bucket height."""
    rng = np.random.default_rng(seed)
    return [_random_case(rng) for _ in range(count)]


def _random_case(rng: np.random.Generator) -> Case:
    name = MACHINES[rng.integers(len(MACHINES))]
    outfit = Outfit(
        rear_spacer=f"{rng.uniform(0, 150):.3f} mm",
        front_spacer=f"{rng.uniform(0, 100):.3f} mm",
        bucket_load=f"{rng.uniform(0, RATED[name]):.3f} kg",
        bucket_height=("carry", "full")[rng.integers(2)],
    )
    base = ("bank-stone", "bank-rut")[rng.integers(2)]
    scenario = load_scenario(base).with_values(
        {
            "ground.slope": np.radians(rng.uniform(1.0, 16.0)),
            "ground.downhill": ("right", "left")[rng.integers(2)],
            "drive.speed": rng.uniform(0.4, 2.2),
            "feature.1.height": rng.uniform(0.02, 0.14),
            "feature.1.length": rng.uniform(0.4, 1.5),
        }
    )
    return Case(load_machine(name), scenario, outfit)


def any_cases(count: int, seed: int) -> list[Case]:
    """Cases over every shipped course, from wet to dry, on slopes up to 30 deg, at a 2 ms step."""
    rng = np.random.default_rng(seed)
    courses = [name for name in shipped("scenario") if name != "tilt-table"]
    return [_any_case(rng, courses) for _ in range(count)]


def _any_case(rng: np.random.Generator, courses: list[str]) -> Case:
    name = MACHINES[rng.integers(len(MACHINES))]
    outfit = Outfit(
        rear_spacer=f"{rng.uniform(0, 150):.3f} mm",
        bucket_load=f"{rng.uniform(0, RATED[name]):.3f} kg",
        bucket_height=("carry", "full")[rng.integers(2)],
    )
    scenario = load_scenario(courses[rng.integers(len(courses))]).with_values(
        {
            "ground.slope": np.radians(rng.uniform(1.0, 30.0)),
            "ground.friction": rng.uniform(0.2, 0.9),
            "drive.speed": rng.uniform(0.3, 2.5),
            "drive.four_wheel": bool(rng.integers(2)),
            "drive.differential": ("open", "locked")[rng.integers(2)],
            "run.step": 2e-3,
        }
    )
    return Case(load_machine(name), scenario, outfit)


def turned(case: Case, degrees: float) -> Case:
    """The same case on a slope turned by a little."""
    return case.with_slope(case.scenario.ground.slope + np.radians(degrees))


def with_step(case: Case, step: float) -> Case:
    """The same case at another time step [s]."""
    return replace(case, scenario=case.scenario.with_values({"run.step": step}))
