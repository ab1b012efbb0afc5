"""What a way costs the machine, beside as delivered, in a few words: loads and ratios up."""

from dataclasses import asdict, dataclass
from math import isfinite, nan
from typing import Any

from sidehill.advice.apart import new_names
from sidehill.advice.finding import Finding
from sidehill.advice.ranked import Ranked
from sidehill.files.units import round_to, show
from sidehill.sheet.cells import tyre_used_most
from sidehill.sheet.findings import Findings

_SAME = 1e-9
_HUB_AS_NOW = 1.005  # times as delivered: no more than that is not told


@dataclass(frozen=True)
class Costs:
    """SI; NaN: not known. Standing on the bank asked about; peaks of a run left out."""

    added_mass_kg: float
    front_axle_kg: float
    rear_axle_kg: float
    tyre_use: float  # of the rating, of the tyre that is nearest to its own
    added_tyre_use: float
    front_hub_ratio: float  # moment at the heaviest loaded bearing, to as delivered
    rear_hub_ratio: float
    width_m: float  # over the tyres
    added_width_m: float
    track_mismatch_m: float  # by which the rear tyres run outside the front ones, a side
    added_mismatch_m: float
    new: tuple[str, ...]  # what is past a rating or rule that as delivered keeps to

    def to_dict(self) -> dict[str, Any]:
        """Plain values for JSON."""
        return {
            name: None if isinstance(value, float) and not isfinite(value) else value
            for name, value in asdict(self).items()
        }


def costs_of(found: Findings, name: str) -> Costs:
    """Of an option of the study."""
    option, first = found.ranked(name), found.ranked(found.delivered)
    front, rear = option.price.axles
    mismatch, mismatch_before = (_mismatch(found, n) for n in (name, found.delivered))
    used, used_before = _tyre_use(option), _tyre_use(first)
    return Costs(
        added_mass_kg=option.costs["mass_kg"] - first.costs["mass_kg"],
        front_axle_kg=_value(front),
        rear_axle_kg=_value(rear),
        tyre_use=used,
        added_tyre_use=used - used_before,
        front_hub_ratio=_ratio(option.price.heaviest_bearing("front", "static")),
        rear_hub_ratio=_ratio(option.price.heaviest_bearing("rear", "static")),
        width_m=option.costs["tyre_width_m"],
        added_width_m=option.costs["tyre_width_m"] - first.costs["tyre_width_m"],
        track_mismatch_m=mismatch,
        added_mismatch_m=mismatch - mismatch_before,
        new=new_names(found.apart, name),
    )


def _value(finding: Finding) -> float:
    return nan if finding.value is None else finding.value


def _tyre_use(option: Ranked) -> float:
    return _ratio(tyre_used_most(option.price.tyres, "static"))


def _ratio(finding: Finding | None) -> float:
    return nan if finding is None or finding.ratio is None else finding.ratio


def _mismatch(found: Findings, name: str) -> float:
    finding = next(f for f in found.fits[name].widths if f.item == "tracks")
    return nan if finding.value is None else finding.value


def cost_words(costs: Costs, us: bool, is_first: bool = False) -> list[str]:
    """A few words each; what an option does not change is left out, but for the axles."""
    axles = "/".join(
        show(load, "mass", us=us, rounding="up").split(" ")[0]
        for load in (costs.front_axle_kg, costs.rear_axle_kg)
    )
    found = [f"{axles} {'lb' if us else 'kg'}"]
    if isfinite(costs.tyre_use) and (is_first or abs(costs.added_tyre_use) > _SAME):
        found.append(f"tyre {round_to(100.0 * costs.tyre_use, 0, 'up'):.0f} %")
    found += [
        f"{end} hub {_times(ratio)}"
        for end, ratio in (("front", costs.front_hub_ratio), ("rear", costs.rear_hub_ratio))
        if not ratio <= _HUB_AS_NOW
    ]
    if is_first or abs(costs.added_width_m) > _SAME:
        found.append(f"{_short(costs.width_m, us)} wide")
    if is_first or abs(costs.added_mismatch_m) > _SAME:
        found.append(f"{_short(abs(costs.track_mismatch_m), us)} apart")
    return found


def _short(length: float, us: bool) -> str:
    """A length in the first of its units alone."""
    return show(length, "length", us=us, rounding="up").split(" (")[0]


def _times(ratio: float) -> str:
    return f"{round_to(ratio, 2, 'up'):.2f} ×" if isfinite(ratio) else "not checked"
