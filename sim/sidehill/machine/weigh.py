"""CG height from axle scales: level, then with the front axle raised (lifting method, ISO 789-6).

On the scales the wheels must roll free: brakes off, out of gear, chocks clear of the tyres, so
that each axle is held straight up through its centre.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from math import hypot, radians, tan
from typing import Annotated, Any, Self

from pydantic import model_validator

from sidehill.files import toml
from sidehill.files.fields import FieldError, Quantity
from sidehill.files.spec import Spec, build
from sidehill.files.units import show
from sidehill.machine.measures import AxleMass, Height, PartMass, Place

_LOWEST, _HIGHEST = 0.2, 2.0  # [m] a CG height that a machine file takes
_BELOW_AXLE = 1.0 / 3.0  # of the rear wheel's radius, below its centre
_SMALL = 1e-3  # of an error, that its effect is found by

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
    loader_mass: PartMass | None = None  # of a loader that was on: it is taken off again
    loader_ahead: Place | None = None  # its CG, level, ahead of the rear axle
    loader_height: Height | None = None  # its CG, level, above ground
    low_cg: bool = False  # it was the front that was raised: the CG is as low as that
    scale_error: Annotated[float, Quantity("ratio", "0.01 %", "10 %")] = 0.01  # of each reading
    tilt_error: Annotated[float, Quantity("angle", "0 deg", "5 deg")] = radians(0.2)
    length_error: Annotated[float, Quantity("length", "0 mm", "50 mm")] = 0.005

    @property
    def moot(self) -> frozenset[str]:
        """What is only said where it is so."""
        return frozenset({"low_cg"})

    @property
    def mass(self) -> float:
        """[kg] on both axles, a loader that was on included."""
        return self.level_front + self.level_rear

    @property
    def bare_axles(self) -> tuple[float, float]:
        """[kg] on the front and the rear axle, level, without the loader."""
        if self.loader_mass is None or self.loader_ahead is None:
            return self.level_front, self.level_rear
        on_front = self.loader_mass * self.loader_ahead / self.wheelbase
        return self.level_front - on_front, self.level_rear - (self.loader_mass - on_front)

    @model_validator(mode="after")
    def _loader_is_whole(self) -> Self:
        names = ("loader_mass", "loader_ahead", "loader_height")
        missing = [name for name in names if getattr(self, name) is None]
        if 0 < len(missing) < len(names):
            raise FieldError(missing[0], "a loader is taken off by its mass and both places")
        if min(self.bare_axles) <= 0.0:
            raise FieldError("loader_mass", "allowed: what leaves weight on both axles")
        return self

    @model_validator(mode="after")
    def _the_front_was_raised(self) -> Self:
        if self.raised_front >= self.mass:
            raise FieldError("raised_front", f"allowed: under the whole mass, {self.mass:g} kg")
        grown = self.raised_front - self.level_front
        noise = self.scale_error * hypot(self.raised_front, self.level_front)
        if grown <= noise or self.low_cg:
            return self
        raise FieldError(
            "raised_front",
            f"is {grown:.1f} kg more than level; with the front up that needs a CG "
            f"{_whole_height(self):.2f} m high, below the rear axle. With the rear up it would be "
            f"{_height_if_the_rear_was_raised(self):.2f} m: was the wrong end raised? Raise the "
            "front, the scale under it, and read again; if the front was up and the CG is that "
            "low, say so with --low-cg",
        )

    @model_validator(mode="after")
    def _give_a_height(self) -> Self:
        height = _bare_height(self)
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
    """CG height of the bare tractor and its error; a loader's own is taken as exact."""
    shares = {name: abs(_moved(readings, name, error)) for name, error in _errors(readings).items()}
    return CgHeight(height=_bare_height(readings), shares=shares)


def _whole_height(r: Readings) -> float:
    """[m] h = r_rear + (R_f - R_f') L / (W tan(tilt)) + (r_front - r_rear) R_f' / W.

    Moments about the rear axle centre (ISO 789-6).
    """
    lost, lever = r.level_front - r.raised_front, r.wheelbase / (r.mass * tan(r.tilt))
    return r.rear_radius + lost * lever + (r.front_radius - r.rear_radius) * r.raised_front / r.mass


def _height_if_the_rear_was_raised(r: Readings) -> float:
    """[m] the same, front and rear exchanged: what the front axle gained the rear one lost."""
    lost, lever = r.raised_front - r.level_front, r.wheelbase / (r.mass * tan(r.tilt))
    raised_rear = r.mass - r.raised_front
    return r.front_radius + lost * lever + (r.rear_radius - r.front_radius) * raised_rear / r.mass


def _bare_height(r: Readings) -> float:
    """[m] without the loader, if one was on."""
    if r.loader_mass is None or r.loader_height is None:
        return _whole_height(r)
    moment = r.mass * _whole_height(r) - r.loader_mass * r.loader_height
    return moment / (r.mass - r.loader_mass)


def _errors(r: Readings) -> dict[str, float]:
    """One standard error of each reading, SI."""
    scales = ("level_front", "level_rear", "raised_front")
    lengths = ("wheelbase", "front_radius", "rear_radius")
    return (
        {name: r.scale_error * getattr(r, name) for name in scales}
        | {"tilt": r.tilt_error}
        | dict.fromkeys(lengths, r.length_error)
    )


def _moved(r: Readings, name: str, error: float) -> float:
    """[m] by which an error of that reading moves the height, linear."""
    value, step = getattr(r, name), _SMALL * error
    # not checked: a reading at the end of what is allowed has a derivative too
    high, low = (
        Readings.model_construct(**dict(r) | {name: value + way * step}) for way in (1, -1)
    )
    return (_bare_height(high) - _bare_height(low)) / (2 * _SMALL)


def second_look(height: float, rear_radius: float) -> str | None:
    """What to say of a CG so low that something was probably read wrong.

    A third of the wheel radius below the rear axle centre: judgement, no source.

    Args:
        height: [m] of the CG; rear_radius: [m].
    """
    least = (1.0 - _BELOW_AXLE) * rear_radius
    if height >= least:
        return None
    return (
        f"CG height {show(height, 'length', rounding='up')} is more than a third of the wheel "
        "radius below the rear axle's centre: look at the readings again (which end was raised, "
        "which scale was read); a CG taken too low makes every slope too high"
    )
