"""The figures of the `tip` command."""

from collections.abc import Sequence
from dataclasses import asdict, dataclass
from typing import Any

import numpy as np

from sidehill.files.errors import InputError
from sidehill.files.known import known, known_degrees
from sidehill.files.units import show_slope
from sidehill.machine.fitted import Fitted
from sidehill.statics.assembly import Side, from_fitted
from sidehill.statics.energy import critical_roll_rate, energy_to_tip
from sidehill.statics.flaw import flaws
from sidehill.statics.hold import grade_hold, slide_slope
from sidehill.statics.loads import balance, wheel_loads
from sidehill.statics.slopes import (
    front_lifts_first,
    lift_off_slope,
    overturn_slope,
    rigid_slope,
    second_stage_slope,
)
from sidehill.statics.tipping import Tipping


@dataclass(frozen=True)
class TipReport:
    """Statics of one machine on rigid tyres; unrounded. None: it has no value, `notes` say why.

    Tip slopes are side slopes on the asked grade; loads, energy and rate are those of standing
    still on the asked slope and grade; `grade_hold_deg` is without side slope.
    """

    mass_kg: float
    cg_m: tuple[float, float, float]  # forward, left, up
    wheel_loads_n: dict[str, float] | None  # front_left, front_right, rear_left, rear_right
    lift_off_slope_deg: float | None
    lifts_first: str | None  # the wheel that carries nothing there
    second_stage_slope_deg: float | None
    overturn_slope_deg: float | None
    rigid_slope_deg: float | None
    slide_slope_deg: float
    grade_hold_deg: float | None
    energy_to_tip_j: float | None
    critical_roll_rate_rad_s: float | None
    flaws: tuple[str, ...]  # why it does not stand there at all; no tip slope has a value then
    notes: tuple[str, ...]

    def to_dict(self) -> dict[str, Any]:
        """Plain values for JSON."""
        lists = {"cg_m": list(self.cg_m), "flaws": list(self.flaws), "notes": list(self.notes)}
        return asdict(self) | lists


def _check(slope: float, grade: float, friction: float, downhill: Side) -> None:
    if not 0 <= slope < np.pi / 2:
        raise InputError(
            f"slope: {np.degrees(slope):.6g} deg is not from 0 to less than 90 deg; "
            "for a slope the other way change `downhill`"
        )
    if not abs(grade) < np.pi / 2:
        raise InputError(f"grade: {np.degrees(grade):.6g} deg is not between -90 and 90 deg")
    if not friction >= 0:
        raise InputError(f"friction: {friction:.6g} is not 0 or more")
    if downhill not in ("right", "left"):
        raise InputError(f'downhill: "{downhill}" is neither "right" nor "left"')


def _by_wheel(loads: Sequence[Any], downhill: Side) -> dict[str, float]:
    """Loads in the order of `WheelLoads`, by wheel."""
    sides = (downhill, "left" if downhill == "right" else "right")
    names = [f"{end}_{side}" for end in ("front", "rear") for side in sides]
    return dict(sorted(zip(names, map(float, loads), strict=True)))


def _loads(tipping: Tipping, slope: float, grade: float, downhill: Side) -> dict[str, float] | None:
    loads = wheel_loads(tipping, slope, grade)
    return None if np.isnan(loads.rear_up) else _by_wheel(loads, downhill)


def _first(tipping: Tipping, grade: float, downhill: Side) -> str | None:
    """The wheel that carries nothing at lift-off."""
    lift = lift_off_slope(tipping, grade)
    if np.isnan(lift):
        return None
    loads = _by_wheel(balance(tipping, lift, grade), downhill)
    return min(loads, key=lambda wheel: loads[wheel])


def _brake_force(fitted: Fitted) -> float:
    return fitted.machine.drive.brake_torque / fitted.machine.rear_tyre.radius


def _notes(tipping: Tipping, slope: float, grade: float, friction: float) -> list[str]:
    notes: list[str] = []
    lift = lift_off_slope(tipping, grade)
    if slope >= lift:
        notes.append(
            f"no rest on four wheels on this slope, lift-off is at "
            f"{show_slope(float(lift), 'down')}: wheel loads, energy and roll rate have no value"
        )
    if np.hypot(np.tan(slope), np.tan(grade)) > friction:
        notes.append(f"with friction {friction:.2f} a parked machine slides here")
    if front_lifts_first(tipping, grade):
        notes.append(
            "a front wheel is the first to lift: the way over from there is not modelled, so the "
            "overturn slope is given as lift-off, and energy and roll rate have no value"
        )
    elif overturn_slope(tipping, grade) <= lift:
        notes.append("past lift-off it goes over: its axle stop does not catch the fall")
    return notes


def tip(
    fitted: Fitted,
    slope: float = 0.0,
    grade: float = 0.0,
    friction: float = 0.7,
    downhill: Side = "right",
) -> TipReport:
    """Statics of a fitted machine on rigid tyres.

    Args:
        slope: [rad] side slope.
        grade: [rad] nose up positive.
        friction: tyre on ground.
        downhill: "right" or "left".

    Raises:
        InputError: slope, grade, friction or downhill out of range.
    """
    _check(slope, grade, friction, downhill)
    t = from_fitted(fitted, downhill)
    drive = fitted.machine.drive
    hold = grade_hold(t, friction, drive.brakes, _brake_force(fitted))
    rests = slope < lift_off_slope(t, grade)
    found = tuple(reason for reason, holds in flaws(t, grade).items() if holds)
    more = [] if found else _notes(t, slope, grade, friction)
    cg = fitted.cg
    return TipReport(
        mass_kg=fitted.mass,
        cg_m=(float(cg[0]), float(cg[1]), float(cg[2])),
        wheel_loads_n=_loads(t, slope, grade, downhill),
        lift_off_slope_deg=known_degrees(lift_off_slope(t, grade)),
        lifts_first=_first(t, grade, downhill),
        second_stage_slope_deg=known_degrees(second_stage_slope(t, grade)),
        overturn_slope_deg=known_degrees(overturn_slope(t, grade)),
        rigid_slope_deg=known_degrees(rigid_slope(t, grade)),
        slide_slope_deg=float(np.degrees(slide_slope(friction))),
        grade_hold_deg=known_degrees(hold),
        energy_to_tip_j=known(np.where(rests, energy_to_tip(t, slope, grade), np.nan)),
        critical_roll_rate_rad_s=known(
            np.where(rests, critical_roll_rate(t, slope, grade), np.nan)
        ),
        flaws=found,
        notes=(*fitted.notes, *fitted.warnings, *more),
    )
