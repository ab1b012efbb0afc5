"""The ways on page one: as delivered, what costs nothing, and the options with most effect."""

from collections.abc import Iterator
from dataclasses import dataclass
from math import degrees
from typing import Any

from markupsafe import Markup

from sidehill.advice.headline import happens
from sidehill.advice.look import Look
from sidehill.advice.reach import Reach
from sidehill.files.units import show_slope
from sidehill.sheet.costs import Costs, cost_words, costs_of
from sidehill.sheet.findings import Findings
from sidehill.sheet.signs import Sign, sign_of
from sidehill.sheet.strips_svg import strip_svg

MOST_OPTIONS = 8
DELIVERED, FREE, OPTION = "as delivered", "costs nothing", "to be bought or changed"


@dataclass(frozen=True)
class Row:
    """One way on the bank asked about."""

    name: str
    group: str
    look: Look
    sign: Sign
    happens: str
    reach: tuple[str, ...]  # how far, in short
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
    """All of page one, in order."""
    return tuple(_rows(found))


def _rows(found: Findings) -> Iterator[Row]:
    looks = found.looks
    yield _row(found, looks.delivered, DELIVERED)
    for look in looks.free.values():
        yield _row(found, look, FREE)
    for name in shown_options(found):
        yield _row(found, looks.options[name], OPTION)


def shown_options(found: Findings) -> tuple[str, ...]:
    """At most eight, those with most effect, as ranked; what is free stands among the free.

    Those that the answer speaks of are always among them.
    """
    free = found.looks.same_as_free()
    spoken = {offer.look.name for offer in found.answer.to_buy}
    names = [
        option.option
        for option in found.ranking.options
        if option.option != found.delivered and option.option not in free
    ]
    kept = sorted(names, key=lambda name: (name not in spoken, names.index(name)))[:MOST_OPTIONS]
    return tuple(name for name in names if name in kept)


def _row(found: Findings, look: Look, group: str) -> Row:
    costs = costs_of(found, look.name) if group != FREE else None
    return Row(
        name=look.name,
        group=group,
        look=look,
        sign=sign_of(look),
        happens=happens(look),
        reach=short_reach(look.reach),
        strip=Markup() if look.strip is None else _strip(found, look),
        costs=costs,
        cost_words=() if costs is None else tuple(cost_words(costs, found.wish.us)),
    )


def _strip(found: Findings, look: Look) -> Markup:
    assert look.strip is not None
    standing = found.standing.get(look.name)
    best = None
    if standing is not None and not isinstance(standing.lift_off, str):
        best = standing.lift_off.best
    return strip_svg(look.strip, degrees(found.study.scenario.ground.slope), best)


def short_reach(reach: Reach | None) -> tuple[str, ...]:
    """How far all wheels stay down, and how far one only hops, rounded down."""
    if reach is None:
        return ("not computed",)
    if reach.good_up_to is None:
        return (f"good on no slope tried, from {show_slope(reach.tried_from, 'up')}",)
    good = show_slope(reach.good_up_to, "down")
    open_end = "" if reach.ending is not None else " or more"
    if reach.planted_up_to is None:
        return ("a wheel hops on every slope", f"only hops to {good}{open_end}")
    planted = show_slope(reach.planted_up_to, "down")
    if planted == good:
        return (f"wheels down to {good}{open_end}",)
    return (f"wheels down to {planted}", f"only hops to {good}{open_end}")


def _deg(value: float | None) -> float | None:
    return None if value is None else degrees(value)
