"""What the demo found, in words: for the screen, for report.md, as JSON."""

import json
from math import radians
from typing import Any

import pandas as pd
from rich.console import Console
from rich.table import Table

from sidehill.caution import CAUTION, NOT_MODELLED, SHOWN_SLOPE
from sidehill.cli import comparison, console
from sidehill.cli.demo_run import HIGH, LOW, Demo
from sidehill.files.spec import defaults_used
from sidehill.files.units import show_slope
from sidehill.machine.build import fit
from sidehill.run import words
from sidehill.run.outcome import Outcome, read

RUN_HEADINGS = ("option", "verdict", "peak roll to the slope", "wheels lifted", "stop hits")


def tell(out: Console, demo: Demo, *, us: bool) -> None:
    """Print tables and what is shown."""
    out.print(headline(demo), style="bold")
    out.print(comparison.screen(demo.table, us=us))
    for note in comparison.footnotes(demo.table):
        out.print(f"  {note}")
    out.print(slope_words(demo), style="bold")
    if demo.records:
        runs = Table(*RUN_HEADINGS)
        for cells in run_rows(demo):
            runs.add_row(*cells)
        out.print(runs)


def close(out: Console, demo: Demo, files: list[str]) -> None:
    """Print what was written, and what must be known with it."""
    for file in files:
        out.print(f"wrote {file}")
    console.close(out, warnings(demo), notes(demo), defaults(demo))


def headline(demo: Demo) -> str:
    """What was compared, on what, with what."""
    study = demo.study
    quick = " (quick: six of the options, limits to 0.5 deg)" if demo.quick else ""
    place = f"{study.machine.name}, {study.scenario.title}, {demo.engines}"
    return f"{study.title}: {place}{quick}"


def slope_words(demo: Demo) -> str:
    """The shown slope, where it comes from, and its caption; or why there is none."""
    pair = f'the overturn limits of "{HIGH}" and "{LOW}"'
    if demo.slope is None:
        return f"No slope is shown: {pair} do not differ enough, or were not found."
    return f"Shown: {_shown(demo.slope)}, between {pair}: {SHOWN_SLOPE}"


def _shown(degrees: float | None) -> str:
    return words.UNKNOWN if degrees is None else show_slope(radians(degrees))


def caption(demo: Demo) -> str:
    """For a picture of the shown runs."""
    return f"{_shown(demo.slope)}: {SHOWN_SLOPE}"


def outcomes(demo: Demo) -> dict[str, Outcome]:
    """The outcome of each shown run."""
    return {name: read(record.state, record.step) for name, record in demo.records.items()}


def run_rows(demo: Demo) -> list[list[str]]:
    """Cells of the shown runs."""
    rows = []
    for name, outcome in outcomes(demo).items():
        known = bool(demo.records[name].columns["t_s"].size)
        wheels = sorted({lift.wheel.replace("_", " ") for lift in outcome.lift_offs})
        rows.append(
            [
                name,
                words.verdict(outcome.verdict),
                words.peak(outcome.peak_roll_deg),
                (", ".join(wheels) or "none") if known else words.UNKNOWN,
                str(outcome.stop_hits) if known else words.UNKNOWN,
            ]
        )
    return rows


def markdown(demo: Demo, pictures: list[str], films: list[str], *, us: bool) -> str:
    """The report as a file of its own."""
    parts = [
        f"# {headline(demo)}",
        f"**{CAUTION}**",
        comparison.markdown(comparison.HEADINGS, comparison.rows(demo.table, us=us)),
        *(f"- {note}" for note in comparison.footnotes(demo.table)),
        f"**{slope_words(demo)}**",
        comparison.markdown(RUN_HEADINGS, run_rows(demo)) if demo.records else "",
        *(f"![{name.removesuffix('.png')}]({name})" for name in pictures),
        *(f"Film, made last: [{name}]({name})" for name in films),
        *(f"- WARNING: {warning}" for warning in warnings(demo)),
        *(f"- {note}" for note in notes(demo)),
        f"Defaults used: {', '.join(defaults(demo))}.",
        f"Not modelled: {', '.join(NOT_MODELLED)}.",
    ]
    return "\n\n".join(part for part in parts if part) + "\n"


def data(demo: Demo) -> dict[str, Any]:
    """Plain values for JSON; unknown numbers are None."""
    rows = json.loads(demo.table.to_json(orient="records", double_precision=15))
    for row in rows:
        bands = {
            key: json.loads(text) for key, text in row.items() if key.endswith("_bands") and text
        }
        row |= bands
    return {
        "engine": demo.engine,
        "quick": demo.quick,
        "options": rows,
        "shown_slope_deg": demo.slope,
        "shown": {name: outcome.to_dict() for name, outcome in outcomes(demo).items()},
        "notes": notes(demo),
        "defaults": defaults(demo),
    }


def warnings(demo: Demo) -> list[str]:
    """Each warning once, with the options that it holds for."""
    found: dict[str, list[str]] = {}
    for _, row in demo.table.iterrows():
        for warning in [] if pd.isna(row["warnings"]) else row["warnings"].split(" | "):
            found.setdefault(warning, []).append(row["option"])
    return [f"{warning} ({', '.join(options)})" for warning, options in found.items()]


def notes(demo: Demo) -> list[str]:
    """Defaults and estimates of all options, each once."""
    study = demo.study
    fitted = [fit(study.machine, option.outfit) for option in study.options]
    return list(dict.fromkeys(note for one in fitted for note in one.notes))


def defaults(demo: Demo) -> list[str]:
    """Fields of machine, scenario and the first option's outfit that were left to a default."""
    study = demo.study
    parts = (study.scenario, study.machine, study.options[0].outfit)
    return [text for part in parts for text in defaults_used(part)]
