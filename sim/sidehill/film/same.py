"""Whether records that are shown together are of one scenario, and where they are not."""

from collections.abc import Mapping, Sequence
from typing import Any

from sidehill.files.errors import InputError
from sidehill.film.recorded import Recorded, look_up

MOST = 4  # differences that a caption can tell
UNSEEN = ("title", "teaches", "run")  # parts of a scenario that no picture shows


def differences(records: Sequence[Recorded]) -> list[str]:
    """Dotted scenario fields, and the machine, in which records differ; none if they agree.

    Raises:
        InputError: a tilt table beside a course, which have no clock in common; or so many
            differences that a film would compare nothing.
    """
    scenarios = [look_up(record, "case", "scenario") for record in records]
    tables = {scenario["course"]["path"] == "tilt table" for scenario in scenarios}
    if len(tables) > 1:
        raise InputError(
            "a tilt table and a course side by side: their clocks have nothing in common; "
            "show them apart"
        )
    machines = [{"machine": look_up(record, "case", "machine", "name")} for record in records]
    flat = [m | dict(leaves(s)) for m, s in zip(machines, scenarios, strict=True)]
    names = dict.fromkeys(name for item in flat for name in item)
    differing = [
        name
        for name in names
        if name.split(".")[0] not in UNSEEN and len({repr(item.get(name)) for item in flat}) > 1
    ]
    if len(differing) > MOST:
        raise InputError(
            f"records of different scenarios: they differ in {', '.join(differing[:MOST])} and "
            f"{len(differing) - MOST} more fields; side by side up to {MOST} can be compared"
        )
    return differing


def leaves(value: Any, name: str = "") -> list[tuple[str, Any]]:
    """Dotted names and plain values inside tables and lists; items of a list count from 1."""
    if isinstance(value, Mapping):
        items = [(str(key), item) for key, item in value.items()]
    elif isinstance(value, list | tuple):
        items = [(str(place + 1), item) for place, item in enumerate(value)]
    else:
        return [(name, value)]
    return [leaf for key, item in items for leaf in leaves(item, f"{name}.{key}".lstrip("."))]
