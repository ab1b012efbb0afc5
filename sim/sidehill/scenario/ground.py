"""The ground: a plane at a slope, its surface, and the features that stand on it."""

from typing import Annotated, Literal, Self

from pydantic import Field, model_validator

from sidehill.spec import Quantity, Spec

# [m^3] Gd(0.1 cycle/m), geometric mean of the ISO 8608 classes (published, secondary sources).
ROUGHNESS = {
    "none": 0.0,
    "A": 16e-6,
    "B": 64e-6,
    "C": 256e-6,
    "D": 1024e-6,
    "E": 4096e-6,
}

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
    def compliance(self) -> float:
        """[m/N] of the soil under one wheel; 0 on hard ground."""
        return 0.0 if isinstance(self.stiffness, str) else 1.0 / self.stiffness

    @property
    def uphill(self) -> float:
        """+1 if the left side (+y) is uphill at the start, else -1."""
        return 1.0 if self.downhill == "right" else -1.0


class Feature(Spec):
    """Something on the ground under one side's wheels, or at a fixed place across.

    A bump or hole is a patch of that length and width; a ridge or log lies across the
    course and a kerb is a step up, each right across unless a width is given.
    """

    shape: Literal["bump", "hole", "ridge", "log", "kerb"]
    wheels: Literal["uphill", "downhill", "both"] | None = None
    y: Annotated[float, Quantity("length", "-10 m", "10 m")] | None = None  # to the left
    at: Annotated[float, Quantity("length", "0 m", "200 m")]  # path of the rear axle centre
    height: Annotated[float, Quantity("length", "1 mm", "1 m")]  # of a hole: its depth
    length: Annotated[float, Quantity("length", "20 mm", "50 m")] | None = None  # along the path
    width: Annotated[float, Quantity("length", "20 mm", "20 m")] | None = None  # across it

    @model_validator(mode="after")
    def _stands_somewhere(self) -> Self:
        if (self.wheels is None) == (self.y is None):
            raise ValueError(
                'give either wheels ("uphill", "downhill", "both") or y (as "0.4 m"), not both'
            )
        needed = {"bump": ("length", "width"), "hole": ("length", "width"), "ridge": ("length",)}
        for name in needed.get(self.shape, ()):
            if getattr(self, name) is None:
                raise ValueError(f'a {self.shape} needs {name}, as {name} = "0.6 m"')
        if self.y is not None and self.width is None:
            raise ValueError('y places a feature of some width; give width, as width = "0.6 m"')
        if self.shape == "log" and self.length is not None:
            raise ValueError("a log is round: its height is its diameter; leave length out")
        return self

    @property
    def extent(self) -> float:
        """[m] along the path; a log is as long as it is high, a kerb takes no more than a point."""
        if self.length is not None:
            return self.length
        return self.height if self.shape == "log" else 0.0
