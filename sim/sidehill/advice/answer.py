"""The answer to "how much is enough", in words: settings rounded up, slopes down."""

from dataclasses import dataclass
from math import isnan

from sidehill.files.units import Rounding, show, show_slope


@dataclass(frozen=True)
class Sought:
    """What is looked for."""

    item: str  # "rear spacer"
    kind: str  # of `units.show`
    each: str  # " a side", or nothing

    def amount(self, value: float, us: bool, rounding: Rounding) -> str:
        """A setting for a person."""
        return f"{show(value, self.kind, us=us, rounding=rounding)}{self.each}"


@dataclass(frozen=True)
class Enough:
    """The smallest setting that reaches a wanted slope, or that none does."""

    sought: Sought
    measure: str  # name of the slope
    setting: float | None  # SI; None: none does up to `most`
    slope: float  # [rad] at that setting, or the steepest found if none does; NaN: there is none
    wanted: float  # [rad]
    most: float  # SI, the largest setting looked at
    lack: str = ""  # why nothing could be looked for

    @property
    def words(self) -> str:
        """The whole answer in a sentence."""
        item, target = self.sought.item, f"a {self.measure} of {show_slope(self.wanted)}"
        limit, reached = (
            self.sought.amount(self.most, False, "down"),
            show_slope(self.slope, "down"),
        )
        if self.lack:
            return self.lack
        if self.setting is None and isnan(self.slope):
            return f"no {item} up to {limit} gives this outfit any {self.measure}"
        if self.setting is None:
            return f"no {item} up to {limit} reaches {target}; the most found is {reached}"
        if self.setting == 0.0:
            return f"{target} is reached without a {item}: it is {reached}"
        enough = self.sought.amount(self.setting, False, "up")
        return f"the smallest {item} that reaches {target} is {enough}"

    def cell(self, us: bool = False) -> str:
        """The answer for a table that names item, measure and wanted slope elsewhere."""
        if self.lack:
            return f"not checked: {self.lack}"
        limit = self.sought.amount(self.most, us, "down")
        if self.setting is None and isnan(self.slope):
            return f"none up to {limit}: there is no such slope"
        reached = show_slope(self.slope, "down")
        if self.setting is None:
            return f"none up to {limit}: {reached} is the most found"
        if self.setting == 0.0:
            return f"reached without one: {reached}"
        return self.sought.amount(self.setting, us, "up")
