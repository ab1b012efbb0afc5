"""One figure of an outfit, judged against a limit, or said to be unjudged."""

from dataclasses import dataclass
from typing import Literal

from sidehill.files.known import known
from sidehill.files.units import Rounding, round_to, show, show_slope

Judgement = Literal["within", "over", "not checked"]
Bound = Literal["most", "least"]

_ROUND_OFF = 1e-9  # SI; equal to the limit is within


@dataclass(frozen=True)
class Finding:
    """What was found. "over" is past the limit to its wrong side, also below a least value."""

    item: str  # "rear axle"
    what: str  # "load"
    kind: str  # "share", "slope", or a kind of `units.show`
    bound: Bound  # the limit is the most, or the least, that is allowed
    value: float | None  # SI; None: not computed
    limit: float | None  # SI; None: there is none to compare with
    as_delivered: float | None  # SI; what a figure without a limit is compared with
    ratio: float | None  # how much of the limit is used, over 1 is over; or to as delivered
    judgement: Judgement
    reason: str

    def value_text(self, us: bool = False) -> str:
        """The value for a person, never rounded to the kinder side."""
        return _text(self.kind, self.value, us, "down" if self._counts_down else "up")

    def limit_text(self, us: bool = False) -> str:
        """The limit for a person, never rounded to the kinder side."""
        return _text(self.kind, self.limit, us, "up" if self._counts_down else "down")

    @property
    def _counts_down(self) -> bool:
        return self.bound == "least"


def _text(kind: str, value: float | None, us: bool, rounding: Rounding) -> str:
    if value is None:
        return "none"
    if kind == "slope":
        return show_slope(value, rounding)
    if kind == "share":
        return f"{round_to(100.0 * value, 1, rounding):.1f} %"
    return show(value, kind, us=us, rounding=rounding)


@dataclass(frozen=True)
class Figure:
    """A figure before it is judged; fields as in `Finding`."""

    item: str
    what: str
    kind: str
    value: float | None
    bound: Bound = "most"

    def check(self, limit: float | None, reason: str, missing: str = "") -> Finding:
        """Judged against a limit; `missing` says why there is no value or no limit."""
        value = known(self.value)
        if value is None or limit is None:
            return self.unchecked(missing or reason, limit)
        excess = value - limit if self.bound == "most" else limit - value
        judgement: Judgement = "over" if excess > _ROUND_OFF else "within"
        used = (value, limit) if self.bound == "most" else (limit, value)
        return self._finding(limit, None, _ratio(*used), judgement, reason)

    def compare(self, as_delivered: float | None, reason: str, missing: str = "") -> Finding:
        """Beside the same figure as delivered: no limit is known, so nothing is judged."""
        if self.value is None or as_delivered is None:
            return self._finding(None, as_delivered, None, "not checked", missing or reason)
        ratio = _ratio(self.value, as_delivered)
        return self._finding(None, as_delivered, ratio, "not checked", reason)

    def unchecked(self, reason: str, limit: float | None = None) -> Finding:
        """The figure with why it is not judged."""
        return self._finding(limit, None, None, "not checked", reason)

    def _finding(
        self,
        limit: float | None,
        as_delivered: float | None,
        ratio: float | None,
        judgement: Judgement,
        reason: str,
    ) -> Finding:
        value = known(self.value)
        return Finding(
            item=self.item,
            what=self.what,
            kind=self.kind,
            bound=self.bound,
            value=value,
            limit=limit,
            as_delivered=as_delivered,
            ratio=ratio,
            judgement=judgement,
            reason=reason,
        )


def _ratio(of: float, to: float) -> float | None:
    """None where it would mean nothing: to zero, or to something negative."""
    return of / to if to > 0.0 else None
