"""What a sweep came to, in words and as JSON."""

from collections import Counter
from typing import Any

from rich.console import Console

from sidehill.advice.told_study import results_warnings
from sidehill.cli import console
from sidehill.cli.sweep_run import Found
from sidehill.files.spec import defaults_used
from sidehill.sweep.folder import COLUMNS
from sidehill.sweep.measure import FACTS, good, pairs

_PROBLEMS = 5


def data(found: Found) -> dict[str, Any]:
    """Plain values for JSON."""
    now, results = found.progress, found.results
    return {
        "study": found.study.title,
        "table": str(results.file),
        "columns": str(results.folder / COLUMNS),
        "cases": results.meta["count"],
        "computed_now": now.done,
        "known_before": now.known,
        **summary(found),
        "notes": list(results.notes),
    }


def summary(found: Found) -> dict[str, Any]:
    """Counts of the whole table."""
    asked = found.results.meta["asked"]
    again = [name for name in found.results.columns if name.endswith("reference_agrees")]
    facts = [f"{before}{name}" for before in ("", "reference_") for name in FACTS]
    words = ["problem", *facts[:2], *facts[3:5], "engine", "reference"]
    table = found.results.to_pandas(columns=[*words, facts[2], facts[5], *again], categories=words)
    return {
        "engine": asked["engine"],
        "reference": asked["reference"],
        "facts": dict(Counter(pairs(table)).most_common()),
        "good": good(table),
        "problems": dict(Counter(table["problem"].dropna()).most_common()),
        "run_again": int(table["reference"].notna().sum()),
        "disagreements": int(sum((~table[name].dropna().astype(bool)).sum() for name in again)),
        "in_reference_only": int((table["engine"] != asked["engine"]).sum()),
    }


def warnings(found: Found) -> list[str]:
    """What a person must be told of the machine in its outfits."""
    return results_warnings(found.results)


def tell(out: Console, found: Found) -> None:
    """Print it."""
    study, counts = found.study, summary(found)
    place = f"{study.machine_words}, {study.scenario.title}, engine {counts['engine']}"
    out.print(f"{study.title}: {place}", style="bold")
    known = f"{found.results.meta['count']:,} cases, {found.progress.done:,} of them computed now"
    out.print(known)
    for name, count in counts["facts"].items():
        out.print(f"  {count:>9,}  {name}")
    out.print(
        f"  {counts['good']:>9,}  of them a good result: planted or hopped, everything met, and "
        "across or at the ordered stand"
    )
    for text, count in list(counts["problems"].items())[:_PROBLEMS]:
        out.print(f"  {count:>9,}  not computed: {text}")
    for line in _engine_lines(counts):
        out.print(line)
    out.print(f"wrote {found.results.file}, its columns explained in {COLUMNS}")
    defaults = defaults_used(study.scenario, study.machine, study.options[0].outfit)
    console.close(out, warnings(found), found.results.notes, defaults)


def _engine_lines(counts: dict[str, Any]) -> list[str]:
    """What the reference engine said, disagreement first of all."""
    if counts["reference"] is None:
        return []
    reference, bad = counts["reference"], counts["disagreements"]
    lines = [f"{counts['run_again']:,} cases came out near a decision; run again in {reference}"]
    if bad:
        lines.append(
            f"{bad:,} DISAGREEMENTS with {reference}: where a column ending in "
            "reference_agrees is false, take neither engine's word"
        )
    elif counts["run_again"]:
        lines.append(f"{reference} agrees in all of what was run again")
    if counts["in_reference_only"]:
        only = counts["in_reference_only"]
        lines.append(f"{only:,} cases ran in {reference} only: {counts['engine']} could not")
    return lines
