"""Page one, for the customer: every word of it, from what was found."""

from dataclasses import dataclass
from math import degrees
from typing import Any

from markupsafe import Markup

from sidehill.advice.apart import new_lines, past_words
from sidehill.advice.asks import asks
from sidehill.advice.changes import bought
from sidehill.advice.driven_enough import GOALS, DrivenEnough
from sidehill.files.units import NOT_COMPUTED, show_slope
from sidehill.sheet.bank import bank_drawing, bank_words
from sidehill.sheet.findings import Findings
from sidehill.sheet.room import bottom, is_one_page, top, way
from sidehill.sheet.rows import OPTION, Row, rows, spoken_of
from sidehill.sheet.signs import Sign, spot_sign
from sidehill.sheet.strips_svg import axis_svg, legend, pattern
from sidehill.strip.spot import Spot

FEWEST = 2  # options that stay however long their words are
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
    pattern: Markup
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
    """Everything on it, with as many options as there is room for."""
    ways = list(rows(found))
    page = _with(found, ways)
    while not fits(page) and (last := _least(found, ways)) is not None:
        ways.remove(last)
        page = _with(found, ways)
    return page


def _least(found: Findings, ways: list[Row]) -> Row | None:
    """The option with least effect that the answer does not speak of; None: two are left."""
    options = [row for row in ways if row.group == OPTION]
    spare = [row for row in options if row.name not in spoken_of(found)]
    return spare[-1] if spare and len(options) > FEWEST else None


def _with(found: Findings, ways: list[Row]) -> First:
    shown = tuple(row.name for row in ways if row.group == OPTION)
    us = found.wish.us
    return First(
        bank=bank_words(found.study, found.wish.us),
        drawing=bank_drawing(found),
        answer=found.answer.lines,
        rows=tuple(ways),
        more=_more(found, len(shown)),
        pattern=pattern(),
        axis=axis_svg(),
        legend=legend(),
        up_and_down=tuple(_way(name, spot) for name, spot in found.looks.up_and_down.items()),
        backward=BACKWARD,
        enough_for=_enough_for(found),
        goals=tuple(GOALS),
        enough=tuple(_enough(items, us) for items in found.enough),
        new=new_lines(found.apart, shown, us),
        already=tuple(past_words(item, us) for item in found.apart.already),
        warnings=found.apart.warned,
        asks=asks(found.study.machine, _bought(found, shown)),
    )


def fits(page: First) -> bool:
    """Whether it goes onto one page of 9 pt."""
    words = [f"{row.name}: {row.sign.words} ({row.detail})" for row in page.rows]
    costs = [
        " · ".join((*row.cost_words, "new: " + ", ".join(row.costs.new if row.costs else ())))
        for row in page.rows
    ]
    under = [f"Warning: {line}" for line in page.warnings]
    if page.already:
        under.append(f"Past a rating or rule already as delivered: {'; '.join(page.already)}.")
    if page.new:
        under.append(f"New with some of them: {'; '.join(page.new)}.")
    return is_one_page(
        top(page.bank, page.answer),
        [way(what, cost) for what, cost in zip(words, costs, strict=True)],
        bottom([answers for _, answers in page.enough], page.asks, under),
    )


def _more(found: Findings, shown: int) -> str:
    left = len(found.study.options) - 1 - len(found.looks.same_as_free()) - shown
    return f"{left} more of them are in the appendix." if left > 0 else ""


def _way(name: str, spot: Spot | str) -> tuple[str, Sign, str]:
    if isinstance(spot, str):
        return name, spot_sign(None), f"{NOT_COMPUTED}: {spot}"
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
