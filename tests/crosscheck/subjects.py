"""Machines to crosscheck, and files that lack something."""

import re
from pathlib import Path

from population import MACHINES, RATED

from sidehill.files.library import find
from sidehill.machine.outfit import Outfit
from sidehill.spread.subject import Subject, load_subject

LOADED = {
    name: Outfit(bucket_load=f"{0.6 * RATED[name]} kg", bucket_height="full") for name in MACHINES
}
BARE = {name: Outfit() for name in MACHINES}
ALL = [(name, outfits[name]) for name in MACHINES for outfits in (BARE, LOADED)]
IDS = [f"{name} {load}" for name in MACHINES for load in ("bare", "loaded")]


def loaded(name: str) -> Subject:
    return load_subject(name, LOADED[name])


def without(name: str, folder: Path, *fields: str) -> Path:
    """A copy of a shipped machine's file with some fields taken out."""
    text = find("machine", name).read_text(encoding="utf-8")
    for field in fields:
        table, key = field.split(".")
        text, count = re.subn(
            rf"(\[{table}\][^\[]*?\n){key} =[^\n]*\n", r"\1", text, flags=re.DOTALL
        )
        assert count == 1, field
    path = folder / f"{name}-without.toml"
    path.write_text(text, encoding="utf-8")
    return path
