"""How much of a setting is enough on a bank, by the driven facts of whole strips."""

from dataclasses import dataclass
from math import radians
from typing import Any

from sidehill.advice.look import Means, checked_spot, strip_of
from sidehill.advice.setting import Setting
from sidehill.case import Case
from sidehill.engines import THREADED
from sidehill.files.errors import SidehillError
from sidehill.run.facts import NOT_ACROSS
from sidehill.strip.spot import run_spot
from sidehill.workers import mapped

_FLATTEST = radians(1.0)  # where a strip begins


@dataclass(frozen=True)
class DrivenEnough:
    """The answer for one setting. SI; `value` None: no setting tried is enough."""

    setting: Setting
    wanted: float  # [rad] slope up to which all must be good
    value: float | None
    is_already: bool  # as delivered is enough
    lack: str = ""  # why nothing could be looked for
    gaps: tuple[float, ...] = ()  # settings past it that are not good on the wanted slope

    def words(self, us: bool = False) -> str:
        """In a few words, beside the setting's name."""
        if self.lack:
            return f"not looked for: {self.lack}"
        if self.is_already:
            return "enough as it is"
        if self.value is not None and self.gaps:
            gaps = " or ".join(self.setting.show(gap, us) for gap in self.gaps[:2])
            return f"{self.setting.show(self.value, us)}, but not {gaps}"
        if self.value is not None:
            bound = "at least" if self.setting.is_least else "at most"
            return f"{bound} {self.setting.show(self.value, us)}"
        tried = self.setting.values
        if not tried:
            return "none left to try"
        if self.setting.is_least:
            return f"none up to {self.setting.show(max(tried), us)} is enough"
        return f"none down to {self.setting.show(min(tried), us)} is enough"

    def to_dict(self) -> dict[str, Any]:
        """Plain values for JSON; a length in m, a mass in kg, a speed in m/s, a fill as a part."""
        tried = self.setting.values
        return {
            "setting": self.setting.name,
            "value": self.value,
            "not": list(self.gaps),
            "is_least": self.setting.is_least,
            "is_already": self.is_already,
            "tried_from": min(tried, default=None),
            "tried_to": max(tried, default=None),
            "lack": self.lack or None,
        }


def driven_enough(
    case: Case, setting: Setting, wanted: float, means: Means, is_already: bool
) -> DrivenEnough:
    """The smallest rounded setting whose whole strip up to the wanted slope is good.

    Every rounded setting is run on the wanted slope; those that are good there are taken as whole
    strips, one after the other, until one is good throughout. More is not always better: larger
    ones that are not good are named with it. Of what is to be kept low (speed, bucket) the largest
    is looked for below which all rounded ones are good on the wanted slope as well.

    Args:
        case: as delivered; is_already: whether its own strip is good up to there.
    """
    if setting.lack or is_already:
        return DrivenEnough(setting, wanted, None, is_already and not setting.lack, setting.lack)
    at = case.with_slope(wanted)

    def passes(value: float) -> bool:
        try:
            return run_spot(setting.change(at, value), wanted, means.engine).is_good
        except SidehillError:
            return False  # what a setting cannot be is not enough

    good = mapped(passes, setting.values, means.engine in THREADED)
    if setting.is_least:
        able = [value for value, ok in zip(setting.values, good, strict=True) if ok]
    else:
        count = good.index(False) if False in good else len(good)
        able = list(reversed(setting.values[:count]))
    for value in able:
        if is_good_throughout(setting.change(at, value), wanted, means):
            gaps = [s for s, ok in zip(setting.values, good, strict=True) if s > value and not ok]
            return DrivenEnough(
                setting, wanted, value, False, gaps=tuple(gaps) if setting.is_least else ()
            )
    return DrivenEnough(setting, wanted, None, False)


def is_good_throughout(case: Case, wanted: float, means: Means) -> bool:
    """Whether every slope tried up to the wanted one is good, itself included, in both engines."""
    try:
        if not checked_spot(case, means).is_good:
            return False
        if wanted <= _FLATTEST:
            return True
        strip = strip_of(case, means, up_to=wanted, until=("lifted", NOT_ACROSS))
    except SidehillError:
        return False
    return all(spot.is_good for spot in strip.spots)
