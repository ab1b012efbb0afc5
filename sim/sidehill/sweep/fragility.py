"""Fragility: the share of draws in which an event has come, at each value of a strip."""

import json
from collections.abc import Sequence
from typing import Any

import numpy as np
import pandas as pd

from sidehill.files.units import NOT_COMPUTED
from sidehill.run.facts import NOT_STARTED, STABILITY, Facts, has_reached, is_short_of
from sidehill.strip.limits import ALL_EVENTS
from sidehill.study.plan import Find
from sidehill.sweep.probability import probability

NOT_KNOWN: tuple[Facts, ...] = ((None, None, None),)
EVENTS = (*ALL_EVENTS, NOT_STARTED)


def fragility(table: pd.DataFrame, find: Find, events: Sequence[str] = EVENTS) -> pd.DataFrame:
    """Shares of the draws of a table, by event and value.

    At every value of the scan each draw's strip says of an event: it came; it did not; the machine
    could not stand there (`not_started`, an outcome of its own); or nothing is proved, as between
    two neighbours of which one did and the other did not, where the worse counts.

    Args:
        table: rows of a study with this [find], as those of one option.

    Columns: the value, as `slope_deg`; event; draws, happened, not_started, unproved; least, most:
        shares that are known to have it, and that are not proved to be short of it; low, high:
        ends of the interval of `probability`, what is not proved counted as the event.
    """
    name, values, step = f"{find.of}_{find.varied.suffix}", scanned(table, find), step_of(find)
    strips = [read_bands(row) for row in table.to_dict("records")]
    replicates = table["replicate"].tolist()
    rows = []
    for value in values:
        seen = [facts_at(strip, value, step) for strip in strips]
        for event in events:
            found = probability([_outcome(event, facts) for facts in seen], event, replicates)
            counts = ("draws", "happened", "not_started", "unproved", "least", "most")
            told = {count: getattr(found, count) for count in (*counts, "low", "high")}
            rows.append({name: value, "event": event, **told})
    return pd.DataFrame(rows)


def shares_of_facts(table: pd.DataFrame, find: Find) -> pd.DataFrame:
    """The share of draws in each stability at every value; `not_started` and what is not known
    apart, so that a row adds up to 1."""
    strips = [read_bands(row) for row in table.to_dict("records")]
    rows = []
    for value in scanned(table, find):
        words = [_word(facts_at(strip, value, step_of(find))) for strip in strips]
        shares = {word: words.count(word) / len(words) for word in (*STABILITY, NOT_STARTED)}
        unknown = words.count(NOT_COMPUTED) / len(words)
        rows.append({f"{find.of}_{find.varied.suffix}": value} | shares | {NOT_COMPUTED: unknown})
    return pd.DataFrame(rows)


def step_of(find: Find) -> float:
    """Of the scan, in the column's unit."""
    asked = find.si("scan")
    return find.varied.from_si(find.varied.scan if asked is None else asked)


def scanned(table: pd.DataFrame, find: Find) -> list[float]:
    """The values of the scan, in the column's unit, as far as any strip went."""
    unit, step = find.varied.suffix, step_of(find)
    low, high = table[f"tried_from_{unit}"].min(), table[f"tried_to_{unit}"].max()
    if np.isnan(low):
        return []
    count = int((high - low) / step + 1e-6) + 1
    return [float(f"{low + k * step:.12g}") for k in range(count)]


Bands = tuple[list[list[Any]], list[float]]  # [low, high, facts...], and where engines differ


def read_bands(row: dict[str, Any]) -> Bands | None:
    """The strip of a row; None where there is none, or something went wrong."""
    if not pd.isna(row["problem"]) or pd.isna(row["strip_bands"]):
        return None
    differs = row["strip_differs_at"]
    return json.loads(row["strip_bands"]), [] if pd.isna(differs) else json.loads(differs)


def facts_at(strip: Bands | None, value: float, step: float) -> tuple[Facts, ...]:
    """The facts at a value: of both neighbours between two bands; not known where nothing was
    tried, and within a step of the scan of where the engines differ."""
    if strip is None:
        return NOT_KNOWN
    bands, differs = strip
    below = [band for band in bands if band[0] <= value + 1e-9]
    above = [band for band in bands if band[1] >= value - 1e-9]
    if not below or not above:
        return NOT_KNOWN
    facts: list[Facts] = [(band[2], band[3], band[4]) for band in (below[-1], above[0])]
    if any(abs(at - value) < step - 1e-9 for at in differs):
        facts.append(NOT_KNOWN[0])
    return tuple(dict.fromkeys(facts))


def _outcome(event: str, facts: tuple[Facts, ...]) -> bool | str | None:
    not_started = any(progress == NOT_STARTED for _, progress, _ in facts)
    if event == NOT_STARTED:
        known = all(progress is not None for _, progress, _ in facts)
        return not_started or (False if known else None)
    if any(has_reached(event, stability, progress) for stability, progress, _ in facts):
        return True
    if all(is_short_of(event, *each) for each in facts):
        return False
    return NOT_STARTED if not_started else None


def _word(facts: tuple[Facts, ...]) -> str:
    """The worst stability, or why there is none."""
    if any(progress == NOT_STARTED for _, progress, _ in facts):
        return NOT_STARTED
    names = [stability for stability, _, _ in facts if stability is not None]
    if len(names) < len(facts):
        return NOT_COMPUTED
    return max(names, key=list(STABILITY).index)
