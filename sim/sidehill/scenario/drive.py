"""How the course is driven: path, speed, brakes, differential, loader."""

from itertools import pairwise
from typing import Annotated, Literal, Self, get_args

from pydantic import model_validator

from sidehill.files.fields import FieldError, Quantity
from sidehill.files.spec import Spec

Path = Annotated[float, Quantity("length", "0 m", "200 m")]
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
MOST_TURN = 3.0  # [rad] past half a circle a place has two path lengths


class Course(Spec):
    """The way the rear axle centre goes. On a tilt table the machine stands still."""

    path: Literal["contour", "turn uphill", "turn downhill", "tilt table"] = "contour"
    length: Annotated[float, Quantity("length", "1 m", "200 m")] | None = None
    radius: Annotated[float, Quantity("length", "1 m", "100 m")] | None = None  # of a turn
    after: Path | None = None  # path length at which a turn begins
    # tilt table: turned until everything goes over ("fall" freely onto the axle stop, or
    # "lower" the body gently onto it), or held level up to ground.slope and let go ("release")
    method: Literal["fall", "lower", "release"] = "fall"

    @property
    def is_tilt_table(self) -> bool:
        """Whether the ground is turned under a standing machine."""
        return self.path == "tilt table"

    @property
    def turn(self) -> float:
        """+1 turning uphill, -1 downhill, 0 straight on."""
        return {"turn uphill": 1.0, "turn downhill": -1.0}.get(self.path, 0.0)

    @property
    def moot(self) -> frozenset[str]:
        """Fields that have no bearing as the others stand."""
        return frozenset() if self.is_tilt_table else frozenset({"method"})

    @model_validator(mode="after")
    def _has_what_its_path_needs(self) -> Self:
        turns = self.turn != 0.0
        wanted = {"length": not self.is_tilt_table, "radius": turns, "after": turns}
        for name, is_wanted in wanted.items():
            is_given = getattr(self, name) is not None
            if is_wanted and not is_given:
                raise FieldError(name, f'path "{self.path}" needs it; allowed: as "6 m"')
            if is_given and not is_wanted:
                raise FieldError(name, f'means nothing on path "{self.path}"; leave it out')
        if self.after is not None and self.length is not None and self.after >= self.length:
            raise FieldError("after", f"allowed: under course.length, {self.length:g} m")
        if self.radius is not None and self.length is not None and self.after is not None:
            longest = self.after + MOST_TURN * self.radius
            if self.length > longest:
                raise FieldError(
                    "length",
                    f"turns half a circle or more; allowed: up to {longest:.2f} m, which is "
                    f"after + {MOST_TURN:g} radius",
                )
        if self.method != "fall" and not self.is_tilt_table:
            raise FieldError("method", 'is for path "tilt table" only; leave it out')
        return self


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
    # "pushed": an ideal push along the path at axle height, so that grip is left out
    hold: Literal["speed", "coast", "pushed"] = "speed"
    # front drive engaged; left out: where the machine has one
    four_wheel: bool | None = None
    differential: Literal["open", "locked"] = "open"
    brake: Brake | None = None


class Lifting(Spec):
    """The [loader] table of a scenario: height of the bucket pin over path length."""

    height: tuple[tuple[Path, Lift], ...]

    @model_validator(mode="after")
    def _goes_forward(self) -> Self:
        places = [place for place, _ in self.height]
        in_order = all(a < b for a, b in pairwise(places))
        if not (2 <= len(places) <= MOST_LIFTS and in_order):
            raise FieldError(
                "height",
                f'allowed: two to {MOST_LIFTS} pairs as ["0 m", "carry"], in path order',
            )
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
