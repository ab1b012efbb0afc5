"""A limit in words."""

from collections.abc import Sequence

from sidehill.files.units import show
from sidehill.run.words import VERDICTS, threshold, verdict
from sidehill.strip.limit import Band, Limit
from sidehill.strip.phrase import reason


def quantity(value: float, unit: str, *, us: bool = False) -> str:
    """A value of a limit in the limit's own unit, rounded down."""
    if unit == "deg":
        return threshold(value)
    kind = {"m/s": "speed", "m": "length"}[unit]
    return show(value, kind, us=us, rounding="down")


def limit(found: Limit, *, us: bool = False) -> str:
    """A limit in one line; a missing one is never made to look good."""
    if found.highest_good is None:
        return _none_good(found, us)
    good = quantity(found.highest_good, found.unit, us=us)
    if found.lowest_bad is None or found.verdict_at_limit is None:
        return f"none found up to {good}, the highest tried"
    bad = _bad(found.until, found.verdict_at_limit)
    if not found.is_threshold:
        return f"good up to {good} and then {bad}, but good and bad values alternate: no threshold"
    return f"good up to {good}, then {bad}"


def _none_good(found: Limit, us: bool) -> str:
    lowest = quantity(found.bands[0].low, found.unit, us=us)
    bad = _bad(found.until, found.verdict_at_limit or "failed")
    if len(found.bands) > 1:
        return f"{bad} at the lowest {found.quantity} tried ({lowest}), good above: no threshold"
    return f"{bad} at every {found.quantity} tried (from {lowest})"


def _bad(until: str, judged: str) -> str:
    said = reason(until, judged)
    return verdict(said) if said in VERDICTS else said


def bands(tried: Sequence[Band], unit: str, *, us: bool = False) -> list[str]:
    """One line a band of neighbouring values with the same answer."""
    return [
        f"{'good' if band.good else 'bad '}  {quantity(band.low, unit, us=us)}"
        f" to {quantity(band.high, unit, us=us)}"
        for band in tried
    ]
