"""The work of `sidehill picture`: everything checked, then drawn."""

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from sidehill.advice.warnings import case_warnings
from sidehill.case import Case
from sidehill.cli.progress import progress
from sidehill.files.whole import ready_file, write_file
from sidehill.machine.file import load_machine
from sidehill.machine.outfit import Outfit
from sidehill.picture.course import course_picture
from sidehill.picture.style import KINDS
from sidehill.picture.survey import Survey, survey
from sidehill.scenario.file import load_scenario

FOLDER = Path("sidehill-picture")


@dataclass(frozen=True)
class Drawn:
    """What was drawn, and where it is."""

    case: Case
    survey: Survey
    file: Path

    @property
    def warnings(self) -> tuple[str, ...]:
        """What a person must be told of the machine on that ground."""
        return case_warnings(self.case)


def run(
    scenario: str,
    machine: str,
    changes: Sequence[str] | None,
    outfit: Outfit,
    file: Path | None,
    us: bool,
) -> Drawn:
    """Draw a scenario into a file.

    Raises:
        InputError: a file, field or option that cannot be used.
    """
    case = Case(load_machine(machine), load_scenario(scenario, changes or ()), outfit)
    with progress("drawing"):
        seen = survey(case)
        target = ready_file(file or FOLDER / f"{Path(scenario).stem}.png", *KINDS)
        write_file(target, course_picture(seen, KINDS[target.suffix], us=us))
    return Drawn(case, seen, target)
