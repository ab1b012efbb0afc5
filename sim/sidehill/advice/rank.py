"""The options of a study ranked by what they buy, beside what they cost."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from math import isnan

import numpy as np
from numpy.typing import NDArray

from sidehill.advice.look import Look
from sidehill.advice.ranked import BUYS, COSTS, Known, Peaks, Ranked, priced
from sidehill.advice.site import Site
from sidehill.files.errors import InputError
from sidehill.statics.vector import Array
from sidehill.study.study import Study


@dataclass(frozen=True)
class Ranking:
    """Options from best to worst; those without the deciding figure come last, unplaced."""

    by: str  # the figure that decides, a key of BUYS
    options: tuple[Ranked, ...]


def rank(
    study: Study,
    looks: Mapping[str, Look] | None = None,
    peaks: Peaks | None = None,
    by: str = "lift_off_slope_deg",
    steepest_grade: float = 0.0,
    least: Mapping[str, float] | None = None,
) -> Ranking:
    """The study's options ranked; its first option is the one as delivered.

    Args:
        looks: by option, what it does driven; without it that is not known.
        peaks: `Outcome.peak_load_n` by option, for prices.
        by: the figure that decides, a key of `BUYS`.
        steepest_grade: [rad] met while working, for prices.
        least: [deg] by option: the lower end of its lift-off slope on tyres.

    Raises:
        InputError: `by` is no figure of the ranking.
    """
    if by not in BUYS:
        raise InputError(f"rank by '{by}' is not known; use {', '.join(BUYS)}")
    site = Site.of(study.scenario.ground, steepest_grade)
    known = Known(looks or {}, peaks or {}, least or {})
    found = [priced(study, option, site, known) for option in study.options]
    found = [
        replace(option, gains=_gains(option, found[0]), is_pareto=bool(best))
        for option, best in zip(found, _best_kept(found), strict=True)
    ]
    found.sort(key=lambda option: _order(option, by))
    placed = [
        replace(option, place=None if isnan(option.buys[by]) else place)
        for place, option in enumerate(found, start=1)
    ]
    return Ranking(by, tuple(placed))


def _gains(option: Ranked, first: Ranked) -> dict[str, float]:
    return {name: value - first.buys[name] for name, value in option.buys.items()}


def _best_kept(options: Sequence[Ranked]) -> NDArray[np.bool_]:
    """Which are in the Pareto set; a figure that no option has is left out of the comparison."""
    figures = np.array(
        [
            [option.buys[name] / step for name, step in BUYS.items()]
            + [-option.costs[name] / step for name, step in COSTS.items()]
            for option in options
        ]
    )
    return pareto(np.round(figures[:, ~np.isnan(figures).all(axis=0)]))


_THEN = ("planted_up_to_deg", "off_stop_up_to_deg", "upright_up_to_deg")


def _order(option: Ranked, by: str) -> tuple[float, ...]:
    """Best first; equal ones by what else they do driven, then mass, then width."""
    bought = [option.buys[name] for name in (by, *_THEN)]
    costs = option.costs["mass_kg"], option.costs["tyre_width_m"]
    return (isnan(bought[0]), *(0.0 if isnan(value) else -value for value in bought), *costs)


def pareto(figures: Array) -> NDArray[np.bool_]:
    """(n,) True where no other row is at least as good in all columns and better in one.

    Args:
        figures: (n, k), more is better; a row with NaN is unknown: never in the set, beats none.
    """
    known = ~np.isnan(figures).any(axis=1)
    rivals, own = figures[:, None, :], figures[None, :, :]
    with np.errstate(invalid="ignore"):
        beats = (rivals >= own).all(axis=2) & (rivals > own).any(axis=2)
    return np.asarray(known & ~beats.any(axis=0), dtype=np.bool_)
