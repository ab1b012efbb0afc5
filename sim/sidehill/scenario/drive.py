"""How the course is driven: speed, brakes, differential, loader."""

from typing import Annotated, Any, Literal, Self, get_args

from pydantic import field_validator, model_validator

from sidehill.files.fields import FieldError, Quantity
from sidehill.files.spec import Spec
from sidehill.scenario.schedule import Path, of_arrays, refuse_disorder

Speed = Annotated[float, Quantity("speed", "0.5 km/h", "30 km/h")]
Lift = Annotated[
    float | Literal["carry", "full", "as fitted"],
    Quantity(
        "length",
        "0.05 m",
        "6 m",
        words={"carry": "carry", "full": "full", "as fitted": "as fitted"},
    ),
]

MOST_LIFTS = 16  # pairs of a loader schedule
MOST_SPEEDS = 255  # pairs of a schedule of speeds


class Brake(Spec):
    """Braked from a place on the path on: for good, or let go after a time, to drive on.

    With both wheels braked the clutch is down; one brake alone works against the drive.
    """

    at: Path
    wheels: Literal["both", "uphill", "downhill"]
    # by then it must roll again: a machine that does not get on for 3 s counts as stuck
    let_go: Annotated[float, Quantity("time", "0.1 s", "2.5 s")] | None = None

    @property
    def is_a_stand(self) -> bool:
        """Whether it is to stop the machine for good."""
        return self.wheels == "both" and self.let_go is None


class Driving(Spec):
    """The [drive] table of a scenario. A speed of 0 is a parked machine."""

    speed: Annotated[float, Quantity("speed", "0 km/h", "30 km/h")] = 0.0
    # path length, and the speed wanted there; evenly over the way, from `speed` at the start
    then: tuple[tuple[Path, Speed], ...] | None = None
    # "pushed": an ideal push along the path at axle height, so that grip is left out
    hold: Literal["speed", "coast", "pushed"] = "speed"
    # front drive engaged; left out: where the machine has one
    four_wheel: bool | None = None
    differential: Literal["open", "locked"] = "open"
    brake: Brake | None = None

    @property
    def speeds(self) -> tuple[tuple[float, float], ...]:
        """Path length [m] and the speed wanted there [m/s], the start first."""
        return ((0.0, self.speed), *(self.then or ()))

    @field_validator("then", mode="before")
    @classmethod
    def _of_arrays(cls, raw: Any) -> Any:
        return of_arrays(raw)

    @model_validator(mode="after")
    def _goes_on(self) -> Self:
        if self.then is None:
            return self
        refuse_disorder("then", self.then, (1, MOST_SPEEDS), '["4 m", "8 km/h"]')
        if self.then[0][0] == 0.0:
            raise FieldError("then", "allowed: places past 0 m; drive.speed is the one there")
        if self.speed == 0.0 or self.hold == "coast":
            raise FieldError("then", "allowed: while drive.speed is held, and is not 0")
        return self


class Lifting(Spec):
    """The [loader] table of a scenario: height of the bucket pin over path length."""

    height: tuple[tuple[Path, Lift], ...]

    @model_validator(mode="after")
    def _goes_forward(self) -> Self:
        refuse_disorder("height", self.height, (2, MOST_LIFTS), '["0 m", "carry"]')
        return self


TyreLaw = Literal["point", "enveloping"]
TYRES: tuple[TyreLaw, ...] = get_args(TyreLaw)


class Run(Spec):
    """How it is computed: step of the simulation, rate of the record, law of the tyres."""

    step: Annotated[float, Quantity("time", "0.05 ms", "4 ms")] = 1e-3
    rate: Annotated[float, Quantity("frequency", "10 Hz", "1 kHz")] = 100.0
    tyre: TyreLaw = "point"  # how a tyre meets what is shorter than it

    @property
    def steps_a_row(self) -> int:
        """Simulation steps between two rows of the record."""
        return round(1.0 / (self.step * self.rate))

    @model_validator(mode="after")
    def _rows_fall_on_steps(self) -> Self:
        steps = 1.0 / (self.step * self.rate)
        if steps < 1.0 - 1e-9 or abs(steps - round(steps)) > 1e-6 * steps:
            raise FieldError(
                "rate",
                f"does not fall on steps of {1e3 * self.step:g} ms; allowed: a whole number of "
                "steps a row, as 100 Hz with 1 ms",
            )
        return self
