"""What may be mounted on a tractor: the optional tables of a machine file."""

from typing import Annotated, Literal, Self

from pydantic import model_validator

from sidehill.files.fields import FieldError, Quantity, Text
from sidehill.files.spec import Spec
from sidehill.machine.measures import AxleMass, ForwardUp, Height, PartMass, Place, Ratio, Size


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
        low, high = self.pin_range
        for name in ("carry_height", "full_height"):
            if not self.reaches(getattr(self, name)):
                raise FieldError(
                    name, f"out of the arm's reach; allowed: between {low:.2f} m and {high:.2f} m"
                )
        if self.carry_height >= self.full_height:
            raise FieldError("carry_height", f"allowed: below full_height, {self.full_height:g} m")
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
            raise FieldError("folded_height", f"allowed: below height, {self.height:g} m")
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
    # rear or front: the widest outside width of the tyres that it works behind or ahead of; mid:
    # the narrowest gap between the tyres that it fits into
    clear_width: Annotated[float, Quantity("length", "0.2 m", "6 m")] | None = None
    # over the outer edges of the ramps that the tyres roll over to get it under the tractor
    ramp_width: Annotated[float, Quantity("length", "0.2 m", "6 m")] | None = None
