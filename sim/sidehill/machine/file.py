"""One tractor as measured and weighed: the machine file, checked, in plain SI."""

from pathlib import Path
from typing import Annotated, Literal, Self

from pydantic import Field, PrivateAttr, model_validator

from sidehill import toml
from sidehill.library import find
from sidehill.spec import Quantity, Spec, Text, build

Ratio = Annotated[float, Quantity("ratio", "0", "1")]
Place = Annotated[float, Quantity("length", "-5 m", "5 m")]
Height = Annotated[float, Quantity("length", "0.05 m", "4 m")]
Size = Annotated[float, Quantity("length", "0.1 m", "6 m")]
PartMass = Annotated[float, Quantity("mass", "1 kg", "3000 kg")]
AxleMass = Annotated[float, Quantity("mass", "50 kg", "10 t")]
ForwardUp = tuple[Place, Height]  # [m] ahead of the rear axle, above the ground


class Weighed(Spec):
    """The bare tractor on the scales: no loader, ballast, attachment or operator."""

    front_axle: AxleMass
    rear_axle: AxleMass
    cg_height: Annotated[float, Quantity("length", "0.2 m", "2 m")]
    cg_height_from: Literal["weighed", "estimated"]
    cg_offset: Annotated[float, Quantity("length", "-200 mm", "200 mm")] = 0.0  # to the left
    roll_inertia: Annotated[float, Quantity("inertia", "5 kg m^2", "10000 kg m^2")] | None = None

    @property
    def mass(self) -> float:
        """[kg] the bare tractor."""
        return self.front_axle + self.rear_axle

    @property
    def cg_height_spread(self) -> float:
        """Relative standard error of the CG height: 5 % weighed, 15 % estimated."""
        return 0.05 if self.cg_height_from == "weighed" else 0.15


class Body(Spec):
    """Outside dimensions; the box that estimated inertias are those of."""

    wheelbase: Annotated[float, Quantity("length", "0.8 m", "4 m")]
    length: Annotated[float, Quantity("length", "1 m", "7 m")]
    width: Annotated[float, Quantity("length", "0.4 m", "3 m")]
    height: Annotated[float, Quantity("length", "0.5 m", "4 m")]


class FrontAxle(Spec):
    """The pivoting axle: beam, hubs and both wheels."""

    pivot_height: Annotated[float, Quantity("length", "0.1 m", "1.2 m")]
    swing: Annotated[float, Quantity("angle", "0 deg", "25 deg")]  # each way
    mass: PartMass
    cg_height: Annotated[float, Quantity("length", "0.1 m", "1.2 m")]


class Tyre(Spec):
    """One tyre on its rim, the same left and right."""

    diameter: Annotated[float, Quantity("length", "0.25 m", "2 m")]
    width: Annotated[float, Quantity("length", "0.08 m", "0.9 m")]
    rim_diameter: Annotated[float, Quantity("length", "0.1 m", "1.4 m")] | None = None
    volume: Annotated[float, Quantity("volume", "2 L", "1500 L")] | None = None
    track: Annotated[float, Quantity("length", "0.4 m", "3 m")]  # centre to centre, no spacers
    stiffness: Annotated[float, Quantity("stiffness", "30 kN/m", "10000 kN/m")]
    lateral_ratio: Annotated[float, Quantity("ratio", "0.1", "1.5")] = 0.5
    damping_ratio: Annotated[float, Quantity("ratio", "0.01", "1")] = 0.10
    mass: PartMass  # tyre and rim
    max_load: Annotated[float, Quantity("mass", "50 kg", "5 t")] | None = None
    hub_offset: Annotated[float, Quantity("length", "-300 mm", "500 mm")] | None = None

    @property
    def radius(self) -> float:
        """[m] unloaded."""
        return self.diameter / 2.0

    @model_validator(mode="after")
    def _fits_its_rim(self) -> Self:
        if self.rim_diameter is not None and self.rim_diameter >= 0.95 * self.diameter:
            raise ValueError(
                f"rim_diameter {self.rim_diameter:g} m leaves no tyre on a diameter of "
                f"{self.diameter:g} m; allowed: under 95 % of diameter"
            )
        if self.track <= self.width:
            raise ValueError(
                f"track {self.track:g} m: the two tyres, {self.width:g} m wide, would touch; "
                "allowed: a track over the width"
            )
        return self


class Seat(Spec):
    """Where the operator's CG is."""

    x: Place
    height: Height


class Steering(Spec):
    """The front wheels' lock."""

    max_angle: Annotated[float, Quantity("angle", "5 deg", "80 deg")]


class Drive(Spec):
    """What turns and stops the wheels."""

    driven: Literal["rear", "all"]
    max_torque: Annotated[float, Quantity("torque", "50 N m", "50 kN m")]  # at the axle
    brake_torque: Annotated[float, Quantity("torque", "50 N m", "50 kN m")]
    brakes: Literal["rear", "all"]


