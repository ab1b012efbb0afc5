"""What a film asks of a record. Stated here, so that drawing needs nothing of running."""

from collections.abc import Mapping
from typing import Any, Protocol

import numpy as np
from numpy.typing import NDArray

from sidehill.files.errors import InputError
from sidehill.run.outcome import Outcome


class Recorded(Protocol):
    """A `sidehill.run.record.Record`, or anything with its columns and meta."""

    @property
    def columns(self) -> Mapping[str, NDArray[np.float64]]:
        """Columns over time, each (n,) and named with its unit."""

    @property
    def meta(self) -> Mapping[str, Any]:
        """The case, the URDF text, the ground's features, the last state."""

    @property
    def state(self) -> NDArray[np.void]:
        """(1,) last state of the run."""

    @property
    def outcome(self) -> Outcome:
        """What is read off it: the two facts, peaks, spells."""


def name_of(record: Recorded) -> str:
    """How messages call a record."""
    return f"record {record.meta.get('key', 'without a key')}"


def look_up(record: Recorded, *path: str) -> Any:
    """A value inside the record's meta, as `look_up(record, "case", "scenario", "title")`.

    Raises:
        InputError: it is not there.
    """
    value: Any = record.meta
    for key in path:
        if not isinstance(value, Mapping) or key not in value:
            raise InputError(
                f"{name_of(record)}: carries no {'.'.join(path)}; "
                "make it again with `sidehill drive`"
            )
        value = value[key]
    return value
