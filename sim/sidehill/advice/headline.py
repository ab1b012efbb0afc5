"""The answer in a few sentences: the bank as delivered, what costs nothing, what to buy."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from sidehill.advice.changes import REAR_BOX
from sidehill.advice.finding import Finding
from sidehill.advice.free import Free
from sidehill.advice.look import Look
from sidehill.advice.offer import Offer, gain, highest, holds, worth_buying
from sidehill.advice.reach import Reach
from sidehill.files.units import NOT_COMPUTED, show_slope
from sidehill.run.facts import STABILITY
from sidehill.strip.words import facts_words

JUMPS = "result jumps about here"
_JUST, _SHORT = "but only just enough here, with nothing to spare", "helps, and is not enough here"


@dataclass(frozen=True)
class Answer:
    """What is said first, and the options that it speaks of."""

    lines: tuple[str, ...]
    to_buy: tuple[Offer, ...]
    best_free: Look | None  # of those that hold on the bank, the one that reaches furthest


def happens(look: Look) -> str:
    """What a run on the bank came to, in one line."""
    outcome = look.outcome
    if outcome is None:
        return f"{NOT_COMPUTED}: {look.problem}"
    told = outcome.why or facts_words(outcome.stability, outcome.progress)
    return told if look.engines_agree else f"{told}; {JUMPS}: the second engine says otherwise"


def _as_delivered(first: Look) -> str:
    """What it came to, the worst that its wheels did first, and how far it is good."""
    outcome = first.outcome
    worst = None if outcome is None else outcome.stability
    lead = "" if worst in (None, "planted", "overturned") else f"{STABILITY[worst]}: "
    lead = "" if lead and lead[:-2] in happens(first) else lead
    reach = reach_words(first.reach)
    return f"On this bank, as delivered: {lead}{happens(first)}. On other slopes: {reach}."


def reach_words(reach: Reach | None) -> str:
    """How far it is good, in one line."""
    if reach is None:
        return NOT_COMPUTED
    if reach.good_up_to is None:
        return f"good on no slope, not even on {show_slope(reach.tried_from)}: {_end(reach)}"
    good = show_slope(reach.good_up_to, "down")
    most = ", the steepest tried" if reach.ending is None else ""
    if reach.planted_up_to is None:
        return f"a wheel comes up on every slope; up to {good}{most} it only hops"
    planted = show_slope(reach.planted_up_to, "down")
    if planted == good:
        return f"all wheels stay down up to {good}{most}"
    return f"all wheels stay down up to {planted}, and one only hops up to {good}{most}"


def _end(reach: Reach) -> str:
    outcome = reach.ending.outcome if reach.ending is not None else None
    if outcome is None or outcome.stability is None:
        return NOT_COMPUTED
    return facts_words(outcome.stability, outcome.progress)


def answer(
    first: Look,
    free: Mapping[str, Look],
    kept: Sequence[Free],
    offers: Sequence[Offer],
    rear_share: Finding,
    past: Mapping[str, Sequence[str]],
) -> Answer:
    """The answer.

    Args:
        free: what costs nothing, looked at; kept: what of it is so already;
        rear_share: the least share of the rear axle as delivered;
        past: by option, what it is past that as delivered keeps to.
    """
    asked = first.case.scenario.ground.slope
    looks = [first, *free.values(), *(offer.look for offer in offers)]
    top = highest(looks, asked)
    lacking = rear_share.judgement == "over"
    to_buy = worth_buying(offers, first, asked, frozenset({REAR_BOX} if lacking else ()))
    lines = (
        _as_delivered(first),
        *_free_lines(first, free, kept, asked, top),
        *_bought(to_buy, rear_share, past),
        *_no_purchase(first, to_buy, offers, asked, top),
        *_nothing(looks, asked, top),
    )
    able = [look for look in free.values() if holds(look, asked, top)]
    best = max(able, key=lambda look: look.good_up_to or 0.0, default=None)
    return Answer(lines, to_buy, best)


def _free_lines(
    first: Look, free: Mapping[str, Look], kept: Sequence[Free], asked: float, top: float
) -> list[str]:
    """What holds on the bank first; then what helps and is not enough; what is so already."""
    able = {name: look for name, look in free.items() if holds(look, asked, top)}
    helps = {
        name: look
        for name, look in free.items()
        if name not in able and (gain(look, first, top) or 0.0) > 0.0
    }
    told = []
    if able:
        each = [f"{name}: {reach_words(look.reach)}" for name, look in able.items()]
        told.append(f"Costs nothing: {'. Or '.join(each)}.")
    told += [
        f"Costs nothing, {_JUST if look.is_good else _SHORT}: {name}: {reach_words(look.reach)}."
        for name, look in helps.items()
    ]
    if not told and free:
        told.append("None of what costs nothing is enough on this bank: see below.")
    return told + [f"{item.already[0].upper()}{item.already[1:]}." for item in kept if item.is_kept]


def _no_purchase(
    first: Look, to_buy: Sequence[Offer], offers: Sequence[Offer], asked: float, top: float
) -> list[str]:
    """Why there is nothing to buy, where there is not."""
    if to_buy or not any(offer.bought for offer in offers):
        return []
    if holds(first, asked, top):
        return ["Nothing compared that is bought surely reaches further than as delivered."]
    return ["Nothing compared that is bought, by itself, is enough on this bank."]


def _bought(
    to_buy: Sequence[Offer], rear_share: Finding, past: Mapping[str, Sequence[str]]
) -> list[str]:
    """The purchases, with why and with what they are past: a limit is no footnote."""
    told = []
    for place, offer in enumerate(to_buy):
        start = "If one thing is bought" if offer.is_one_purchase else "If it is bought together"
        name = offer.look.name
        line = f"{'Further' if place else start}: “{name}”: {reach_words(offer.look.reach)}"
        line += (
            ""
            if any(REAR_BOX in before.bought for before in to_buy[:place])
            else _why(offer, rear_share)
        )
        if past.get(name):
            line += f"; but past a rating or rule, new with it: {', '.join(past[name])}"
        told.append(f"{line}.")
    return told


def _why(offer: Offer, rear_share: Finding) -> str:
    if REAR_BOX not in offer.bought or rear_share.judgement != "over":
        return ""
    return (
        "; the loader needs rear ballast anyway (rear share with the bucket full "
        f"{rear_share.value_text()}, wants at least {rear_share.limit_text()})"
    )


def _nothing(looks: Sequence[Look], asked: float, top: float) -> list[str]:
    if any(holds(look, asked, top) for look in looks):
        return []
    return [
        f"Nothing compared here keeps its wheels down on {show_slope(asked)} with anything to "
        "spare: keep this machine off this bank."
    ]
