"""How much of a setting is enough on a bank, by the driven facts of whole strips."""

from collections.abc import Callable
from dataclasses import dataclass
from math import radians
from typing import Any

from sidehill.advice.look import Means, checked_spot, strip_of
from sidehill.advice.setting import Setting
from sidehill.case import Case
from sidehill.engines import THREADED
from sidehill.files.errors import SidehillError
from sidehill.run.facts import NOT_ACROSS
from sidehill.strip.spot import Spot, run_spot
from sidehill.workers import mapped

_FLATTEST = radians(1.0)  # where a strip begins


def is_planted(spot: Spot) -> bool:
    """Whether it got there, met everything, and no wheel came up, in every engine asked."""
    return spot.is_good and spot.is_short_of("hopped")


def is_good(spot: Spot) -> bool:
    """The same, a hop allowed."""
    return spot.is_good


GOALS: dict[str, Callable[[Spot], bool]] = {
    "all wheels stay down": is_planted,
    "a wheel only hops": is_good,
}
_UNTIL = {
    "all wheels stay down": ("hopped", NOT_ACROSS),
    "a wheel only hops": ("lifted", NOT_ACROSS),
}


@dataclass(frozen=True)
class DrivenEnough:
    """The answer for one setting and one goal. SI; `value` None: no setting tried is enough."""

    setting: Setting
    goal: str  # a key of `GOALS`
    wanted: float  # [rad] slope up to which it must hold
    value: float | None
    is_already: bool = False  # as delivered is enough
    gaps: tuple[float, ...] = ()  # larger settings that are not enough on the wanted slope

    def words(self, us: bool = False) -> str:
        """In a few words, beside the setting's name."""
        setting = self.setting
        if setting.lack:
            return f"not looked for: {setting.lack}"
        if self.is_already:
            return "enough as it is"
        if self.value is not None and self.gaps:
            gap = setting.show(self.gaps[0], us)
            return f"{setting.show(self.value, us)}, but not {gap}"
        if self.value is not None:
            bound = "at least" if setting.is_least else "at most"
            return f"{bound} {setting.show(self.value, us)}"
        if not setting.values:
            return "none left to try"
        if setting.is_least:
            return f"none up to {setting.show(max(setting.values), us)}"
        return f"none down to {setting.show(min(setting.values), us)}"

    def to_dict(self) -> dict[str, Any]:
        """Plain values for JSON; a length in m, a mass in kg, a speed in m/s, a fill as a part."""
        tried = self.setting.values
        return {
            "setting": self.setting.name,
            "goal": self.goal,
            "value": self.value,
            "not": list(self.gaps),
            "is_least": self.setting.is_least,
            "is_already": self.is_already,
            "tried_from": min(tried, default=None),
            "tried_to": max(tried, default=None),
            "lack": self.setting.lack or None,
        }


def driven_enough(
    case: Case, setting: Setting, wanted: float, means: Means, already: dict[str, bool]
) -> tuple[DrivenEnough, ...]:
    """The smallest rounded setting that reaches each goal over the whole strip up to a slope.

    Every rounded setting is run on the wanted slope; those that reach the goal there are taken as
    whole strips, one after the other, until one does throughout. More is not always better: larger
    ones that are not enough are named with it. Of what is to be kept low (speed, bucket) the
    largest is looked for below which all rounded ones reach the goal on the wanted slope as well.

    Args:
        case: as delivered; already: by goal, whether it is reached as delivered.
    """
    if setting.lack:
        return tuple(DrivenEnough(setting, goal, wanted, None) for goal in GOALS)
    at = case.with_slope(wanted)

    def run_at(value: float) -> Spot | None:
        try:
            return run_spot(setting.change(at, value), wanted, means.engine)
        except SidehillError:
            return None  # what a setting cannot be is not enough

    todo = not all(already.values())
    spots = mapped(run_at, setting.values, means.engine in THREADED) if todo else []
    return tuple(
        DrivenEnough(setting, goal, wanted, None, is_already=True)
        if already[goal]
        else _search(at, setting, goal, wanted, means, spots)
        for goal in GOALS
    )


def _search(
    at: Case, setting: Setting, goal: str, wanted: float, means: Means, spots: list[Spot | None]
) -> DrivenEnough:
    good = [spot is not None and GOALS[goal](spot) for spot in spots]
    if setting.is_least:
        able = [value for value, ok in zip(setting.values, good, strict=True) if ok]
    else:
        count = good.index(False) if False in good else len(good)
        able = list(reversed(setting.values[:count]))
    for value in able:
        if holds_throughout(setting.change(at, value), goal, wanted, means):
            gaps = [v for v, ok in zip(setting.values, good, strict=True) if v > value and not ok]
            told = tuple(gaps) if setting.is_least else ()
            return DrivenEnough(setting, goal, wanted, value, gaps=told)
    return DrivenEnough(setting, goal, wanted, None)


def holds_throughout(case: Case, goal: str, wanted: float, means: Means) -> bool:
    """Whether a goal is reached on every slope tried up to the wanted one, in both engines.

    Args:
        case: on the wanted slope.
    """
    try:
        if not GOALS[goal](checked_spot(case, means)):
            return False
        if wanted <= _FLATTEST:
            return True
        strip = strip_of(case, means, up_to=wanted, until=_UNTIL[goal])
    except SidehillError:
        return False
    return all(GOALS[goal](spot) for spot in strip.spots)
