"""Page one, for the customer: every word of it, from what was found."""

from dataclasses import dataclass
from math import degrees
from typing import Any

from markupsafe import Markup

from sidehill.advice.apart import new_lines, past_words
from sidehill.advice.asks import asks
from sidehill.advice.changes import bought
from sidehill.advice.driven_enough import GOALS, DrivenEnough
from sidehill.files.units import show_slope
from sidehill.sheet.bank import bank_drawing, bank_words
from sidehill.sheet.findings import Findings
from sidehill.sheet.rows import Row, rows, shown_options
from sidehill.sheet.signs import Sign, spot_sign
from sidehill.sheet.strips_svg import axis_svg, legend
from sidehill.strip.spot import Spot

BACKWARD = (
    "tipping backward on starting uphill is not computed; the manual and a qualified person decide"
)


@dataclass(frozen=True)
class First:
    """Page one."""

    bank: str
    drawing: Markup
    answer: tuple[str, ...]
    rows: tuple[Row, ...]
    more: str  # how many options are in the appendix
    axis: Markup
    legend: tuple[tuple[Markup, str], ...]
    up_and_down: tuple[tuple[str, Sign, str], ...]  # which way, sign, what happens
    backward: str
    enough_for: str
    goals: tuple[str, ...]
    enough: tuple[tuple[str, tuple[str, ...]], ...]  # setting, how much by each goal
    new: tuple[str, ...]  # what is past a rule with some option only, each once
    already: tuple[str, ...]
    warnings: tuple[str, ...]
    asks: tuple[str, ...]


def first(found: Findings) -> First:
    """Everything on it."""
    shown = shown_options(found)
    return First(
        bank=bank_words(found),
        drawing=bank_drawing(found),
        answer=found.answer.lines,
        rows=rows(found),
        more=_more(found, len(shown)),
        axis=axis_svg(),
        legend=legend(),
        up_and_down=tuple(_way(name, spot) for name, spot in found.looks.up_and_down.items()),
        backward=BACKWARD,
        enough_for=_enough_for(found),
        goals=tuple(GOALS),
        enough=tuple(_enough(items, found.wish.us) for items in found.enough),
        new=new_lines(found.apart, shown, found.wish.us),
        already=tuple(past_words(item, found.wish.us) for item in found.apart.already),
        warnings=found.apart.warned,
        asks=asks(found.study.machine, _bought(found, shown)),
    )


def _more(found: Findings, shown: int) -> str:
    left = len(found.study.options) - 1 - len(found.looks.same_as_free()) - shown
    return f"{left} more of them are in the appendix." if left > 0 else ""


def _way(name: str, spot: Spot | str) -> tuple[str, Sign, str]:
    if isinstance(spot, str):
        return name, spot_sign(None), f"not computed: {spot}"
    return name, spot_sign(spot), spot.outcome.why


def _enough_for(found: Findings) -> str:
    own = degrees(found.study.scenario.ground.slope)
    asked = "this bank" if degrees(found.wanted) == own else "a bank"
    return f"{asked} of {show_slope(found.wanted)}"


def _enough(items: tuple[DrivenEnough, ...], us: bool) -> tuple[str, tuple[str, ...]]:
    """A setting and its answers; one where they are the same."""
    words = tuple(item.words(us) for item in items)
    return items[0].setting.name, words[:1] if len(set(words)) == 1 else words


def _bought(found: Findings, shown: tuple[str, ...]) -> frozenset[str]:
    delivered = found.study.options[0].outfit
    each = [bought(found.study.option(name).outfit, delivered) for name in shown]
    return frozenset().union(*each)


def first_data(found: Findings) -> dict[str, Any]:
    """The same for programs."""
    page = first(found)
    return {
        "bank": page.bank,
        "answer": list(page.answer),
        "ways": [row.to_dict() for row in page.rows],
        "up_and_down": [
            {"way": name, "sign": sign.kind, "happens": happens}
            for name, sign, happens in page.up_and_down
        ],
        "enough_for_deg": degrees(found.wanted),
        "enough": [item.to_dict() for items in found.enough for item in items],
        "already": list(page.already),
        "new": list(page.new),
        "measure_and_ask": list(page.asks),
    }
