"""An option beside as delivered: what is bought for it, and whether it changes the answer."""

from collections.abc import Sequence
from dataclasses import dataclass

from sidehill.advice.changes import FREE
from sidehill.advice.look import Look

SURE = 2.0  # times the strips' tolerance: a smaller difference is none


@dataclass(frozen=True)
class Offer:
    """One way beside as delivered."""

    look: Look
    changed: frozenset[str]  # kinds of change, of `changes`
    bought: frozenset[str]  # things, of `changes.bought`

    @property
    def is_one_purchase(self) -> bool:
        """Whether one thing is bought, and nothing else changed but what costs nothing."""
        return len(self.bought) == 1 and len(self.changed - FREE) == 1


def highest(looks: Sequence[Look], asked: float) -> float:
    """[rad] the steepest slope that is spoken of when these are compared."""
    return max([asked, *(look.good_up_to for look in looks if look.good_up_to is not None)])


def gain(look: Look, first: Look, top: float) -> float | None:
    """[rad] by which the good part of a strip reaches further; None: it cannot be told.

    It cannot where either is not known, where good and bad alternate below the steepest slope
    spoken of, and where the difference is not sure.
    """
    if look.reach is None or first.reach is None or look.good_up_to is None:
        return None
    if not (look.reach.is_clear_to(top) and first.reach.is_clear_to(top)):
        return None
    base = first.good_up_to if first.good_up_to is not None else first.reach.tried_from
    found = look.good_up_to - base
    return found if abs(found) >= SURE * look.reach.tolerance else None


def holds(look: Look, asked: float, top: float) -> bool:
    """Whether it is good on the bank asked about and on every slope up to surely beyond it."""
    reach = look.reach
    if not look.is_good or reach is None or reach.good_up_to is None:
        return False
    margin = SURE * reach.tolerance
    return reach.is_clear_to(top) and (reach.ending is None or reach.good_up_to >= asked + margin)


def worth_buying(
    offers: Sequence[Offer], first: Look, asked: float, needed: frozenset[str]
) -> tuple[Offer, ...]:
    """The one or two purchases that change the answer; none where none does.

    One thing alone comes before several, what is needed anyway before the rest, what keeps all
    wheels down on the bank before what lets one hop, then what reaches furthest. The second is
    there only where it surely reaches further than the first, and keeps wheels down no less.

    Args:
        asked: [rad] the bank; needed: things that a rule asks for whatever the bank is.
    """
    top = highest([first, *(offer.look for offer in offers)], asked)
    able = [
        offer
        for offer in offers
        if offer.bought
        and holds(offer.look, asked, top)
        and (not holds(first, asked, top) or (gain(offer.look, first, top) or 0.0) > 0.0)
    ]
    able.sort(key=lambda offer: _order(offer, needed))
    if not able:
        return ()
    best = able[0]
    further = [
        offer
        for offer in able[1:]
        if (gain(offer.look, best.look, top) or 0.0) > 0.0
        and _planted(offer.look) >= _planted(best.look)
    ]
    return (best, *further[:1])


def _planted(look: Look) -> float:
    """[rad] to which all wheels stay down; 0 where they do on no slope tried."""
    return 0.0 if look.reach is None else look.reach.planted_up_to or 0.0


def _order(offer: Offer, needed: frozenset[str]) -> tuple[bool, bool, bool, float]:
    outcome = offer.look.outcome
    return (
        not offer.is_one_purchase,
        not offer.bought & needed,
        outcome is None or outcome.stability != "planted",
        -(offer.look.good_up_to or 0.0),
    )
