"""The way that is driven: straight on, in a turn, winding; or a tilt table."""

from math import degrees
from typing import Annotated, Any, Literal, Self

from pydantic import field_validator, model_validator

from sidehill.files.fields import FieldError, Quantity
from sidehill.files.spec import Spec
from sidehill.scenario.schedule import Path, of_arrays, refuse_disorder

Curvature = Annotated[float, Quantity("curvature", "-1 rad/m", "1 rad/m")]

MOST_BENDS = 127  # pairs of a winding course
MOST_TURN = 3.0  # [rad] past half a circle a place has two path lengths
MOST_WINDING = 1.5  # [rad] to either side: a winding course never comes back on itself


class Course(Spec):
    """The way the rear axle centre goes. On a tilt table the machine stands still."""

    path: Literal["contour", "turn uphill", "turn downhill", "winding", "tilt table"] = "contour"
    length: Annotated[float, Quantity("length", "1 m", "200 m")] | None = None
    radius: Annotated[float, Quantity("length", "1 m", "100 m")] | None = None  # of a turn
    after: Path | None = None  # path length at which a turn begins
    # of a winding course: path length, and its curvature from there on, uphill positive
    bends: tuple[tuple[Path, Curvature], ...] | None = None
    # tilt table: turned until everything goes over ("fall" freely onto the axle stop, or
    # "lower" the body gently onto it), or held level up to ground.slope and let go ("release")
    method: Literal["fall", "lower", "release"] = "fall"

    @property
    def is_tilt_table(self) -> bool:
        """Whether the ground is turned under a standing machine."""
        return self.path == "tilt table"

    @property
    def turn(self) -> float:
        """+1 turning uphill, -1 downhill, 0 neither."""
        return {"turn uphill": 1.0, "turn downhill": -1.0}.get(self.path, 0.0)

    @property
    def curvatures(self) -> tuple[tuple[float, float], ...]:
        """Path length [m] and the curvature from there on [1/m], uphill positive, of each bend."""
        if self.radius is not None and self.after is not None:
            return ((self.after, self.turn / self.radius),)
        return self.bends or ()

    @property
    def moot(self) -> frozenset[str]:
        """Fields that have no bearing as the others stand."""
        return frozenset() if self.is_tilt_table else frozenset({"method"})

    @model_validator(mode="after")
    def _has_what_its_path_needs(self) -> Self:
        turns = self.turn != 0.0
        wanted = {
            "length": not self.is_tilt_table,
            **{"radius": turns, "after": turns, "bends": self.path == "winding"},
        }
        for name, is_wanted in wanted.items():
            is_given = getattr(self, name) is not None
            if is_wanted and not is_given:
                example = '[["3 m", "10 deg/m"]]' if name == "bends" else '"6 m"'
                raise FieldError(name, f'path "{self.path}" needs it; allowed: as {example}')
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

    @field_validator("bends", mode="before")
    @classmethod
    def _of_arrays(cls, raw: Any) -> Any:
        return of_arrays(raw)

    @model_validator(mode="after")
    def _winds_ahead(self) -> Self:
        if self.bends is None or self.length is None:
            return self
        refuse_disorder("bends", self.bends, (1, MOST_BENDS), '["3 m", "10 deg/m"]')
        places = [at for at, _ in self.bends]
        if places[-1] >= self.length:
            raise FieldError(
                "bends", f"allowed: places under course.length, which is {self.length:g} m"
            )
        heading = 0.0
        for (at, curvature), end in zip(self.bends, [*places[1:], self.length], strict=True):
            heading += curvature * (end - at)
            if abs(heading) > MOST_WINDING:
                raise FieldError(
                    "bends",
                    f"headed {degrees(heading):.0f} deg off the start at a path of {end:g} m; "
                    f"allowed: up to {degrees(MOST_WINDING):.0f} deg to either side",
                )
        return self
