"""How much is enough: the smallest spacer or rear ballast that reaches a wanted rigid slope."""

from collections.abc import Callable
from dataclasses import dataclass
from math import degrees, isnan, pi
from typing import Literal

from sidehill.advice.axles import axle_loads, axle_ratings
from sidehill.advice.lacks import lacks
from sidehill.advice.site import Site
from sidehill.advice.smallest import smallest_setting
from sidehill.errors import InputError
from sidehill.machine.build import fit
from sidehill.machine.file import Machine
from sidehill.machine.outfit import Outfit
from sidehill.statics.assembly import from_fitted
from sidehill.statics.slopes import lift_off_slope, overturn_slope
from sidehill.units import show, show_slope

Event = Literal["lift-off", "overturn"]
Axle = Literal["front", "rear"]

WIDEST_SPACER = 0.150  # [m] a side; usual rear ones are 1.5 to 3 in (common practice, no source)
MOST_BALLAST = 500.0  # [kg] where the file has no rating of the rear axle; chosen
_SLOPES = {"lift-off": lift_off_slope, "overturn": overturn_slope}
_SCAN = 33  # settings; closed form, so a fine scan costs little
_LENGTH_TOLERANCE = 1e-6  # [m]
_MASS_TOLERANCE = 1e-3  # [kg]


@dataclass(frozen=True)
class Enough:
    """The smallest setting that reaches a wanted slope, or that none does."""

    setting: float | None  # SI; None: none does up to `most`
    slope: float  # [rad] at that setting, or the steepest found if none does; NaN: there is none
    wanted: float  # [rad]
    most: float  # SI, the largest setting looked at
    words: str


def enough_spacer(
    machine: Machine,
    outfit: Outfit,
    wanted: float,
    axle: Axle = "rear",
    event: Event = "lift-off",
    site: Site | None = None,
    most: float = WIDEST_SPACER,
) -> Enough:
    """The thinnest spacer that brings the rigid slope of an event to the wanted one.

    Args:
        outfit: all else stays as it is in it; wanted: [rad]; event: "lift-off" or "overturn";
        site: its grade and downhill side hold, its slope does not; most: [m] a side.

    Raises:
        InputError: a slope out of range, or an outfit that does not suit the machine.
    """
    slope_of = _slope_of(machine, outfit, f"{axle}_spacer", event, site or Site())
    _check(wanted)
    found = smallest_setting(slope_of, wanted, most, _LENGTH_TOLERANCE, _SCAN)
    what = Sought(f"{axle} spacer", "length", " a side", event)
    return what.answer(found, wanted, most)


def enough_ballast(
    machine: Machine,
    outfit: Outfit,
    wanted: float,
    event: Event = "lift-off",
    site: Site | None = None,
    most: float | None = None,
) -> Enough:
    """The lightest rear box that brings the rigid slope of an event to the wanted one.

    Args:
        as in `enough_spacer`; most: [kg], else what the rear axle's rating leaves.

    Raises:
        InputError: a slope out of range, or an outfit that does not suit the machine.
    """
    _check(wanted)
    if machine.ballast.rear_box is None:
        missing = lacks(machine, "[ballast] rear_box")
        return Enough(None, float("nan"), wanted, 0.0, missing)
    most = _ballast_left(machine, outfit, machine.ballast.rear_box[0]) if most is None else most
    slope_of = _slope_of(machine, outfit, "rear_ballast", event, site or Site())
    found = smallest_setting(slope_of, wanted, most, _MASS_TOLERANCE, _SCAN)
    return Sought("rear box", "mass", "", event).answer(found, wanted, most)


def _check(wanted: float) -> None:
    if not 0.0 < wanted < pi / 2:
        raise InputError(f"wanted slope: {degrees(wanted):.6g} deg is not between 0 and 90 deg")


def _slope_of(
    machine: Machine, outfit: Outfit, option: str, event: Event, site: Site
) -> Callable[[float], float]:
    """[rad] of the event as a function of one option [SI]."""

    def slope(setting: float) -> float:
        fitted = fit(machine, outfit.with_values({option: setting}), site.downhill)
        return float(_SLOPES[event](from_fitted(fitted, site.downhill), site.grade))

    return slope


def _ballast_left(machine: Machine, outfit: Outfit, place: float) -> float:
    """[kg] of a box at that place [m] that brings the rear axle to its rating on the level."""
    rating = axle_ratings(machine)[1]
    if rating is None:
        return MOST_BALLAST
    rear = axle_loads(fit(machine, outfit.with_values({"rear_ballast": 0.0})))[1]
    a_kilogram = 1.0 - place / machine.body.wheelbase
    return max(rating - rear, 0.0) / a_kilogram


@dataclass(frozen=True)
class Sought:
    """What is looked for, for the words of the answer."""

    item: str
    kind: str
    each: str
    event: Event

    def answer(self, found: tuple[float | None, float], wanted: float, most: float) -> Enough:
        """The answer with its words; a setting rounds up, a slope down."""
        return Enough(*found, wanted, most, self._words(*found, wanted, most))

    def _words(self, setting: float | None, slope: float, wanted: float, most: float) -> str:
        limit = f"{show(most, self.kind, rounding='down')}{self.each}"
        target = f"a rigid {self.event} slope of {show_slope(wanted, 'up')}"
        reached = show_slope(slope, "down")
        if setting is None and isnan(slope):
            return f"no {self.item} up to {limit} gives this outfit any {self.event} slope"
        if setting is None:
            return f"no {self.item} up to {limit} reaches {target}; the most found is {reached}"
        if setting == 0.0:
            return f"{target} is reached without a {self.item}: it is {reached}"
        enough = f"{show(setting, self.kind, rounding='up')}{self.each}"
        return f"the smallest {self.item} that reaches {target} is {enough}"
