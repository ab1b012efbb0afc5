"""The fit table: widths, cover, clearances and carried attachments of the options shown."""

from collections.abc import Sequence
from typing import Any

from sidehill.advice.finding import Finding
from sidehill.sheet.cells import UNCHECKED, judged
from sidehill.sheet.findings import Findings


def fit_table(found: Findings) -> dict[str, Any]:
    """Columns, rows of what is judged, rows of what is not, and what is past a limit elsewhere."""
    speaks_of = _speaks_of(found)
    names = [o.name for o in found.study.options if o.name in speaks_of]
    lines = [_line(found, findings) for findings in _matched(found, names)]
    return {
        "names": names,
        "judged": [line for line in lines if line["is_judged"]],
        "open": [line for line in lines if not line["is_judged"]],
        "elsewhere": _elsewhere(found, names),
    }


def _speaks_of(found: Findings) -> set[str]:
    """Options that the answer or the pictures show, and as delivered."""
    return {
        found.delivered,
        *(offer.look.name for offer in found.answer.to_buy),
        *found.shown.records,
        found.best,
    }


def _matched(found: Findings, names: Sequence[str]) -> list[list[Finding | None]]:
    """For each thing that is looked at, its finding in each option; None where it does not come."""
    by_option = [
        {(finding.item, finding.what): finding for finding in found.fits[name].findings}
        for name in names
    ]
    things = dict.fromkeys(thing for findings in by_option for thing in findings)
    return [[findings.get(thing) for findings in by_option] for thing in things]


def _line(found: Findings, findings: Sequence[Finding | None]) -> dict[str, Any]:
    known = [finding for finding in findings if finding is not None]
    return {
        "item": f"{known[0].item}: {known[0].what}",
        "cells": [
            None if finding is None else judged(finding, found.wish.us) for finding in findings
        ],
        "reasons": list(dict.fromkeys(finding.reason for finding in known)),
        "is_judged": any(finding.judgement != UNCHECKED for finding in known),
    }


def _elsewhere(found: Findings, names: Sequence[str]) -> list[str]:
    """What is past a limit in the options that have no column."""
    past: dict[str, list[str]] = {}
    for option in found.ranking.options:
        if option.option in names:
            continue
        for finding in found.fits[option.option].findings:
            if finding.judgement == "over":
                past.setdefault(f"{finding.item}, {finding.what}", []).append(option.option)
    return [f"{what}: {'; '.join(options)}" for what, options in past.items()]
