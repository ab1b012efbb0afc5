"""Signs for what a run came to: told apart by shape, so that they read without colour."""

from dataclasses import dataclass

from markupsafe import Markup

from sidehill.advice.look import Look
from sidehill.run.facts import ARRIVED, CALM, worse
from sidehill.strip.spot import Spot


@dataclass(frozen=True)
class Sign:
    """A shape, and the words that stand beside it."""

    kind: str  # a key of `_SHAPES`
    words: str

    @property
    def picture(self) -> Markup:
        """Its drawing; the words say the same, so it has no name of its own."""
        return Markup(
            f'<svg class="sign {self.kind}" viewBox="0 0 16 16" aria-hidden="true" '
            f'focusable="false">{_SHAPES[self.kind]}</svg>'
        )


_WHEELS = '<circle cx="4" cy="12" r="2.6"/><circle cx="12" cy="12" r="2.6"/>'
_UP = '<circle cx="4" cy="6" r="2.6"/><circle cx="12" cy="12" r="2.6"/>'
_LINE = '<path d="M0 15.4h16" fill="none" stroke="currentColor" stroke-width="1.2"/>'
_ARROW = '<path d="M4 15V9.6" fill="none" stroke="currentColor" stroke-width="1.2"/>'
_SHAPES = {
    "planted": _WHEELS + _LINE + '<path d="M3 5l3.4 3.2L13 1" class="tick"/>',
    "hopped": '<circle cx="4" cy="9.8" r="2.6"/><circle cx="12" cy="12" r="2.6"/>'
    + _LINE
    + '<path d="M3 3.2l3 2.6L13 .8" class="tick"/>',
    "lifted": _UP + _ARROW + _LINE + '<path d="M11 1h2.4v5H11zM11 7h2.4v1.8H11z"/>',
    "on_stop": '<path d="M8 0l8 15H0z"/><path d="M7 5h2v5H7zM7 11.4h2v2H7z" class="hole"/>',
    "overturned": '<path d="M4.7 0h6.6L16 4.7v6.6L11.3 16H4.7L0 11.3V4.7z"/>'
    '<path d="M4.6 4.6l6.8 6.8M11.4 4.6l-6.8 6.8" class="cross"/>',
    "not_across": '<path d="M1 1h14v14H1z" class="ring"/><path d="M4 7h8v2H4z"/>',
    "unknown": '<path d="M1 1h14v14H1z" class="ring dashed"/>'
    '<path d="M5.4 6.2a2.6 2.6 0 1 1 3.6 2.4c-.7.3-1 .7-1 1.6M7.2 12h1.7" class="tick"/>',
}
WORDS = {
    "planted": "wheels stay down",
    "hopped": "a wheel only hops",
    "lifted": "a wheel lifts",
    "on_stop": "nothing left to catch it",
    "overturned": "goes over",
    "not_across": "does not get across",
    "not_started": "cannot stand there",
    "unknown": "not known",
}


def sign_of(look: Look) -> Sign:
    """Of the run on the bank asked about."""
    return spot_sign(look.spot)


def spot_sign(spot: Spot | None) -> Sign:
    """Of one run. Only what is good in every engine asked has a sign of the good ones."""
    if spot is None or spot.outcome.stability is None or spot.outcome.progress is None:
        return _sign("unknown")
    outcome = spot.outcome
    stability = outcome.stability if spot.again is None else worse(outcome.stability, spot.again[0])
    if stability is None or not (spot.agrees or spot.is_good):
        return Sign("unknown", "result jumps about here")
    if stability in CALM and (outcome.progress not in ARRIVED or not outcome.met):
        return _sign("not_across")
    return _sign(stability)


def _sign(kind: str) -> Sign:
    return Sign(kind, WORDS[kind])
