"""What is past a rating or rule: already so as delivered, and new with an option."""

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from sidehill.advice.finding import Finding

_NUMBERS = re.compile(r"[\d.,]+")
_SIDE = re.compile(r" (left|right)\b")


@dataclass(frozen=True)
class Apart:
    """Findings past their limit, and warnings, each once."""

    already: tuple[Finding, ...]
    new: Mapping[str, tuple[Finding, ...]]  # by option, only what is not past as delivered
    warned: tuple[str, ...]  # of the machine as delivered
    warned_too: Mapping[str, tuple[str, ...]]  # by option, only those of another kind


def apart(
    findings: Mapping[str, Iterable[Finding]],
    warnings: Mapping[str, Iterable[str]],
    delivered: str,
) -> Apart:
    """Told apart, by option.

    Peaks of a run are left out: ratings are for a steady load.
    """
    past = {name: _past(items) for name, items in findings.items()}
    first, told = past[delivered], tuple(warnings[delivered])
    kinds = {_kind(warning) for warning in told}
    return Apart(
        already=tuple(first.values()),
        new={
            name: tuple(finding for what, finding in own.items() if what not in first)
            for name, own in past.items()
        },
        warned=told,
        warned_too={
            name: tuple(warning for warning in own if _kind(warning) not in kinds)
            for name, own in warnings.items()
        },
    )


def _past(findings: Iterable[Finding]) -> dict[tuple[str, str], Finding]:
    """The worst of each kind, the two sides of the machine as one."""
    worst: dict[tuple[str, str], Finding] = {}
    for finding in findings:
        if finding.verdict != "over" or finding.what.startswith("peak"):
            continue
        key = _SIDE.sub("", finding.item), finding.what
        if key not in worst or (finding.ratio or 0.0) > (worst[key].ratio or 0.0):
            worst[key] = finding
    return worst


def _kind(warning: str) -> str:
    """The warning without its figures."""
    return _NUMBERS.sub("#", warning)


def past_words(finding: Finding, us: bool = False) -> str:
    """One line: what it is, and what it should be."""
    bound = "at most" if finding.bound == "most" else "at least"
    item = _SIDE.sub("", finding.item)
    return f"{item}: {finding.what} {finding.value_text(us)}, {bound} {finding.limit_text(us)}"
