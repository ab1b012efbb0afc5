"""Machines that tests build from shipped and published ones."""

from pathlib import Path
from typing import Any

from sidehill.files import toml
from sidehill.files.library import find
from sidehill.files.spec import build
from sidehill.machine.file import Machine

DATA = Path(__file__).parent / "data"
CODE6 = DATA / "code6.toml"


def without(name: str, *tables: str, **changes: dict[str, Any]) -> Machine:
    """A shipped machine with tables taken out of its file, and keys of others changed."""
    document = toml.read(find("machine", name))
    for table in tables:
        del document.data[table]
    for table, values in changes.items():
        document.data[table].update(values)
    return build(Machine, document)
