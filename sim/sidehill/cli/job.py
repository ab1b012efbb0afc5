"""One case as asked for on the command line, checked before anything is computed."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from sidehill.advice.warnings import case_warnings
from sidehill.case import Case
from sidehill.engines import choose
from sidehill.files.spec import defaults_used
from sidehill.machine.build import fit
from sidehill.machine.file import load_machine
from sidehill.machine.fitted import Fitted
from sidehill.machine.outfit import Outfit
from sidehill.scenario.file import load_scenario


@dataclass(frozen=True)
class Job:
    """A case, the machine in its outfit, and the engine that is to run it."""

    case: Case
    fitted: Fitted
    engine: str

    @property
    def warnings(self) -> tuple[str, ...]:
        """What is past a rating or a rule where the case stands, and what else must be told."""
        return case_warnings(self.case)

    @property
    def defaults(self) -> list[str]:
        """Every field left to a default."""
        return defaults_used(self.case.scenario, self.case.machine, self.case.outfit)

    def to_dict(self) -> dict[str, Any]:
        """What every JSON answer tells of it."""
        return {
            "engine": self.engine,
            "case": self.case.key(),
            "notes": list(self.fitted.notes),
            "defaults": self.defaults,
        }


def read_job(
    machine: str, scenario: str, changes: Sequence[str] | None, outfit: Outfit, engine: str
) -> Job:
    """The case of a command line.

    Raises:
        InputError: a file, field or option that cannot be used.
        EngineError: the engine is not installed here.
    """
    case = Case(load_machine(machine), load_scenario(scenario, changes or ()), outfit)
    fitted = fit(case.machine, outfit, case.scenario.ground.downhill)
    return Job(case, fitted, choose(engine))
