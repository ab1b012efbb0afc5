"""One tractor as measured and weighed: the machine file, checked, in plain SI."""

from pathlib import Path
from typing import Annotated, Any, Self

from pydantic import Field, model_validator

from sidehill.files import toml
from sidehill.files.fields import FieldError, Text
from sidehill.files.library import find
from sidehill.files.spec import FileSpec, build, flattened
from sidehill.machine.bare import Body, Drive, FrontAxle, Seat, Steering, Tyre, Weighed
from sidehill.machine.mounted import Attachment, Ballast, Limits, Loader, Rops

__all__ = [
    "Attachment",
    "Ballast",
    "Body",
    "Drive",
    "FrontAxle",
    "Limits",
    "Loader",
    "Machine",
    "Rops",
    "Seat",
    "Steering",
    "Tyre",
    "Weighed",
    "load_machine",
]

_LOWEST_BEAM = 0.05  # [m] a front axle beam's CG cannot be lower


class Machine(FileSpec):
    """A machine file."""

    name: Annotated[str, Text(40)]
    summary: Annotated[str, Text(200)]
    source: Annotated[str, Text(200)]  # where the numbers come from
    weighed: Weighed
    body: Body
    front_axle: FrontAxle
    front_tyre: Tyre
    rear_tyre: Tyre
    seat: Seat
    steering: Steering
    drive: Drive
    loader: Loader | None = None
    rops: Rops | None = None
    limits: Limits | None = None
    ballast: Ballast = Field(default_factory=Ballast)
    attachment: tuple[Attachment, ...] = ()

    def __repr__(self) -> str:
        return f"Machine({self.name}, {self.weighed.mass:g} kg, {self.source})"

    @model_validator(mode="after")
    def _masses_agree(self) -> Self:
        axle, wheels = self.front_axle.mass, 2.0 * self.front_tyre.mass
        front, rear = self.weighed.front_axle, self.weighed.rear_axle
        if not wheels < axle < front:
            raise FieldError(
                "front_axle.mass",
                f"allowed: over its two wheels (front_tyre.mass), {wheels:g} kg, and under "
                f"weighed.front_axle, {front:g} kg",
            )
        if 2.0 * self.rear_tyre.mass >= rear:
            raise FieldError(
                "rear_tyre.mass",
                f"allowed: two of them under weighed.rear_axle, {rear:g} kg",
            )
        return self

    @model_validator(mode="after")
    def _dimensions_agree(self) -> Self:
        top = self.front_tyre.diameter
        tyres = self.front_tyre.radius + self.rear_tyre.radius
        if self.front_axle.pivot_height >= top:
            raise FieldError(
                "front_axle.pivot_height", f"allowed: below the front tyres' top, {top:g} m"
            )
        if self.body.wheelbase <= tyres:
            raise FieldError(
                "body.wheelbase", f"front and rear tyres would touch; allowed: over {tyres:g} m"
            )
        if self.body.length <= self.body.wheelbase:
            raise FieldError(
                "body.length", f"allowed: over {self.body.wheelbase:g} m, the wheelbase"
            )
        if self.rops is not None and self.rops.height <= self.seat.height:
            raise FieldError("rops.height", f"allowed: over seat.height, {self.seat.height:g} m")
        return self

    @model_validator(mode="after")
    def _heights_agree(self) -> Self:
        axle, tyre, weighed = self.front_axle, self.front_tyre, self.weighed
        beam = axle.mass * axle.cg_height - 2.0 * tyre.mass * tyre.radius
        low, high = (
            (2.0 * tyre.mass * tyre.radius + (axle.mass - 2.0 * tyre.mass) * height) / axle.mass
            for height in (_LOWEST_BEAM, tyre.diameter)
        )
        if not low <= axle.cg_height <= high:
            where = beam / (axle.mass - 2.0 * tyre.mass)
            raise FieldError(
                "front_axle.cg_height",
                f"puts the beam's own CG {where:.2f} m high; allowed: {low:.3f} m to {high:.3f} m",
            )
        share = weighed.front_axle / weighed.mass
        if weighed.cg_height <= share * axle.pivot_height:
            raise FieldError(
                "weighed.cg_height",
                "below the line from the rear contact to the pivot pin; allowed: over "
                f"{share * axle.pivot_height:.2f} m",
            )
        return self

    @model_validator(mode="after")
    def _attachment_names_differ(self) -> Self:
        names = [item.name for item in self.attachment]
        for number, name in enumerate(names, start=1):
            if name in names[: number - 1]:
                raise FieldError(f"attachment.{number}.name", "allowed: a name no other one has")
        return self


def load_machine(name_or_path: str | Path, **changes: Any) -> Machine:
    """A shipped machine by name, or the machine file at a path.

    Args:
        changes: tables with the fields to change, `weighed={"cg_height": "0.61 m"}`, or dotted
            fields, `**{"weighed.cg_height": 0.61}`. Text carries its unit; a number is SI. They
            are checked as the file is.

    Raises:
        InputError: file, line, field, value, what is allowed.
    """
    path = find("machine", name_or_path)
    machine = build(Machine, toml.read(path)).from_file(name_or_path)
    return machine.with_values(flattened(changes)) if changes else machine
