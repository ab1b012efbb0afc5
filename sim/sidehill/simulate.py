"""A case to its record: the one call of the Python API that runs an engine."""

from collections.abc import Callable

from sidehill.case import Case
from sidehill.record import Record, build_record
from sidehill.run import Track, run


def simulate(
    case: Case, engine: str = "auto", watch: Callable[[Track], None] | None = None
) -> Record:
    """Run a case, a fall to its rest included, and keep its history; see `run`."""
    return build_record(case, run(case, engine, watch, to_rest=True))
