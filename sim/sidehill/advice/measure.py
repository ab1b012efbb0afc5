"""A slope that follows from an outfit, and how finely a setting is looked for by it."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal

from sidehill.advice.site import Site
from sidehill.machine.build import fit
from sidehill.machine.file import Machine
from sidehill.machine.outfit import Outfit
from sidehill.statics.assembly import from_fitted
from sidehill.statics.slopes import lift_off_slope, overturn_slope

Event = Literal["lift-off", "overturn"]

_SLOPES = {"lift-off": lift_off_slope, "overturn": overturn_slope}


@dataclass(frozen=True)
class Measure:
    """What "enough" is measured by; defaults are for closed form, where a fine scan is cheap."""

    name: str  # "rigid lift-off slope"
    slope_of: Callable[[Outfit], float]  # [rad], NaN where there is none; may be simulated
    scan: int = 33  # settings of the grid
    length_tolerance: float = 1e-6  # [m]
    mass_tolerance: float = 1e-3  # [kg]


def rigid(machine: Machine, event: Event, site: Site) -> Measure:
    """The closed form on rigid tyres; the site's grade and downhill side hold, its slope not."""

    def slope_of(outfit: Outfit) -> float:
        fitted = fit(machine, outfit, site.downhill)
        return float(_SLOPES[event](from_fitted(fitted, site.downhill), site.grade))

    return Measure(f"rigid {event} slope", slope_of)
