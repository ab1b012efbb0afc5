"""What is crosschecked: a machine in an outfit, even if its file lacks some measurements.

A missing measurement is filled in so that the rest can be computed; nothing that depends on it
is: whoever computes asks `lacks` first.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path
from typing import Any

from sidehill.case import Case, Settings
from sidehill.files import toml
from sidehill.files.library import find
from sidehill.files.spec import build
from sidehill.files.units import to_si
from sidehill.machine.build import fit
from sidehill.machine.file import Machine
from sidehill.machine.fitted import Fitted
from sidehill.machine.outfit import Outfit
from sidehill.scenario.file import Scenario
from sidehill.statics.assembly import from_fitted
from sidehill.statics.flaw import flaws
from sidehill.statics.tipping import Tipping

AXLES, TYRES, INERTIA = "axle load", "tyre stiffness", "inertia"  # kinds of measurement

_FILLERS = {  # (table, key) -> kind, and a text that stands in for it
    ("weighed", "front_axle"): (AXLES, "1000 kg"),
    ("weighed", "rear_axle"): (AXLES, "1000 kg"),
    ("front_tyre", "stiffness"): (TYRES, "200 kN/m"),
    ("rear_tyre", "stiffness"): (TYRES, "200 kN/m"),
    ("body", "length"): (INERTIA, "2.6 m"),
    ("body", "width"): (INERTIA, "1.1 m"),
    ("body", "height"): (INERTIA, "1.35 m"),
}
_OVERHANG = 1.0  # [m] a filled-in length is longer than the wheelbase


@dataclass(frozen=True)
class Subject:
    """A machine in an outfit."""

    machine: Machine
    outfit: Outfit
    gaps: Mapping[str, tuple[str, ...]]  # kind of measurement -> fields the file lacks

    @cached_property
    def flaw(self) -> str:
        """Why it does not stand on its wheels even on the level; empty if it does."""
        if AXLES in self.gaps:
            return ""
        return "; ".join(reason for reason, holds in flaws(self.tipping).items() if holds)

    def lacks(self, *kinds: str) -> str | None:
        """Why something that needs these measurements cannot be computed; None if it can."""
        if self.flaw:
            return self.flaw
        missing = [field for kind in kinds for field in self.gaps.get(kind, ())]
        if not missing:
            return None
        verb = "is" if len(missing) == 1 else "are"
        return f"{', '.join(missing)} {verb} missing from {self.machine.file}"

    @property
    def fitted(self) -> Fitted:
        """Its parts, right side downhill."""
        return fit(self.machine, self.outfit)

    @property
    def tipping(self) -> Tipping:
        """Its lumps, right side downhill."""
        return from_fitted(self.fitted)

    def on(self, scenario: Scenario, settings: Settings | None = None) -> Case:
        """The case of it in a scenario."""
        return Case(self.machine, scenario, self.outfit, settings or Settings())


def load_subject(name_or_path: str | Path, outfit: Outfit) -> Subject:
    """A shipped machine by name, or the machine file at a path, in an outfit.

    Raises:
        InputError: the file cannot be used, for more than a measurement that is left out; or the
            outfit does not suit it.
    """
    document = toml.read(find("machine", name_or_path))
    filled, gaps = _fill(document.data)
    machine = build(Machine, toml.put(document, filled)).from_file(name_or_path)
    fit(machine, outfit)
    return Subject(machine, outfit, gaps)


def _fill(data: dict[str, Any]) -> tuple[dict[str, str], dict[str, tuple[str, ...]]]:
    """Dotted fields with what stands in for them, and the gaps by kind."""
    filled: dict[str, str] = {}
    gaps: dict[str, tuple[str, ...]] = {}
    for (table, key), (kind, text) in _FILLERS.items():
        if not isinstance(data.get(table), dict) or key in data[table]:
            continue
        if kind == TYRES and "pressure" in data[table]:  # tells the stiffness
            continue
        filled[f"{table}.{key}"] = _like_the_others(data[table], key, text)
        gaps[kind] = (*gaps.get(kind, ()), f"{table}.{key}")
    return filled, gaps


def _like_the_others(table: dict[str, Any], key: str, text: str) -> str:
    """What stands in for a field, of a size that goes with its neighbours."""
    if key == "length" and "wheelbase" in table:
        return f"{to_si(table['wheelbase'], 'length') + _OVERHANG} m"
    other = {"front_axle": "rear_axle", "rear_axle": "front_axle"}.get(key, "")
    return str(table.get(other, text))
