"""CG height from axle scales: level, then with the front axle raised (lifting method, ISO 789-6).

On the scales the wheels must roll free: brakes off, out of gear, chocks clear of the tyres, so
that each axle is held straight up through its centre.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from math import hypot, radians, sin, tan
from typing import Annotated, Any, Self

from pydantic import model_validator

from sidehill.files import toml
from sidehill.files.errors import InputError
from sidehill.files.fields import FieldError, Quantity
from sidehill.files.spec import Spec, build
from sidehill.files.units import round_to, show, show_angle
from sidehill.machine.bare import Weighed
from sidehill.machine.measures import AxleMass

_LOWEST, _HIGHEST = 0.2, 2.0  # [m] a CG height that a machine file takes

Radius = Annotated[float, Quantity("length", "0.1 m", "1.2 m")]


class Readings(Spec):
    """What the scales and the tape showed, and one standard error of each.

    Each reading errs on its own. An error that scales share, as a wrong factor, cancels.
    """

    level_front: AxleMass  # on the front axle, level
    level_rear: AxleMass
    raised_front: AxleMass  # on the front axle, raised by blocks or a hoist
    tilt: Annotated[float, Quantity("angle", "2 deg", "45 deg")]  # of the chassis, from level
    wheelbase: Annotated[float, Quantity("length", "0.8 m", "4 m")]
    front_radius: Radius  # axle centre to ground, as it stands
    rear_radius: Radius
    scale_error: Annotated[float, Quantity("ratio", "0.01 %", "10 %")] = 0.01  # of each reading
    tilt_error: Annotated[float, Quantity("angle", "0 deg", "5 deg")] = radians(0.2)
    length_error: Annotated[float, Quantity("length", "0 mm", "50 mm")] = 0.005

    @property
    def mass(self) -> float:
        """[kg] on both axles."""
        return self.level_front + self.level_rear

    @model_validator(mode="after")
    def _give_a_height(self) -> Self:
        if self.raised_front >= self.mass:
            raise FieldError("raised_front", f"allowed: under the whole mass, {self.mass:g} kg")
        height = raised_scale_height(self).height
        if not _LOWEST <= height <= _HIGHEST:
            raise FieldError(
                "raised_front",
                f"gives a CG height of {height:.2f} m; allowed: {_LOWEST:g} m to {_HIGHEST:g} m. "
                "Check both front readings, the tilt and that the wheels rolled free",
            )
        return self


@dataclass(frozen=True)
class CgHeight:
    """CG height above level ground, and what its readings' errors make of it."""

    height: float  # [m]
    shares: Mapping[str, float]  # [m] that one standard error of each reading moves it by

    @property
    def error(self) -> float:
        """[m] one standard error of the height, linear propagation."""
        return hypot(*self.shares.values())

    @property
    def largest(self) -> str:
        """The reading whose error counts most."""
        return max(self.shares, key=lambda name: self.shares[name])


def read_scales(values: Mapping[str, Any], name: str = "scale readings") -> Readings:
    """The readings, checked; numbers carry their unit, as {"raised_front": "615 kg"}.

    Args:
        name: where they come from, for messages.

    Raises:
        InputError: a reading is missing, is not plausible, or does not go with the others.
    """
    return build(Readings, toml.Document(name, dict(values)))


def raised_scale_height(readings: Readings) -> CgHeight:
    """CG height and its error.

    h = r_rear + (R_f - R_f') L / (W tan(tilt)) + (r_front - r_rear) R_f' / W: moments about the
    rear axle centre (ISO 789-6).
    """
    r, mass = readings, readings.mass
    lever = r.wheelbase / (mass * tan(r.tilt))  # [m/kg]
    step = (r.front_radius - r.rear_radius) / mass  # [m/kg]
    lost = r.level_front - r.raised_front
    over_axle = lost * lever + step * r.raised_front  # [m] CG above the rear axle centre
    errors = {
        "level_front": (lever - over_axle / mass) * r.scale_error * r.level_front,
        "level_rear": over_axle / mass * r.scale_error * r.level_rear,
        "raised_front": (step - lever) * r.scale_error * r.raised_front,
        "tilt": lost * r.wheelbase / (mass * sin(r.tilt) ** 2) * r.tilt_error,
        "wheelbase": lost * lever / r.wheelbase * r.length_error,
        "front_radius": r.raised_front / mass * r.length_error,
        "rear_radius": (1.0 - r.raised_front / mass) * r.length_error,
    }
    return CgHeight(
        height=r.rear_radius + over_axle,
        shares={name: abs(error) for name, error in errors.items()},
    )


def weighed_block(readings: Readings) -> str:
    """The readings as the text of a machine file's [weighed] table.

    The height is rounded up. It counts as weighed only if its error is no more than what the
    word stands for, else as estimated.

    Raises:
        InputError: the error is over what even an estimate stands for.
    """
    found = raised_scale_height(readings)
    relative = found.error / found.height
    table = next((t for t in _tables(readings, found) if relative <= t.cg_height_spread), None)
    error = show(found.error, "length", rounding="up")
    if table is None:
        raise InputError(
            f"the CG height is uncertain by {error}, {100 * relative:.0f} % of it, mostly from "
            f"{found.largest}: too much for a machine file; raise the front further than "
            f"{show_angle(readings.tilt)}, or use better scales"
        )
    word, most = table.cg_height_from, 100 * table.cg_height_spread
    return "\n".join(
        [
            _commented("[weighed]", "bare tractor: no loader, ballast, attachment or operator"),
            _line("front_axle", f"{table.front_axle:.1f} kg"),
            _line("rear_axle", f"{table.rear_axle:.1f} kg"),
            _line("cg_height", f"{table.cg_height:.3f} m", f"± {error}, front raised"),
            _line("cg_height_from", word, f"error up to {most:.0f} %; most from {found.largest}"),
            "",
        ]
    )


def _tables(readings: Readings, found: CgHeight) -> list[Weighed]:
    """The table with the height called weighed, and called estimated."""
    values = {
        "front_axle": readings.level_front,
        "rear_axle": readings.level_rear,
        "cg_height": round_to(found.height, 3, "up"),
    }
    document = toml.Document("weighed", values)
    return [
        build(Weighed, toml.put(document, {"cg_height_from": word}), si=True)
        for word in ("weighed", "estimated")
    ]


def _line(key: str, text: str, comment: str = "") -> str:
    pair = f'{key} = "{text}"'
    return _commented(pair, comment) if comment else pair


def _commented(text: str, comment: str) -> str:
    return f"{text:<36} # {comment}"
