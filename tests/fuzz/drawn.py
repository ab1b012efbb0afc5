"""Cases that mean something else than the shipped ones: sizes, outfits and courses changed."""

import random
import re
from dataclasses import dataclass
from pathlib import Path

import tomlkit

from sidehill.case import Case
from sidehill.files.library import find, shipped
from sidehill.machine.file import load_machine
from sidehill.machine.outfit import Outfit
from sidehill.scenario.file import load_scenario

_NUMBER = re.compile(r"([+-]?[0-9.]+)(.*)")
SIZES = (  # of a machine file, each scaled by itself
    *("weighed.front_axle", "weighed.rear_axle", "weighed.cg_height", "body.wheelbase"),
    *("front_axle.pivot_height", "front_axle.swing", "front_axle.mass", "front_axle.cg_height"),
    *("front_tyre.track", "rear_tyre.track", "front_tyre.diameter", "rear_tyre.diameter"),
    *("front_tyre.width", "rear_tyre.width", "front_tyre.stiffness", "rear_tyre.stiffness"),
    *("drive.max_torque", "drive.brake_torque", "seat.height", "loader.full_height"),
    *("loader.load_reach", "loader.carry_height", "steering.max_angle"),
)
COURSES = tuple(name for name in shipped("scenario") if name != "tilt-table")


@dataclass(frozen=True)
class Drawn:
    """A case as it would be typed: a machine's file, a scenario's name, changes, options."""

    machine: str  # name, or path of a file
    scenario: str
    changes: tuple[str, ...]  # of the scenario, as `--set` takes them
    outfit: dict[str, str]
    done: str  # to the shipped machine

    @property
    def case(self) -> Case:
        """The case.

        Raises:
            InputError: it cannot be.
        """
        scenario = load_scenario(self.scenario, self.changes)
        return Case(load_machine(self.machine), scenario, Outfit(**self.outfit))

    def line(self, command: str, *more: str) -> tuple[str, ...]:
        """The same as a command line."""
        sets = [part for change in self.changes for part in ("--set", change)]
        options = [
            part
            for name, text in self.outfit.items()
            for part in (f"--{name.replace('_', '-')}", text)
        ]
        return (command, self.machine, self.scenario, *sets, *options, *more)


def draw_case(rng: random.Random, folder: Path, number: int) -> Drawn:
    """A machine with up to three sizes changed, in a random outfit, on a random course."""
    name = rng.choice(shipped("machine"))
    machine, done = name, ""
    if rng.random() < 0.75:
        machine = str(folder / f"machine-{number}.toml")
        done = _scaled(rng, name, Path(machine))
    scenario = rng.choice(COURSES)
    changes = [
        f'ground.slope="{rng.uniform(0.0, 34.0):.3f} deg"',
        f"ground.friction={rng.uniform(0.2, 1.0):.3f}",
        f'ground.downhill="{rng.choice(("left", "right"))}"',
        f'drive.speed="{rng.uniform(1.0, 9.0):.2f} km/h"',
        'run.step="2 ms"',
    ]
    if load_machine(name).drive.driven == "four":
        changes.append(f"drive.four_wheel={rng.choice(('true', 'false'))}")
    return Drawn(machine, scenario, tuple(changes), _outfit(rng), done)


def _outfit(rng: random.Random) -> dict[str, str]:
    every = {
        "rear_spacer": f"{rng.uniform(0, 150):.0f} mm",
        "front_spacer": f"{rng.uniform(0, 100):.0f} mm",
        "bucket_load": f"{rng.uniform(0, 300):.0f} kg",
        "bucket_height": rng.choice(("carry", "full")),
        "operator": f"{rng.uniform(40, 130):.0f} kg",
        "rear_fill": f"{rng.uniform(0.0, 1.0):.2f}",
        "rear_ballast": f"{rng.uniform(0, 250):.0f} kg",
        "rear_wheel_weight": f"{rng.uniform(0, 60):.0f} kg",
        "front_axle_swing": f"{rng.uniform(0.0, 8.0):.1f} deg",
        "hung_load": f"{rng.uniform(10, 150):.0f} kg",
    }
    return {name: every[name] for name in every if rng.random() < 0.25}


def _scaled(rng: random.Random, name: str, path: Path) -> str:
    """Write a shipped machine with some sizes scaled; which, and by how much."""
    document = tomlkit.parse(find("machine", name).read_text(encoding="utf-8"))
    done = []
    for size in rng.sample(SIZES, rng.randint(1, 3)):
        table, key = size.split(".")
        factor = rng.choice((0.5, 0.7, 0.85, 0.95, 1.05, 1.15, 1.3, 1.6))
        known = _NUMBER.fullmatch(str(document[table].get(key, "")))  # type: ignore[union-attr]
        if known is None:
            continue
        document[table][key] = f"{factor * float(known[1]):.6g}{known[2]}"  # type: ignore[index]
        done.append(f"{size} x {factor:g}")
    path.write_text(tomlkit.dumps(document), encoding="utf-8")
    return ", ".join((name, *done))
