"""Warnings of several outfits or runs as one list: each kind once, at its worst, and whose."""

import re
from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from sidehill.advice.warnings import case_warnings
from sidehill.case import Case

_NUMBERS = re.compile(r"\d[\d.,]*")


def kind(warning: str) -> str:
    """The warning without its figures."""
    return _NUMBERS.sub("#", warning)


def said_once(told: Mapping[str, Iterable[str]]) -> list[str]:
    """Each kind of warning once, at its worst, with the names that it holds for unless all.

    Args:
        told: warnings by name of the option or run.
    """
    found: dict[str, dict[str, str]] = {}
    for name, warnings in told.items():
        for warning in warnings:
            of = found.setdefault(kind(warning), {})
            of[name] = worst([of.get(name, warning), warning])
    return [_line(of, list(told)) for of in found.values()]


def _line(of: Mapping[str, str], names: Sequence[str]) -> str:
    """A kind of warning, `of` some of the names."""
    beside = [] if len(set(of.values())) == 1 else ["at worst"]
    others = [name for name in names if name not in of]
    if others:
        is_few = len(others) < len(of)
        beside.append(f"all but {'; '.join(others)}" if is_few else "; ".join(of))
    return worst(of.values()) + (f" ({'; '.join(beside)})" if beside else "")


def worst(warnings: Iterable[str]) -> str:
    """Of warnings of one kind that with the largest figures; the least of what is under a limit."""
    kept = list(warnings)
    pick = min if any(", under " in text for text in kept) else max
    return pick(kept, key=_figures)


def _figures(warning: str) -> list[float]:
    return [float(text.rstrip(".,").replace(",", "")) for text in _NUMBERS.findall(warning)]


def records_warnings(cases: Sequence[Mapping[str, Any]], titles: Sequence[str]) -> list[str]:
    """Those of recorded runs.

    Args:
        cases: as records hold them, plain values in SI.
    """
    told: dict[str, list[str]] = {}
    for title, case in zip(titles, cases, strict=True):
        told.setdefault(title, []).extend(case_warnings(Case.from_resolved(case)))
    return said_once(told)
