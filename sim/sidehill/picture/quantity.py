"""A column of a table on an axis: its name in words, in a unit that people use."""

import re
from dataclasses import dataclass
from math import radians, tan
from typing import Any

import numpy as np
import pandas as pd
from numpy.typing import ArrayLike, NDArray

from sidehill.strip.words import EVENT_WORDS
from sidehill.study.field import SUFFIX

_UNITS = {  # suffix of a column -> (unit shown, its number in one of the column's)
    "m": ("mm", 1000.0),
    "m_s": ("km/h", 3.6),
    "deg": ("°", 1.0),
    "n": ("N", 1.0),
    "n_per_m": ("kN/m", 1e-3),
    "nm": ("N m", 1.0),
    "kg_m2": ("kg m²", 1.0),
    "kg_m3": ("kg/m³", 1.0),
    "hz": ("Hz", 1.0),
    "pa": ("kPa", 1e-3),
    "j": ("J", 1.0),
}
_LONGEST_MM = 1.5  # [m] lengths up to here are shown in mm
_PLAIN = {  # what a general rule would name badly
    "outfit.rear_spacer": "rear spacer, each side",
    "outfit.front_spacer": "front spacer, each side",
    "outfit.rear_ballast": "ballast in the rear box",
    "outfit.front_weight": "weights at the front",
    "outfit.bucket_load": "load in the bucket",
    "ground.slope": "side slope",
    "machine.weighed.cg_height": "CG height of the bare tractor",
    "machine.rear_tyre.stiffness": "rear tyre stiffness",
    "drive.speed": "speed",
    "feature.1.height": "height of the feature",
    "least_load_ratio": "least wheel load over its level load",
    "margin": "least wheel load over its level load",
    "peak_roll": "peak roll to the slope",
    "least_balance_angle": "least balance angle",
    "least_lift_off_angle": "least lift-off angle",
    "spell_count": "times a wheel was up",
    "longest_spell": "longest time a wheel was up",
    "most_daylight": "most daylight under a wheel",
} | {f"{event}_good_up_to": f"good up to, before {words}" for event, words in EVENT_WORDS.items()}
_UNSAID = ("machine", "outfit", "ground", "drive", "weighed", "body", "course")


@dataclass(frozen=True)
class Quantity:
    """How a column is shown."""

    words: str
    unit: str
    times: float  # from the column's unit to the one shown

    @property
    def label(self) -> str:
        """For an axis."""
        return f"{self.words} [{self.unit}]" if self.unit else self.words

    def shown(self, values: ArrayLike) -> NDArray[np.float64]:
        """Values in the unit shown."""
        return np.asarray(values, dtype=float) * self.times

    def tick(self, level: Any, between: str = " = ") -> str:
        """One value on an axis; a slope in % as well, after `between`."""
        if isinstance(level, str):
            return level
        number = f"{float(self.shown(level)):.4g}"
        if self.unit != "°" or "slope" not in self.words:
            return number
        return f"{number}{between}{100 * tan(radians(float(level))):.0f} %"

    def said(self, value: float) -> str:
        """One value with its unit, for a legend."""
        between = "" if self.unit == "°" else " "
        return f"{float(f'{value * self.times:.6g}'):g}{between}{self.unit}".strip()


def quantity(column: str, values: ArrayLike = ()) -> Quantity:
    """The column's words and unit.

    Args:
        values: that are to be shown: long lengths are in metres, short ones in millimetres.
    """
    suffixes = "|".join(sorted(filter(None, SUFFIX.values()), key=len, reverse=True))
    parts = re.fullmatch(rf"(.+?)(?:_({suffixes}))?", column)
    assert parts is not None
    stem, suffix = parts[1], parts[2] or ""
    unit, times = _UNITS.get(suffix, (suffix, 1.0))
    if (
        suffix == "m"
        and np.nanmax(np.abs(np.asarray(values, dtype=float)), initial=0.0) > _LONGEST_MM
    ):
        unit, times = "m", 1.0
    return Quantity(_words(stem), unit, times)


def quantity_of(column: pd.Series) -> Quantity:
    """The quantity of a column with its values."""
    is_number = pd.api.types.is_numeric_dtype(column)
    return quantity(str(column.name), column.to_numpy(dtype=float) if is_number else ())


def _words(stem: str) -> str:
    if stem in _PLAIN or stem in EVENT_WORDS:
        return _PLAIN.get(stem) or EVENT_WORDS[stem]
    numbered = re.fullmatch(r"feature\.(\d+)\.(\w+)", stem)
    if numbered:
        return f"{numbered[2]} of feature {numbered[1]}".replace("_", " ")
    kept = [part for part in stem.split(".") if part not in _UNSAID]
    return " ".join(kept).replace("_", " ").replace("cg ", "CG ") or stem
