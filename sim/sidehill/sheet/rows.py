"""The ways on page one: as delivered, what costs nothing, and the options with most effect."""

from dataclasses import dataclass
from math import degrees
from typing import Any

from markupsafe import Markup

from sidehill.advice.headline import happens
from sidehill.advice.look import Look
from sidehill.advice.reach import Reach
from sidehill.files.units import round_to, show, show_slope
from sidehill.run.facts import ARRIVED
from sidehill.run.outcome import Outcome
from sidehill.run.why import wheel_words
from sidehill.sheet.costs import Costs, cost_words, costs_of
from sidehill.sheet.findings import Findings
from sidehill.sheet.signs import Sign, sign_of
from sidehill.sheet.strips_svg import strip_svg

MOST_OPTIONS = 8
_EXPECTED = "uphill rear wheel"
_NEVER_MET = ("not_started", "over")  # of which nobody asks whether it met everything
DELIVERED, FREE, OPTION = "as delivered", "costs nothing", "to be bought or changed"


@dataclass(frozen=True)
class Row:
    """One way on the bank asked about."""

    name: str
    group: str
    look: Look
    sign: Sign
    happens: str  # in one line
    detail: str  # the same beside the sign's words
    reach: tuple[str, str]  # how far all wheels stay down, how far one only hops
    strip: Markup
    costs: Costs | None
    cost_words: tuple[str, ...]

    def to_dict(self) -> dict[str, Any]:
        """Plain values for JSON, angles in degrees."""
        look, reach = self.look, self.look.reach
        outcome = look.outcome
        return {
            "name": self.name,
            "group": self.group,
            "sign": self.sign.kind,
            "stability": None if outcome is None else outcome.stability,
            "progress": None if outcome is None else outcome.progress,
            "met": None if outcome is None else outcome.met,
            "is_good": look.is_good,
            "engines_agree": look.engines_agree,
            "happens": self.happens,
            "planted_up_to_deg": None if reach is None else _deg(reach.planted_up_to),
            "good_up_to_deg": None if reach is None else _deg(reach.good_up_to),
            "strip": None if look.strip is None else look.strip.to_dict(),
            "costs": None if self.costs is None else self.costs.to_dict(),
            "problem": look.problem or None,
        }


def rows(found: Findings) -> tuple[Row, ...]:
    """As delivered, what is free, and at most eight options, those with most effect."""
    looks = found.looks
    start = [_row(found, looks.delivered, DELIVERED)]
    start += [_row(found, look, FREE) for look in looks.free.values()]
    names = _by_effect(found)
    kept = sorted(names, key=lambda name: (name not in spoken_of(found), names.index(name)))
    return (
        *start,
        *(_row(found, looks.options[n], OPTION) for n in names if n in kept[:MOST_OPTIONS]),
    )


def spoken_of(found: Findings) -> set[str]:
    """Options that the answer names: they are always shown."""
    return {offer.look.name for offer in found.answer.to_buy}


def _by_effect(found: Findings) -> list[str]:
    """Options as ranked; as delivered, and what is free, stand elsewhere."""
    free = found.looks.same_as_free()
    return [
        option.option
        for option in found.ranking.options
        if option.option != found.delivered and option.option not in free
    ]


def _row(found: Findings, look: Look, group: str) -> Row:
    costs = costs_of(found, look.name) if group != FREE else None
    is_first = group == DELIVERED
    return Row(
        name=look.name,
        group=group,
        look=look,
        sign=sign_of(look),
        happens=happens(look),
        detail=detail(look),
        reach=short_reach(look.reach),
        strip=Markup() if look.strip is None else _strip(found, look),
        costs=costs,
        cost_words=() if costs is None else tuple(cost_words(costs, found.wish.us, is_first)),
    )


def _strip(found: Findings, look: Look) -> Markup:
    assert look.strip is not None
    standing = found.standing.get(look.name)
    best = None
    if standing is not None and not isinstance(standing.lift_off, str):
        best = standing.lift_off.best
    return strip_svg(look.strip, degrees(found.study.scenario.ground.slope), best)


def short_reach(reach: Reach | None) -> tuple[str, str]:
    """How far all wheels stay down, and how far one only hops, rounded down."""
    if reach is None:
        return "not known", "not known"
    more = "" if reach.ending is not None else " or more"

    def up_to(value: float | None) -> str:
        return "no slope" if value is None else show_slope(value, "down")

    return up_to(reach.planted_up_to), up_to(reach.good_up_to) + more


def detail(look: Look) -> str:
    """What the sign's words leave open: why it did not get there, how long a wheel was up.

    Which wheel is left out where it is the one that everybody expects.
    """
    outcome = look.outcome
    if outcome is None or not look.engines_agree:
        return happens(look)
    got = "" if outcome.progress in ARRIVED else outcome.why.split("; ")[0]
    missed = "" if outcome.met or outcome.progress in _NEVER_MET else "not all was met"
    return "; ".join(part for part in (got, _spell(look, outcome), missed) if part)


def _spell(look: Look, outcome: Outcome) -> str:
    """The longest time that a wheel was up, in short; nothing of a run that went over."""
    if not outcome.spells or outcome.progress in _NEVER_MET:
        return ""
    spell = max(outcome.spells, key=lambda item: item.end_s - item.start_s)
    wheel = wheel_words(spell.wheel, look.case.scenario.ground.uphill)
    time = round_to(outcome.longest_spell_s, 2, "up")
    daylight = show(outcome.most_daylight_m, "length", rounding="up")
    which = "" if wheel == _EXPECTED else f"{wheel} "
    return f"{which}up {time:.2f} s, {daylight}"


def _deg(value: float | None) -> float | None:
    return None if value is None else degrees(value)
