"""What is past a rating or rule: already so as delivered, and new with an option."""

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from sidehill.advice.finding import Finding
from sidehill.advice.told import kind

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
    first = past[delivered]
    told = tuple(warning for warning in warnings[delivered] if not _is_finding(warning))
    kinds = {kind(warning) for warning in told}
    return Apart(
        already=tuple(first.values()),
        new={
            name: tuple(finding for what, finding in own.items() if what not in first)
            for name, own in past.items()
        },
        warned=told,
        warned_too={
            name: tuple(w for w in own if not _is_finding(w) and kind(w) not in kinds)
            for name, own in warnings.items()
        },
    )


def _past(findings: Iterable[Finding]) -> dict[tuple[str, str], Finding]:
    """The worst of each kind, the two sides of the machine as one."""
    worst: dict[tuple[str, str], Finding] = {}
    for finding in findings:
        if finding.judgement != "over" or finding.what.startswith("peak"):
            continue
        key = _SIDE.sub("", finding.item), finding.what
        if key not in worst or _excess(finding) > _excess(worst[key]):
            worst[key] = finding
    return worst


def _excess(finding: Finding) -> float:
    """[SI] by which it is past its limit."""
    past = (finding.value or 0.0) - (finding.limit or 0.0)
    return past if finding.bound == "most" else -past


def _is_finding(warning: str) -> bool:
    """Whether a finding against a rating says the same, with its limit."""
    return warning.startswith("OVERLOADED") or "that the roll bar was tested for" in warning


def past_words(finding: Finding, us: bool = False) -> str:
    """One line: what it is, and what it should be."""
    bound = "at most" if finding.bound == "most" else "at least"
    item = _SIDE.sub("", finding.item)
    return f"{item}: {finding.what} {finding.value_text(us)}, {bound} {finding.limit_text(us)}"


def new_names(told: Apart, option: str) -> tuple[str, ...]:
    """What of an option is past a limit that as delivered keeps to, by the thing's name alone."""
    things = [_SIDE.sub("", finding.item) for finding in told.new[option]]
    return tuple(dict.fromkeys([*things, *told.warned_too[option]]))


def new_lines(told: Apart, options: Iterable[str], us: bool = False) -> tuple[str, ...]:
    """One line for each thing that is new with some option, at its worst."""
    worst: dict[tuple[str, str], Finding] = {}
    for option in options:
        for finding in told.new[option]:
            key = _SIDE.sub("", finding.item), finding.what
            if key not in worst or _excess(finding) > _excess(worst[key]):
                worst[key] = finding
    return tuple(past_words(finding, us) for finding in worst.values())
