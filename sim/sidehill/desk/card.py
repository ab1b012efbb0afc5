"""What the page says of one way: on this bank, on other slopes, standing still, what it costs."""

from dataclasses import dataclass
from math import degrees, isfinite
from typing import Any

from markupsafe import Markup

from sidehill.advice.headline import happens, reach_words
from sidehill.advice.look import Look
from sidehill.case import Case
from sidehill.desk.figures import Figures, figures_of
from sidehill.desk.question import Question
from sidehill.desk.search import Found
from sidehill.desk.strip_svg import spot_words, strip_svg
from sidehill.files.errors import InputError
from sidehill.files.units import show_slope, show_threshold
from sidehill.sheet.cells import least
from sidehill.sheet.costs import cost_words
from sidehill.sheet.signs import Sign, sign_of
from sidehill.strip.strip import Strip
from sidehill.strip.words import island_words
from sidehill.study.study import Study


@dataclass(frozen=True)
class Card:
    """One way, ready to be written. What is not there yet says so."""

    number: str  # of an option, or of a change that is free: "1", "free-2"
    name: str
    sign: Sign | None  # None: being computed
    happens: str
    strip: Markup
    reach: str
    seen: str  # what the scan may hide
    lift_off: str
    overturn: str
    costs: tuple[str, ...]
    new: tuple[str, ...]
    already: tuple[str, ...]
    warnings: tuple[str, ...]
    runs: tuple[tuple[str, str], ...]  # value [deg] and words of those that can be replayed
    spoken: str


def option_card(question: Question, study: Study, place: int, found: Found | None) -> Card:
    """Of an option, by its place from 0.

    Raises:
        InputError: its outfit does not suit the machine.
    """
    way = question.ways[place]
    if way.outfit is None:
        raise InputError("; ".join(way.problems.values()))
    figures = figures_of(study, way.outfit)
    case = Case(study.machine, study.scenario, way.outfit)
    standing = {
        "lift_off": _lift_off(figures, found),
        "overturn": show_threshold(figures.overturn),
        "costs": tuple(cost_words(figures.costs, question.us, place == 0)),
        "new": figures.new,
        "already": figures.already if place == 0 else (),
        "warnings": figures.warned if place == 0 else figures.warned_too,
    }
    return _card(str(place + 1), way.name, case, found, figures.lift_off, standing)


def free_card(number: int, name: str, case: Case, found: Found | None) -> Card:
    """Of a change that costs nothing."""
    standing = {
        "lift_off": "", "overturn": "", "costs": ("nothing",), "new": (), "already": (),
        "warnings": (),
    }  # fmt: skip
    return _card(f"free-{number}", name, case, found, float("nan"), standing)


def _card(
    number: str, name: str, case: Case, found: Found | None, lift_off: float, rest: dict[str, Any]
) -> Card:
    known = found or Found(case)
    look = Look(name, case, known.spot, known.strip, known.problem)
    asked = case.scenario.ground.slope
    is_open = known.spot is None and not known.problem
    sign = None if is_open else sign_of(look)
    told = "" if is_open else happens(look)
    tick = lift_off if isfinite(lift_off) else None
    return Card(
        number=number,
        name=name,
        sign=sign,
        happens=told,
        strip=strip_svg(known, asked, tick, number),
        reach=_reach(known, look),
        seen="" if known.strip is None else island_words(known.strip),
        runs=tuple(_runs(asked, known)),
        spoken=f"{name}: {'being computed' if sign is None else f'{sign.words}, {told}'}",
        **rest,
    )


def _reach(known: Found, look: Look) -> str:
    if known.strip is not None:
        return reach_words(look.reach)
    if known.problem:
        return f"could not be computed: {known.problem}"
    tried = len(known.spots)
    return f"being computed: {tried} slopes tried" if tried else "being computed"


def _lift_off(figures: Figures, found: Found | None) -> str:
    """The lower end of the interval first, once it is there."""
    if figures.flaw:
        return f"it does not stand on the level: {figures.flaw}"
    best = show_threshold(figures.lift_off)
    if found is None or found.standing is None:
        return f"best estimate {best}; its interval is being computed"
    low = least(found.standing.lift_off)
    if low.tone:
        return f"{low.text}: {low.small}"
    return f"at least {low.text}; best estimate {best}"


def _runs(asked: float, known: Found) -> list[tuple[str, str]]:
    """This bank's run, and both ends of each part of the strip."""
    found = []
    if known.spot is not None:
        found.append(("bank", f"this bank, {show_slope(asked)}: {spot_words(known.spot)}"))
    if known.strip is not None:
        found += [_run(known.strip, value) for value in _ends(known.strip)]
    return found


def _ends(strip: Strip) -> list[float]:
    return list(dict.fromkeys(v for band in strip.bands() for v in (band.low, band.high)))


def _run(strip: Strip, value: float) -> tuple[str, str]:
    return repr(degrees(value)), f"{show_slope(value)}: {spot_words(strip.at(value))}"
