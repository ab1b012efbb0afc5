"""What is known of an option at once, in closed form: slopes standing still, and what it costs."""

from dataclasses import dataclass
from functools import lru_cache
from math import nan, radians

import numpy as np

from sidehill.advice.apart import apart, new_lines, new_names, past_words
from sidehill.advice.fit import Fit, check_fit
from sidehill.advice.loaded import Worked
from sidehill.advice.price import Price, price
from sidehill.advice.site import Site
from sidehill.advice.warnings import beside_ratings, site_of
from sidehill.advice.width import tyre_width
from sidehill.machine.build import fit
from sidehill.machine.file import Machine
from sidehill.machine.fitted import Fitted
from sidehill.machine.outfit import Outfit
from sidehill.sheet.cells import tyre_used_most
from sidehill.sheet.costs import Costs
from sidehill.spread.closed import lift_off_answer, overturn_answer
from sidehill.spread.inputs import inputs
from sidehill.spread.subject import Subject
from sidehill.study.study import Study

_DELIVERED, _OPTION = "first", "option"  # names within the comparison


@dataclass(frozen=True)
class Figures:
    """Of one option. Slopes [rad], best estimates; NaN: not computed."""

    lift_off: float  # standing still, on tyres that give
    overturn: float  # standing still, closed form, rigid tyres
    flaw: str  # why it does not stand on the level; empty if it does
    costs: Costs
    already: tuple[str, ...]  # past a rating or rule as the first option has it
    new: tuple[str, ...]  # past one that the first option keeps to
    warned: tuple[str, ...]  # besides, of the first option
    warned_too: tuple[str, ...]  # besides, of another kind, with this one


def figures_of(study: Study, outfit: Outfit) -> Figures:
    """Of an outfit beside the study's first option, standing on its bank.

    Raises:
        InputError: the outfit does not suit the machine.
    """
    first, site = study.options[0].outfit, site_of(study.scenario.ground)
    judged = {
        name: _judged(study.machine, one, first, site)
        for name, one in ((_DELIVERED, first), (_OPTION, outfit))
    }
    prices = {name: one[0] for name, one in judged.items()}
    told = apart(
        {name: (*prices[name].findings, *one[1].findings) for name, one in judged.items()},
        {name: one[3] for name, one in judged.items()},
        _DELIVERED,
    )
    own, before = judged[_OPTION][2], judged[_DELIVERED][2]
    spread = [(f.rear_track - f.front_track) / 2.0 for f in (own, before)]
    used = [_tyre_use(prices[name]) for name in (_OPTION, _DELIVERED)]
    costs = Costs(
        added_mass_kg=own.mass - before.mass,
        front_axle_kg=_value(prices[_OPTION], 0),
        rear_axle_kg=_value(prices[_OPTION], 1),
        tyre_use=used[0],
        added_tyre_use=used[0] - used[1],
        front_hub_ratio=_hub(prices[_OPTION], "front"),
        rear_hub_ratio=_hub(prices[_OPTION], "rear"),
        width_m=tyre_width(own),
        added_width_m=tyre_width(own) - tyre_width(before),
        track_mismatch_m=spread[0],
        added_mismatch_m=spread[0] - spread[1],
        new=new_names(told, _OPTION),
    )
    return Figures(
        *_slopes(Subject(study.machine, outfit, gaps={})),
        costs=costs,
        already=tuple(past_words(finding) for finding in told.already),
        new=new_lines(told, [_OPTION]),
        warned=told.warned,
        warned_too=told.warned_too[_OPTION],
    )


@lru_cache(maxsize=64)
def _judged(
    machine: Machine, outfit: Outfit, first: Outfit, site: Site
) -> tuple[Price, Fit, Fitted, tuple[str, ...]]:
    """An outfit's price, fit, parts and warnings; the first option's are asked for often."""
    found = price(machine, Worked(outfit), Worked(first), site)
    fitted = fit(machine, outfit, site.downhill)
    warned = beside_ratings(machine, outfit, site.downhill)
    return found, check_fit(machine, outfit, site), fitted, warned


def _slopes(subject: Subject) -> tuple[float, float, str]:
    """[rad] lift-off and overturn at best, and why there are none."""
    if subject.flaw:
        return nan, nan, subject.flaw
    best = {name: np.array(item.best) for name, item in inputs(subject).items()}
    found = [float(answer(subject)(best)) for answer in (lift_off_answer, overturn_answer)]
    lift, over = (radians(value) for value in found)
    return lift, over, ""


def _value(found: Price, place: int) -> float:
    value = found.axles[place].value
    return nan if value is None else value


def _tyre_use(found: Price) -> float:
    most = tyre_used_most(found.tyres, "static")
    return nan if most is None or most.ratio is None else most.ratio


def _hub(found: Price, end: str) -> float:
    most = found.heaviest_bearing(end, "static")
    return nan if most is None or most.ratio is None else most.ratio
