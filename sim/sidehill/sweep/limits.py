"""Limits as the columns of a row: written from a strip, and read back."""

import json
from collections.abc import Mapping, Sequence
from typing import Any

import pandas as pd

from sidehill.strip.limits import Limit
from sidehill.strip.quantity import Varied
from sidehill.strip.strip import Strip

_ENDS = ("good_up_to", "first_bad", "unknown_from")

# what kind of answer a limit is, in words, from the worst
ANSWERS = {
    "unknown": "nothing is known",
    "backwards": "no limit: it comes at the lowest value tried, and not at higher ones",
    "none good": "it comes at the lowest value tried already",
    "alternates": "good up to here, and again higher up: the result jumps",
    "unproved": "good up to here, then nothing is proved",
    "event": "good up to here, then it comes",
    "open": "good at all that was tried",
}


def limit_columns(strip: Strip, events: Sequence[str]) -> dict[str, Any]:
    """What a strip says of some events, as `columns.of_limits` names it; not known: None."""
    shown, unit = strip.varied.from_si, strip.varied.suffix
    row: dict[str, Any] = {}
    for event in events:
        limit = strip.limit(event)
        for end in _ENDS:
            value = getattr(limit, end)
            row[f"{event}_{end}_{unit}"] = None if value is None else shown(value)
        again = [[shown(low), shown(high)] for low, high in limit.good_again]
        row[f"{event}_good_again"] = json.dumps(again)
    bands = [[shown(band.low), shown(band.high), *band.facts] for band in strip.bands()]
    differs = [shown(spot.value) for spot in strip.doubts]
    was_checked = strip.reference is not None
    return row | {
        f"tried_from_{unit}": shown(strip.spots[0].value),
        f"tried_to_{unit}": shown(strip.spots[-1].value),
        "strip_bands": json.dumps(bands),
        "strip_runs": strip.runs,
        "strip_engine": strip.engine,
        "strip_reference": strip.reference,
        "strip_differs_at": json.dumps(differs) if was_checked else None,
        "strip_reference_agrees": not differs if was_checked else None,
    }


def read_limit(row: Mapping[str, Any], event: str, varied: Varied) -> Limit | None:
    """The limit of an event in a row, in its columns' unit; None where nothing is known."""
    unit = varied.suffix
    tried = row[f"tried_to_{unit}"]
    if not pd.isna(row["problem"]) or pd.isna(tried):
        return None
    ends = {end: _number(row[f"{event}_{end}_{unit}"]) for end in _ENDS}
    again = tuple((low, high) for low, high in json.loads(row[f"{event}_good_again"]))
    return Limit(event, **ends, good_again=again, tried_to=float(tried))


def answer_of(limit: Limit | None) -> str:
    """Which of ANSWERS a limit is."""
    if limit is None:
        return "unknown"
    if limit.good_up_to is None:
        lost = "none good" if limit.unknown_from is None else "unknown"
        return "backwards" if limit.runs_backwards else lost
    if limit.is_open:
        return "open"
    if limit.alternates:
        return "alternates"
    return "event" if limit.unknown_from is None else "unproved"


def _number(value: Any) -> float | None:
    return None if pd.isna(value) else float(value)
