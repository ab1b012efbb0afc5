"""CG height by the lifting method."""

from functools import partial
from math import radians, tan

from sidehill.crosscheck.check import Check, Tolerance, last_digit
from sidehill.machine.weigh import raised_scale_height, read_scales

_SOURCE = "lifting method, ISO 789-6; example derived"
_MASS, _WHEELBASE, _CG_X, _CG_HEIGHT, _RADIUS = 1500.0, 1.70, 0.75, 0.70, 0.50
_SMALL_RADIUS = 0.31  # [m] of unequal front wheels
_READINGS = {10: 630.65, 15: 614.48, 20: 597.53, 25: 579.48}  # [deg] -> [kg], equal radii
_ONE_PERCENT = {10: 40.5, 15: 26.0, 20: 18.6, 25: 14.1}  # [deg] -> [mm]
_FORGOTTEN = {10: 78.0, 25: 70.0}  # [deg] -> [mm]
_ROUNDED = Tolerance(1e-4, False, "the readings are printed to 0.01 kg")


def _scale(degrees: float, front_radius: float = _RADIUS) -> float:
    """[kg] on the raised front axle: moments about the rear axle centre."""
    t = tan(radians(degrees))
    arm = _CG_X - (_CG_HEIGHT - _RADIUS) * t
    return _MASS * arm / (_WHEELBASE - (front_radius - _RADIUS) * t)


def _values(degrees: float, raised: float, front_radius: float = _RADIUS) -> dict[str, str]:
    level = _MASS * _CG_X / _WHEELBASE
    return {
        "level_front": f"{level} kg",
        "level_rear": f"{_MASS - level} kg",
        "raised_front": f"{raised} kg",
        "tilt": f"{degrees} deg",
        "wheelbase": f"{_WHEELBASE} m",
        "front_radius": f"{front_radius} m",
        "rear_radius": f"{_RADIUS} m",
        "scale_error": "1 %",
    }


def _height(degrees: float) -> float:
    """[m] from the printed reading."""
    return raised_scale_height(read_scales(_values(degrees, _READINGS[int(degrees)]))).height


def _moved(degrees: float) -> float:
    """[mm] by 1 % of the raised reading."""
    found = raised_scale_height(read_scales(_values(degrees, _scale(degrees))))
    return 1e3 * found.shares["raised_front"]


def _too_high(degrees: float) -> float:
    """[mm] with small front wheels taken to be as large as the rear ones."""
    raised = _scale(degrees, _SMALL_RADIUS)
    right, wrong = (
        raised_scale_height(read_scales(_values(degrees, raised, radius))).height
        for radius in (_SMALL_RADIUS, _RADIUS)
    )
    return 1e3 * (wrong - right)


CHECKS = (
    *(
        Check(
            name="Lifting method",
            quantity=f"CG height from {reading} kg at {degrees} deg",
            unit="m",
            expected=_CG_HEIGHT,
            tolerance=_ROUNDED,
            source=_SOURCE,
            status="derived",
            compute=partial(_height, degrees),
        )
        for degrees, reading in _READINGS.items()
    ),
    *(
        Check(
            name="Lifting method",
            quantity=f"1 % of the raised reading at {degrees} deg",
            unit="mm",
            expected=millimetres,
            tolerance=last_digit(0.1),
            source=_SOURCE,
            status="derived",
            compute=partial(_moved, degrees),
        )
        for degrees, millimetres in _ONE_PERCENT.items()
    ),
    *(
        Check(
            name="Lifting method",
            quantity=f"radius term forgotten, 0.50 and 0.31 m, at {degrees} deg",
            unit="mm",
            expected=millimetres,
            tolerance=last_digit(1.0),
            source=_SOURCE,
            status="derived",
            compute=partial(_too_high, degrees),
        )
        for degrees, millimetres in _FORGOTTEN.items()
    ),
)
