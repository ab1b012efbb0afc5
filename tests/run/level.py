"""A machine parked on level ground, and what it is looked at with."""

from sidehill.case import Case, Settings
from sidehill.flat import Flat, flatten
from sidehill.machine.file import load_machine
from sidehill.machine.outfit import Outfit
from sidehill.scenario.file import load_scenario

STEP = 1e-3  # [s]


def level(name: str, settings: Settings | None = None) -> Flat:
    """A machine parked on level ground."""
    scenario = load_scenario("bank-plain").with_values(
        {"ground.slope": 0.0, "drive.speed": 0.0, "ground.friction": 1.2}
    )
    return flatten(Case(load_machine(name), scenario, Outfit(), settings or Settings()))
