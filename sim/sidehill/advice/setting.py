"""What may be set on a machine or in driving it, in the rounded amounts that people ask for."""

from collections.abc import Callable
from dataclasses import dataclass
from math import ceil, floor

from sidehill.advice.ballast import ballast_left
from sidehill.advice.enough import WIDEST_SPACER
from sidehill.advice.lacks import lacks
from sidehill.case import Case
from sidehill.files.units import Rounding, show, to_si
from sidehill.machine.loader import pin_height

FULLEST = 0.75  # of a tyre's volume: level with the valve at 12 o'clock (common practice)

# a step in metric and in US units; chosen, near what is sold or can be read off a gauge
_STEPS = {
    "length": ("5 mm", "0.25 in"),
    "mass": ("25 kg", "50 lb"),
    "speed": ("0.5 km/h", "0.25 mph"),
    "height": ("50 mm", "2 in"),
}
_FILL_STEP = 0.05
_SLOWEST = "0.5 km/h"


@dataclass(frozen=True)
class Setting:
    """One quantity with the values to try, in the order in which they are tried [SI]."""

    name: str  # "rear spacers"
    kind: str  # of `units.show`, or "fill"
    is_least: bool  # the smallest that is enough is looked for; else the largest that still is
    values: tuple[float, ...]
    change: Callable[[Case, float], Case]
    lack: str = ""  # why there is nothing to try

    def show(self, value: float, us: bool) -> str:
        """A value for a person, rounded to the careful side."""
        if self.kind == "fill":
            return f"{100.0 * value:.0f} % full"
        rounding: Rounding = "up" if self.is_least else "down"
        return show(value, self.kind, us=us, rounding=rounding)


def settings(case: Case, us: bool) -> tuple[Setting, ...]:
    """Rear spacers, fill, rear box, speed and bucket height, beyond what the case has."""
    return (_spacers(case, us), _fill(case), _box(case, us), _speed(case, us), _bucket(case, us))


def _step(kind: str, us: bool) -> float:
    return to_si(_STEPS[kind][us], "length" if kind == "height" else kind)


def _outfit(field: str) -> Callable[[Case, float], Case]:
    return lambda case, value: Case(
        case.machine, case.scenario, case.outfit.with_values({field: value}), case.settings
    )


def _above(own: float, most: float, step: float) -> tuple[float, ...]:
    """Rounded values over the case's own, up to the most."""
    return tuple(
        step * k for k in range(floor(own / step + 1e-9) + 1, floor(most / step + 1e-9) + 1)
    )


def _below(own: float, least: float, step: float) -> tuple[float, ...]:
    """Rounded values from the least up to the case's own."""
    first, beyond = ceil(least / step - 1e-9), ceil(own / step - 1e-9)
    return tuple(step * k for k in range(first, beyond))


def _spacers(case: Case, us: bool) -> Setting:
    values = _above(max(case.outfit.rear_spacer, 0.0), WIDEST_SPACER, _step("length", us))
    return Setting("rear spacers, a side", "length", True, values, _outfit("rear_spacer"))


def _fill(case: Case) -> Setting:
    values = _above(case.outfit.rear_fill, FULLEST, _FILL_STEP)
    return Setting("rear tyres filled", "fill", True, values, _outfit("rear_fill"))


def _box(case: Case, us: bool) -> Setting:
    place, change = case.machine.ballast.rear_box, _outfit("rear_ballast")
    if place is None:
        missing = lacks(case.machine, "[ballast] rear_box")
        return Setting("rear box", "mass", True, (), change, missing)
    most = ballast_left(case.machine, case.outfit, place[0])
    values = _above(case.outfit.rear_ballast, most, _step("mass", us))
    return Setting("rear box", "mass", True, values, change)


def _speed(case: Case, us: bool) -> Setting:
    own, step = case.scenario.drive.speed, _step("speed", us)
    values = _below(own, max(to_si(_SLOWEST, "speed"), step), step)
    lack = "" if values else "it is parked, or creeps already"
    if case.scenario.drive.then is not None:
        values, lack = (), "the scenario changes the speed on the way"
    return Setting(
        "speed", "speed", False, values,
        lambda at, value: at.with_scenario({"drive.speed": value}), lack,
    )  # fmt: skip


def _bucket(case: Case, us: bool) -> Setting:
    loader, change = case.machine.loader, _outfit("bucket_height")
    name = "bucket pin"
    if loader is None:
        return Setting(name, "length", False, (), change, lacks(case.machine, "[loader]"))
    if case.scenario.loader is not None:
        return Setting(name, "length", False, (), change, "the scenario moves the bucket")
    own = pin_height(loader, case.outfit.bucket_height)
    values = _below(own, loader.carry_height, _step("height", us))
    lack = "" if values else "it is carried low already"
    return Setting(name, "length", False, values, change, lack)
