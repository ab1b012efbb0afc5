"""The schemas of the files that people write."""

from typing import Any

from sidehill.files.errors import InputError
from sidehill.files.schema import schema_of
from sidehill.files.spec import Spec
from sidehill.machine.file import Machine
from sidehill.scenario.file import Scenario
from sidehill.study.plan import StudyFile

MODELS: dict[str, type[Spec]] = {"machine": Machine, "scenario": Scenario, "study": StudyFile}


def json_schema(kind: str) -> dict[str, Any]:
    """The JSON Schema of a kind of file.

    Args:
        kind: machine, scenario or study.

    Raises:
        InputError: another kind.
    """
    if kind not in MODELS:
        raise InputError(f'no kind of file "{kind[:40]}"; give {", ".join(MODELS)}')
    return schema_of(MODELS[kind])
