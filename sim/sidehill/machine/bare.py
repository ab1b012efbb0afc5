"""The bare tractor's tables of a machine file: what was weighed and measured."""

import math
from typing import Annotated, Literal, Self

from pydantic import model_validator

from sidehill.files.fields import FieldError, Quantity
from sidehill.files.spec import Spec
from sidehill.machine.measures import AxleMass, Height, PartMass, Place, Pressure


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
    # how far out a rear tyre may move, a side, before it meets fender, lights or steps
    fender_gap: Annotated[float, Quantity("length", "0 mm", "500 mm")] | None = None


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
    # vertical, measured; at that pressure if both are given, else usual for size and pressure
    stiffness: Annotated[float, Quantity("stiffness", "30 kN/m", "10000 kN/m")] | None = None
    pressure: Pressure | None = None
    age: Annotated[float, Quantity("time", "0 year", "40 year")] | None = None
    lateral_ratio: Annotated[float, Quantity("ratio", "0.1", "1.5")] = 0.5
    damping_ratio: Annotated[float, Quantity("ratio", "0.01", "1")] = 0.05
    mass: PartMass  # tyre and rim
    max_load: Annotated[float, Quantity("mass", "50 kg", "5 t")] | None = None
    hub_offset: Annotated[float, Quantity("length", "-300 mm", "500 mm")] | None = None

    @property
    def radius(self) -> float:
        """[m] unloaded."""
        return self.diameter / 2.0

    @model_validator(mode="after")
    def _gives(self) -> Self:
        if self.stiffness is None and self.pressure is None:
            raise FieldError(
                "pressure",
                'allowed: a pressure, as "1.1 bar" or "16 psi", or the tyre\'s stiffness, or both',
            )
        return self

    @model_validator(mode="after")
    def _is_a_tyre(self) -> Self:
        outline = math.pi * self.radius**2 * self.width
        if self.rim_diameter is not None and self.rim_diameter > 0.95 * self.diameter:
            raise FieldError(
                "rim_diameter", f"allowed: under 95 % of {self.diameter:g} m, the tyre's"
            )
        if self.volume is not None and self.volume > outline:
            raise FieldError("volume", f"allowed: under its outline, {1e3 * outline:.0f} L")
        if self.track <= self.width:
            raise FieldError(
                "track", f"tyres would touch; allowed: over {self.width:g} m, the width"
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

    driven: Literal["rear", "four"]  # four: it has a mechanical front drive
    max_torque: Annotated[float, Quantity("torque", "50 N m", "50 kN m")]  # at the axles together
    brake_torque: Annotated[float, Quantity("torque", "50 N m", "50 kN m")]
    brakes: Literal["rear", "all"]
