"""One option in its place: what it buys, what it costs."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from math import degrees, inf, nan

import numpy as np

from sidehill.advice.changes import changes
from sidehill.advice.finding import Finding
from sidehill.advice.loaded import Worked
from sidehill.advice.look import Look
from sidehill.advice.price import Price, price
from sidehill.advice.site import Site
from sidehill.advice.width import tyre_width
from sidehill.machine.build import fit
from sidehill.machine.fitted import Fitted
from sidehill.statics.report import TipReport, tip
from sidehill.study.study import Option, Study

Peaks = Mapping[str, Mapping[str, float]]  # option -> wheel -> [N]

# What is bought (more is better) and what it costs (less is better), each with the difference
# that counts when options are compared: a search's tolerance, or what a shop cannot tell apart.
BUYS = {
    "good_up_to_deg": 0.04,
    "planted_up_to_deg": 0.04,
    "off_stop_up_to_deg": 0.04,
    "upright_up_to_deg": 0.04,
    "least_lift_off_slope_deg": 0.05,
    "lift_off_slope_deg": 0.05,
    "overturn_slope_deg": 0.05,
    "energy_to_tip_j": 5.0,
}
COSTS = {
    "tyre_width_m": 0.005,
    "mass_kg": 5.0,
    "bearing_ratio": 0.05,  # an axle's heaviest loaded bearing standing, to as delivered
    "rating_use": 0.05,  # largest part of a rating or rule that was checked, peaks left out
}


@dataclass(frozen=True)
class Known:
    """What is known of the options beyond closed form, each by option; may be empty."""

    looks: Mapping[str, Look] = field(default_factory=dict)  # what each does driven
    peaks: Peaks = field(default_factory=dict)  # `Outcome.peak_load_n`
    least: Mapping[str, float] = field(default_factory=dict)  # [deg] lower end of lift-off


@dataclass(frozen=True)
class Ranked:
    """One option. NaN: not known, which is never good."""

    option: str
    place: int | None  # from 1; None: the figure that decides is not known
    buys: dict[str, float]  # keys of BUYS
    gains: dict[str, float]  # the same, less as delivered
    costs: dict[str, float]  # keys of COSTS
    changed: frozenset[str]  # kinds of change from as delivered
    is_pareto: bool  # known in all that is compared, and beaten by no other on every count
    price: Price
    problem: str | None  # what failed in its simulation


def priced(study: Study, option: Option, site: Site, known: Known) -> Ranked:
    """An option before it is compared with others."""
    machine, first, peaks = study.machine, study.options[0], known.peaks
    driven = known.looks.get(option.name)
    fitted = fit(machine, option.outfit, site.downhill)
    cost = price(
        machine,
        Worked(option.outfit, peaks.get(option.name, {})),
        Worked(first.outfit, peaks.get(first.name, {})),
        site,
    )
    return Ranked(
        option=option.name,
        place=None,
        buys={"least_lift_off_slope_deg": known.least.get(option.name, nan)}
        | _statics(tip(fitted, site.slope, site.grade, downhill=site.downhill), site)
        | _driven(driven),
        gains={},
        costs=_costs(fitted, cost),
        changed=changes(machine, option.outfit, first.outfit),
        is_pareto=False,
        price=cost,
        problem=(driven.problem or None) if driven is not None else None,
    )


def _statics(report: TipReport, site: Site) -> dict[str, float]:
    lift = _number(report.lift_off_slope_deg)
    energy = _number(report.energy_to_tip_j)
    if np.radians(lift) <= site.slope:
        energy = 0.0  # it does not even rest on this slope
    return {
        "lift_off_slope_deg": lift,
        "overturn_slope_deg": _number(report.overturn_slope_deg),
        "energy_to_tip_j": energy,
    }


def _driven(look: Look | None) -> dict[str, float]:
    """How far its strip is good, and short of worse; 0 where even the lowest slope is not."""
    names = ("good_up_to_deg", "planted_up_to_deg", "off_stop_up_to_deg", "upright_up_to_deg")
    if look is None or look.reach is None or look.strip is None:
        return dict.fromkeys(names, nan)
    reach, strip = look.reach, look.strip
    ends = (
        reach.good_up_to,
        reach.planted_up_to,
        strip.limit("on_stop").good_up_to,
        strip.limit("overturned").good_up_to,
    )
    return {name: degrees(end or 0.0) for name, end in zip(names, ends, strict=True)}


def _number(value: float | None) -> float:
    return nan if value is None else value


def _costs(fitted: Fitted, cost: Price) -> dict[str, float]:
    bearings = [cost.heaviest_bearing(end, "static") for end in ("front", "rear")]
    ratios = [bearing.ratio for bearing in bearings if bearing and bearing.ratio is not None]
    uses = [
        _use(finding)
        for finding in cost.findings
        if finding.judgement != "not checked" and not finding.what.startswith("peak")
    ]
    return {
        "tyre_width_m": tyre_width(fitted),
        "mass_kg": fitted.mass,
        "bearing_ratio": max(ratios, default=nan),
        "rating_use": max(uses, default=nan),
    }


def _use(finding: Finding) -> float:
    """How much of its limit is used; a share below nothing is past any limit."""
    if finding.ratio is None:
        return inf if finding.judgement == "over" else 0.0
    return finding.ratio
