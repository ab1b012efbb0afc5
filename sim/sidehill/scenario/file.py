"""What is driven: the scenario file, checked, in plain SI."""

from collections.abc import Sequence
from pathlib import Path
from typing import Annotated, Any, Self

from pydantic import Field, WithJsonSchema, model_validator

from sidehill.files import toml
from sidehill.files.fields import FieldError, Text
from sidehill.files.library import find
from sidehill.files.spec import FileSpec, build, flattened
from sidehill.scenario.course import Course
from sidehill.scenario.drive import Driving, Lifting, Run
from sidehill.scenario.ground import Feature, Ground
from sidehill.scenario.heights import Heights
from sidehill.scenario.profiles import HeightsFile, with_heights


class Scenario(FileSpec):
    """A scenario file."""

    title: Annotated[str, Text(80)]
    teaches: Annotated[str, Text(240)]
    ground: Ground
    feature: tuple[Feature, ...] = ()
    heights: Annotated[Heights, WithJsonSchema(HeightsFile.model_json_schema())] | None = None
    course: Course
    drive: Driving = Field(default_factory=Driving)
    loader: Lifting | None = None
    run: Run = Field(default_factory=Run)

    def __repr__(self) -> str:
        return f"Scenario({self.title}: {self.teaches})"

    @property
    def moot(self) -> frozenset[str]:
        """Fields that have no bearing as the others stand."""
        return frozenset({"drive"}) if self.course.is_tilt_table else frozenset()

    @property
    def is_even(self) -> bool:
        """Whether nothing stands on the ground and nothing roughens it: all tyre laws are one."""
        return not self.feature and not self.is_uneven

    @property
    def is_uneven(self) -> bool:
        """Whether the ground is rough, or has heights of its own."""
        return self.ground.roughness > 0.0 or self.heights is not None

    @model_validator(mode="after")
    def _is_driven_or_tilted(self) -> Self:
        if not self.course.is_tilt_table:
            if "speed" not in self.drive.model_fields_set:
                raise FieldError("drive.speed", 'missing; allowed: as "5 km/h"; "0 km/h" is parked')
            return self
        useless = {
            "feature": self.feature,
            "heights": self.heights,
            "drive": self.drive != Driving(),
            "loader": self.loader,
            "ground.roughness": self.ground.roughness,
            "ground.grade": self.ground.grade,
        }
        for key, is_given in useless.items():
            if is_given:
                raise FieldError(
                    key, "on a tilt table the machine stands still on a plane; leave it out"
                )
        return self

    @model_validator(mode="after")
    def _heights_lie_along_it(self) -> Self:
        heights, length = self.heights, self.course.length
        if heights is None or length is None:
            return self
        if self.ground.roughness > 0.0:
            raise FieldError("ground.roughness", "allowed: none, beside [heights], which have it")
        if self.course.curvatures:
            raise FieldError("heights", 'allowed: on path "contour", which is straight')
        if heights.end > length + 1e-9:
            raise FieldError(
                "heights",
                f"they reach from {heights.start:g} m to {heights.end:g} m; allowed: on the "
                f"course, 0 m to {length:g} m",
            )
        return self

    @model_validator(mode="after")
    def _everything_is_on_the_course(self) -> Self:
        length = self.course.length
        if length is None:
            return self
        for number, item in enumerate(self.feature, start=1):
            start, end = item.at - item.extent / 2.0, item.at + item.extent / 2.0
            if start < 0.0 or end > length:
                raise FieldError(
                    f"feature.{number}.at",
                    f"the {item.shape} reaches from {start:g} m to {end:g} m; allowed: on the "
                    f"course, 0 m to {length:g} m",
                )
        if self.drive.brake is not None and self.drive.brake.at >= length:
            raise FieldError("drive.brake.at", f"allowed: under course.length, {length:g} m")
        if self.drive.then is not None and self.drive.then[-1][0] > length:
            raise FieldError("drive.then", f"allowed: up to course.length, {length:g} m")
        if self.loader is not None and self.loader.height[-1][0] > length:
            raise FieldError("loader.height", f"allowed: up to course.length, {length:g} m")
        return self


def load_scenario(
    name_or_path: str | Path, overrides: Sequence[str] = (), **changes: Any
) -> Scenario:
    """A shipped scenario by name, or the scenario file at a path.

    Args:
        overrides: fields to change, as 'ground.slope="18 deg"' or 'feature.1.height=80 mm'.
        changes: the same from Python: `ground={"slope": "18 deg"}`, or `**{"feature.1.height":
            0.08}`. Text carries its unit; a number is SI.

    Raises:
        InputError: file, line, field, value, what is allowed.
    """
    path = find("scenario", name_or_path)
    document = with_heights(toml.override(toml.read(path), tuple(overrides)), path.parent)
    scenario = build(Scenario, document).from_file(name_or_path)
    return scenario.with_values(flattened(changes)) if changes else scenario
