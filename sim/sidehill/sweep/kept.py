"""Records that are kept: what was run once is read from then on."""

from collections.abc import Callable, Mapping
from pathlib import Path

from sidehill.case import Case
from sidehill.files.errors import InputError
from sidehill.run.record import Record, load_record, save_record, simulate


def kept_records(
    cases: Mapping[str, Case], engine: str, folder: Path, say: Callable[[str], None]
) -> list[Record]:
    """The record of every named case, in order: read where the folder holds it, else run and kept.

    A record is known by its case's key and its engine; one that cannot be read is run again.

    Args:
        engine: a name of `engines.NAMES`, not "auto"; say: told what is being driven.

    Raises:
        SidehillError: a case cannot be run, or the folder cannot be written.
    """
    records = []
    for name, case in cases.items():
        key = case.key()
        path = folder / f"{key}-{engine}.parquet"
        record = _read(path)
        if record is None or record.meta["key"] != key:
            say(f"driving {name} in {engine}")
            record = simulate(case, engine)
            save_record(record, path)
        records.append(record)
    return records


def _read(path: Path) -> Record | None:
    """The record at a path; None where there is none, or none that can be read."""
    try:
        return load_record(path)
    except InputError:
        return None