class Loader(Spec):
    """A front loader, mounted whenever the file has one."""

    frame_mass: PartMass
    frame_cg: ForwardUp
    arm_mass: PartMass
    arm_cg: Ratio  # fraction of the arm from its pivot
    arm_pivot: ForwardUp
    arm_length: Size  # pivot to bucket pin
    frame_width: Annotated[float, Quantity("length", "0.2 m", "2 m")]
    carry_height: Height  # of the bucket pin
    full_height: Height
    bucket_mass: PartMass
    bucket_width: Annotated[float, Quantity("length", "0.3 m", "4 m")]
    load_reach: Annotated[float, Quantity("length", "0 m", "2 m")]
    rated_load: PartMass

    def reaches(self, height: float) -> bool:
        """Whether the bucket pin gets to that height [m] with the arm pointing ahead."""
        return abs(height - self.arm_pivot[1]) < self.arm_length

    @model_validator(mode="after")
    def _bucket_pin_gets_there(self) -> Self:
        for name in ("carry_height", "full_height"):
            if not self.reaches(getattr(self, name)):
                low, high = self.pin_range
                raise ValueError(
                    f"{name} {getattr(self, name):g} m is out of the arm's reach; "
                    f"allowed: between {low:.2f} m and {high:.2f} m"
                )
        if self.carry_height >= self.full_height:
            raise ValueError("carry_height must be below full_height")
        return self

    @property
    def pin_range(self) -> tuple[float, float]:
        """[m] lowest and highest the bucket pin can be."""
        pivot = self.arm_pivot[1]
        return max(0.0, pivot - self.arm_length), pivot + self.arm_length


class Rops(Spec):
    """The roll bar; its mass is inside the weighed tractor."""

    height: Annotated[float, Quantity("length", "0.8 m", "4 m")]
    width: Annotated[float, Quantity("length", "0.2 m", "3 m")]
    x: Place
    folded_height: Annotated[float, Quantity("length", "0.3 m", "4 m")] | None = None
    reference_mass: Annotated[float, Quantity("mass", "100 kg", "15 t")] | None = None

    @model_validator(mode="after")
    def _folds_down(self) -> Self:
        if self.folded_height is not None and self.folded_height >= self.height:
            raise ValueError("folded_height must be below height")
        return self


class Limits(Spec):
    """The maker's axle ratings."""

    front_axle: AxleMass
    rear_axle: AxleMass


class Ballast(Spec):
    """Where ballast sits."""

    rear_box: ForwardUp | None = None
    front: ForwardUp | None = None


class Attachment(Spec):
    """Something worked with: a tiller, a mower, a pusher."""

    name: Annotated[str, Text(40)]
    width: Annotated[float, Quantity("length", "0.2 m", "6 m")]
    position: Literal["rear", "front", "mid"]
    mass: PartMass
    cg: ForwardUp  # lowered
    lift_height: Annotated[float, Quantity("length", "0 m", "2 m")] = 0.0
    clear_width: Annotated[float, Quantity("length", "0.2 m", "6 m")] | None = None


class Machine(Spec):
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
    _file: str = PrivateAttr(default="")

    @property
    def file(self) -> str:
        """The file it was read from, as given; empty when built in Python."""
        return self._file

    @model_validator(mode="after")
    def _axle_assembly_is_part_of_the_whole(self) -> Self:
        axle, tyres = self.front_axle.mass, 2.0 * self.front_tyre.mass
        if not tyres < axle < self.weighed.front_axle:
            raise ValueError(
                f"front_axle.mass {axle:g} kg; allowed: over {tyres:g} kg (its two wheels) and "
                f"under {self.weighed.front_axle:g} kg (weighed.front_axle)"
            )
        if 2.0 * self.rear_tyre.mass >= self.weighed.rear_axle:
            raise ValueError(
                f"rear_tyre.mass {self.rear_tyre.mass:g} kg; allowed: two of them under "
                f"{self.weighed.rear_axle:g} kg (weighed.rear_axle)"
            )
        return self

    @model_validator(mode="after")
    def _dimensions_agree(self) -> Self:
        if self.front_axle.pivot_height >= self.front_tyre.diameter:
            raise ValueError(
                f"front_axle.pivot_height {self.front_axle.pivot_height:g} m; allowed: below the "
                f"top of the front tyres, {self.front_tyre.diameter:g} m"
            )
        if self.body.length <= self.body.wheelbase:
            raise ValueError(
                f"body.length {self.body.length:g} m; allowed: over body.wheelbase, "
                f"{self.body.wheelbase:g} m"
            )
        tyres = self.front_tyre.radius + self.rear_tyre.radius
        if self.body.wheelbase <= tyres:
            raise ValueError(
                f"body.wheelbase {self.body.wheelbase:g} m: front and rear tyres would touch; "
                f"allowed: over {tyres:g} m"
            )
        return self

    @model_validator(mode="after")
    def _attachment_names_differ(self) -> Self:
        names = [item.name for item in self.attachment]
        if len(set(names)) < len(names):
            raise ValueError(f"attachment names must differ; found {', '.join(names)}")
        return self


def load_machine(name_or_path: str | Path) -> Machine:
    """A shipped machine by name, or the machine file at a path.

    Raises:
        InputError: file, line, field, value, what is allowed.
    """
    path = find("machine", name_or_path)
    machine = build(Machine, toml.read(path))
    machine._file = str(name_or_path)
    return machine
