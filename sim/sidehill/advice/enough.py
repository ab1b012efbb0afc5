"""How much is enough: the smallest spacer or rear ballast that reaches a wanted slope."""

from collections.abc import Callable
from math import degrees, isfinite, pi
from typing import Literal

import numpy as np
from scipy.optimize import brentq

from sidehill.advice.answer import Enough, Sought
from sidehill.advice.ballast import ballast_left
from sidehill.advice.lacks import lacks
from sidehill.advice.measure import Event, Measure, rigid
from sidehill.advice.site import Site
from sidehill.files.errors import InputError
from sidehill.machine.file import Machine
from sidehill.machine.outfit import Outfit

Axle = Literal["front", "rear"]

WIDEST_SPACER = 0.150  # [m] a side; usual rear ones are 1.5 to 3 in (common practice, no source)


def enough_spacer(
    machine: Machine,
    outfit: Outfit,
    wanted: float,
    axle: Axle = "rear",
    event: Event = "lift-off",
    site: Site | None = None,
    most: float = WIDEST_SPACER,
    measure: Measure | None = None,
) -> Enough:
    """The thinnest spacer that brings a slope to the wanted one.

    Args:
        outfit: all else stays as it is in it; wanted: [rad]; event: "lift-off" or "overturn", of
        the rigid slope that is measured by unless `measure` is given; site: its grade and
        downhill side hold, its slope does not; most: [m] a side.

    Raises:
        InputError: a slope out of range, or an outfit that does not suit the machine.
    """
    _check(wanted)
    by = measure or rigid(machine, event, site or Site())
    slope_of = _over(by, outfit, f"{axle}_spacer")
    found = smallest_setting(slope_of, wanted, most, by.length_tolerance, by.scan)
    return Enough(Sought(f"{axle} spacer", "length", " a side"), by.name, *found, wanted, most)


def enough_ballast(
    machine: Machine,
    outfit: Outfit,
    wanted: float,
    event: Event = "lift-off",
    site: Site | None = None,
    most: float | None = None,
    measure: Measure | None = None,
) -> Enough:
    """The lightest rear box that brings a slope to the wanted one.

    Args:
        as in `enough_spacer`; most: [kg], else what the rear axle's rating leaves.

    Raises:
        InputError: a slope out of range, or an outfit that does not suit the machine.
    """
    _check(wanted)
    by = measure or rigid(machine, event, site or Site())
    sought = Sought("rear box", "mass", "")
    if machine.ballast.rear_box is None:
        missing = lacks(machine, "[ballast] rear_box")
        return Enough(sought, by.name, None, float("nan"), wanted, 0.0, missing)
    most = ballast_left(machine, outfit, machine.ballast.rear_box[0]) if most is None else most
    slope_of = _over(by, outfit, "rear_ballast")
    found = smallest_setting(slope_of, wanted, most, by.mass_tolerance, by.scan)
    return Enough(sought, by.name, *found, wanted, most)


def _check(wanted: float) -> None:
    if not 0.0 < wanted < pi / 2:
        raise InputError(f"wanted slope: {degrees(wanted):.6g} deg is not between 0 and 90 deg")


def _over(measure: Measure, outfit: Outfit, option: str) -> Callable[[float], float]:
    """[rad] of the measure as a function of one option [SI]."""
    return lambda setting: measure.slope_of(outfit.with_values({option: setting}))


_NO_SLOPE = -pi / 2  # [rad] stands for a setting at which the machine has no slope at all


def smallest_setting(
    slope_of: Callable[[float], float],
    wanted: float,
    most: float,
    tolerance: float,
    scan: int = 9,
) -> tuple[float | None, float]:
    """The smallest setting from 0 to `most` with `slope_of(setting) >= wanted`, and its slope.

    A scan finds the first rise through the wanted slope, a root search narrows it (Brent's method,
    scipy) to the tolerance, and the end that reaches the wanted slope is taken. More need not be
    steeper everywhere: a rise and fall within one spacing of the scan is not seen.

    Args:
        slope_of: [rad] of a setting [SI], NaN where there is none; may be a simulated limit.
        wanted: [rad]; most, tolerance: [SI] of the setting; scan: settings of the grid.

    Returns:
        The setting and its slope; if none reaches it, None and the steepest slope of the scan
        (NaN if there is none).
    """
    slopes: dict[float, float] = {}

    def excess(setting: float) -> float:
        if setting not in slopes:
            slope = float(slope_of(setting))
            slopes[setting] = slope if isfinite(slope) else _NO_SLOPE
        return slopes[setting] - wanted

    grid = [float(setting) for setting in np.linspace(0.0, most, scan)]
    first = next((k for k, setting in enumerate(grid) if excess(setting) >= 0.0), None)
    if first is None:
        best = max(slopes.values())
        return None, best if best > _NO_SLOPE else float("nan")
    if first > 0:
        brentq(excess, grid[first - 1], grid[first], xtol=tolerance)
    setting = min(setting for setting, slope in slopes.items() if slope >= wanted)
    return setting, slopes[setting]
