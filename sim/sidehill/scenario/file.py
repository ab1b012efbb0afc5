"""What is driven: the scenario file, checked, in plain SI."""

from collections.abc import Sequence
from pathlib import Path
from typing import Annotated, Self

from pydantic import Field, PrivateAttr, model_validator

from sidehill import toml
from sidehill.library import find
from sidehill.scenario.drive import Course, Driving, Lifting, Run
from sidehill.scenario.ground import Feature, Ground
from sidehill.spec import Spec, Text, build


class Scenario(Spec):
    """A scenario file."""

    title: Annotated[str, Text(80)]
    teaches: Annotated[str, Text(240)]
    ground: Ground
    feature: tuple[Feature, ...] = ()
    course: Course
    drive: Driving = Field(default_factory=Driving)
    loader: Lifting | None = None
    run: Run = Field(default_factory=Run)
    _file: str = PrivateAttr(default="")

    @property
    def file(self) -> str:
        """The file it was read from, as given; empty when built in Python."""
        return self._file

    @model_validator(mode="after")
    def _tilt_table_stands_still(self) -> Self:
        if not self.course.is_tilt_table:
            if "speed" not in self.drive.model_fields_set:
                raise ValueError('[drive] needs speed, as speed = "5 km/h" (0 km/h is parked)')
            return self
        given = [
            name
            for name, is_there in (
                ("[[feature]]", bool(self.feature)),
                ("[drive]", bool(self.drive.model_fields_set)),
                ("[loader]", self.loader is not None),
                ("ground.roughness", self.ground.roughness > 0.0),
                ("ground.grade", self.ground.grade != 0.0),
            )
            if is_there
        ]
        if given:
            raise ValueError(
                f"on a tilt table the machine stands still on a plane; leave out {', '.join(given)}"
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
                raise ValueError(
                    f"feature {number} ({item.shape}) at {item.at:g} m reaches from {start:g} m "
                    f"to {end:g} m; allowed: on the course, 0 m to {length:g} m"
                )
        if self.drive.brake is not None and self.drive.brake.at >= length:
            raise ValueError(
                f"drive.brake.at {self.drive.brake.at:g} m; allowed: under course.length, "
                f"{length:g} m"
            )
        if self.loader is not None and self.loader.height[-1][0] > length:
            raise ValueError(
                f"loader.height ends at {self.loader.height[-1][0]:g} m; allowed: up to "
                f"course.length, {length:g} m"
            )
        return self


def load_scenario(name_or_path: str | Path, overrides: Sequence[str] = ()) -> Scenario:
    """A shipped scenario by name, or the scenario file at a path.

    Args:
        overrides: fields to change, as 'ground.slope="18 deg"' or 'feature.1.height=80 mm'.

    Raises:
        InputError: file, line, field, value, what is allowed.
    """
    path = find("scenario", name_or_path)
    scenario = build(Scenario, toml.override(toml.read(path), tuple(overrides)))
    scenario._file = str(name_or_path)
    return scenario
