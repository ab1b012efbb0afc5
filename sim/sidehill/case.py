"""Machine + outfit + scenario + run settings: one run, known by the hash of all of it."""

import hashlib
import json
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Annotated, Any, TypeVar

from pydantic import Field

from sidehill.files.fields import Quantity
from sidehill.files.spec import Spec, build
from sidehill.files.toml import Document
from sidehill.machine.file import Machine
from sidehill.machine.outfit import Outfit
from sidehill.scenario.file import Scenario

_M = TypeVar("_M", bound=Spec)


class Settings(Spec):
    """How finely the tyre is modelled; changed only to see what a simplification costs."""

    # times as many points of a rim are looked at, or columns of an enveloping tyre
    fineness: Annotated[int, Field(strict=True, ge=1, le=16)] = 1

    discs: Annotated[int, Field(strict=True, ge=1, le=101)] = 5  # thin discs per wheel
    # overrides both tyres' own
    lateral_ratio: Annotated[float, Quantity("ratio", "0.01", "1000")] | None = None


@dataclass(frozen=True, repr=False)
class Case:
    """One run, frozen. Two cases with equal content have the same key."""

    machine: Machine
    scenario: Scenario
    outfit: Outfit = field(default_factory=Outfit)
    settings: Settings = field(default_factory=Settings)

    def __repr__(self) -> str:
        return f"Case({self.machine.name}, {self.scenario.title}, {self.outfit!r}, {self.key()})"

    def resolved(self) -> dict[str, Any]:
        """Every value that decides the run, plain SI."""
        return {
            "machine": self.machine.model_dump(mode="json"),
            "outfit": self.outfit.model_dump(mode="json"),
            "scenario": self.scenario.model_dump(mode="json"),
            "settings": self.settings.model_dump(mode="json"),
        }

    @classmethod
    def from_resolved(cls, plain: Mapping[str, Any]) -> "Case":
        """The case of what `resolved` gave, as a record holds it.

        Raises:
            InputError: a value that the models do not take, as of another version.
        """

        def model(kind: type[_M], name: str) -> _M:
            return build(kind, Document(name, plain[name]), si=True)

        return cls(
            model(Machine, "machine"),
            model(Scenario, "scenario"),
            model(Outfit, "outfit"),
            model(Settings, "settings"),
        )

    def key(self) -> str:
        """Hash of the whole case and of the physics, 16 hex digits."""
        from sidehill.physics import PHYSICS_VERSION  # and with it the compiler, once it is asked

        content = {"physics": PHYSICS_VERSION, **self.resolved()}
        text = json.dumps(content, sort_keys=True, allow_nan=False)
        return hashlib.sha256(text.encode()).hexdigest()[:16]

    def with_slope(self, slope: float) -> "Case":
        """The same case on another side slope [rad]."""
        return self.with_scenario({"ground.slope": slope})

    def with_scenario(self, values: dict[str, Any]) -> "Case":
        """The same case with dotted scenario fields changed, SI values."""
        return Case(self.machine, self.scenario.with_values(values), self.outfit, self.settings)
