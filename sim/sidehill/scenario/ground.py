"""The ground: a plane at a slope, its surface, and the features that stand on it."""

from typing import Annotated, Literal, Self

from pydantic import Field, model_validator

from sidehill.files.fields import FieldError, Quantity
from sidehill.files.spec import Spec
from sidehill.scenario.shapes import SHAPES, Shape, ShapeName

# [m^3] Gd(0.1 cycle/m), geometric mean of the ISO 8608 classes (published, secondary sources).
ROUGHNESS = {
    "none": 0.0,
    "A": 16e-6,
    "B": 64e-6,
    "C": 256e-6,
    "D": 1024e-6,
    "E": 4096e-6,
}

_DEEPEST = 0.6  # [m] into the ground: a large rear wheel's radius

Ratio = Annotated[float, Quantity("ratio", "0", "1")]


class Ground(Spec):
    """The hillside. Slope is across the course at its start, grade along it."""

    slope: Annotated[float, Quantity("slope", "0 deg", "60 deg")]
    grade: Annotated[float, Quantity("slope", "-45 deg", "45 deg")] = 0.0  # nose up positive
    downhill: Literal["left", "right"] = "right"
    friction: Annotated[float, Quantity("ratio", "0", "1.5")] = 0.7
    rolling_resistance: Annotated[float, Quantity("ratio", "0", "0.5")] = 0.06
    stiffness: Annotated[
        float | Literal["hard"],
        Quantity("stiffness", "5 kN/m", "100000 kN/m", words={"hard": "hard"}),
    ] = "hard"  # [N/m] per wheel, in series with the tyre
    roughness: Annotated[float, Quantity("psd", "0 m^3", "0.02 m^3", words=ROUGHNESS)] = 0.0
    seed: Annotated[int, Field(strict=True, ge=0, le=2**31 - 1)] = 1
    coherence: Ratio = 0.6  # left to right

    @property
    def moot(self) -> frozenset[str]:
        """Fields that have no bearing as the others stand."""
        return frozenset({"seed", "coherence"}) if self.roughness == 0.0 else frozenset()

    @property
    def compliance(self) -> float:
        """[m/N] of the soil under one wheel; 0 on hard ground."""
        return 0.0 if isinstance(self.stiffness, str) else 1.0 / self.stiffness

    @property
    def uphill(self) -> float:
        """+1 if the left side (+y) is uphill at the start, else -1."""
        return 1.0 if self.downhill == "right" else -1.0


class Feature(Spec):
    """Something on the ground, at a path length of the rear axle centre.

    A bump or hole is a patch under one side's wheels, or at a fixed place y across.
    A ridge, log or kerb (a step up, a flat top of that length, a step down) lies right
    across the course unless a width is given; then it needs a side or a place just so.
    A washout is even ground until a rear wheel stands on it, and gives way over its time.
    """

    shape: ShapeName
    wheels: Literal["uphill", "downhill", "both"] | None = None
    y: Annotated[float, Quantity("length", "-10 m", "10 m")] | None = None  # to the left
    at: Annotated[float, Quantity("length", "0 m", "200 m")]
    height: Annotated[float, Quantity("length", "1 mm", "1 m")]  # of a hole: its depth
    length: Annotated[float, Quantity("length", "20 mm", "50 m")] | None = None  # along the path
    width: Annotated[float, Quantity("length", "20 mm", "20 m")] | None = None  # across it
    # over which it gives way
    time: Annotated[float, Quantity("time", "20 ms", "60 s")] | None = None

    @property
    def kind(self) -> Shape:
        """What is known of its shape."""
        return SHAPES[self.shape]

    @property
    def top(self) -> float:
        """[m] of its middle over the ground around it; negative if it sinks into it."""
        return -self.height if self.kind.sinks else self.height

    @property
    def extent(self) -> float:
        """[m] along the path; a log without a length is half round."""
        return 2.0 * self.height if self.length is None else self.length

    @model_validator(mode="after")
    def _has_a_size(self) -> Self:
        for name in self.kind.needs:
            if getattr(self, name) is None:
                example = "0.5 s" if name == "time" else "0.6 m"
                raise FieldError(name, f'a {self.shape} needs a {name}; allowed: as "{example}"')
        if self.time is not None and not self.kind.gives:
            raise FieldError("time", f"a {self.shape} does not give way; leave it out")
        steepest = self.kind.steepest
        if self.height > steepest * self.extent * (1.0 + 1e-9):
            raise FieldError(
                "height",
                f"too steep for a {self.shape}; allowed: up to {steepest:g} times its length, "
                f"{steepest * self.extent:g} m",
            )
        if self.kind.sinks and self.height > _DEEPEST:
            raise FieldError("height", f"no wheel comes out; allowed: up to {_DEEPEST:g} m deep")
        return self

    @model_validator(mode="after")
    def _has_a_place(self) -> Self:
        given = [name for name in ("wheels", "y") if getattr(self, name) is not None]
        if self.width is None and given:
            raise FieldError(
                given[0],
                f"a {self.shape} without a width lies right across; leave {given[0]} out, "
                'or give a width, as "0.6 m"',
            )
        if self.width is not None and len(given) != 1:
            raise FieldError(
                "wheels",
                'allowed: either wheels = "uphill", "downhill" or "both", or y, as "0.4 m"',
            )
        return self
