"""What the demo found, in words: for the screen, for report.md, as JSON."""

from collections.abc import Sequence
from math import radians
from typing import Any

from rich.console import Console
from rich.table import Table

from sidehill.advice.told import said_once
from sidehill.advice.told_study import study_warnings
from sidehill.caution import CAUTION, NOT_MODELLED, SHOWN_SLOPE
from sidehill.cli import console
from sidehill.cli.demo_run import FILMS, HIGH, LOW, Demo, Shown
from sidehill.files.spec import defaults_used
from sidehill.files.units import NOT_COMPUTED, show, show_angle, show_slope
from sidehill.machine.build import fit
from sidehill.run import words
from sidehill.strip.limits import ALL_EVENTS
from sidehill.strip.strip import Strip
from sidehill.strip.words import EVENT_WORDS, island_words

HEADINGS = (
    "option",
    "mass",
    "standing: lifts at",
    *(f"up to, before {EVENT_WORDS[e]}" for e in ALL_EVENTS),
)
RUN_HEADINGS = ("option", "stability", "progress", "what happened", "peak roll to the slope")
_NOTHING = "not even the lowest"
_JUMPS, _UNPROVED, _DISPUTED = "(!)", "(?)", "(*)"
_NOTES = {
    _NOTHING: "not even the lowest: at the lowest slope tried already",
    _JUMPS: "(!): above it the result jumps to and fro; the strip is in the table's file",
    _UNPROVED: "(?): above it nothing is proved, as the run did not get there",
    _DISPUTED: "(*): the reference engine says otherwise at a change of this strip",
}


def tell(out: Console, demo: Demo, *, us: bool) -> None:
    """Print tables and what is shown."""
    out.print(headline(demo), style="bold")
    out.print(_screen(demo, us))
    for note in footnotes(demo):
        out.print(f"  {note}")
    out.print(answer(demo), style="bold")
    for shown in demo.shown:
        out.print(caption(shown), style="bold")
        runs = Table(*RUN_HEADINGS)
        for cells in run_rows(shown):
            runs.add_row(*cells)
        out.print(runs)


def close(out: Console, demo: Demo, files: list[str]) -> None:
    """Print what was written, what must be known with it, and the page to open."""
    for file in files:
        out.print(f"wrote {file}")
    console.close(out, warnings(demo), notes(demo), defaults(demo))
    pages = [file for file in files if file.endswith(".html")]
    if pages:
        out.print(f"Open {pages[0]} in a browser: the two runs, to be turned and slowed down.")


def headline(demo: Demo) -> str:
    """What was compared, on what."""
    study = demo.study
    quick = " (quick: six of the options, limits to 0.5 deg)" if demo.quick else ""
    place = f"{study.machine.name}, {study.scenario.title}, shown in {demo.engine}"
    return f"{study.title}: {place}{quick}"


def answer(demo: Demo) -> str:
    """What a lower bucket and each purchase with it buy, in one line."""
    low = demo.strips[LOW]
    told = [f"{name.partition(',')[0]}: {_kept_down(demo.strips[name])}" for name in (HIGH, LOW)]
    bought = [
        f"{name.partition(', ')[2]} {_gain(low, strip)}"
        for name, strip in demo.strips.items()
        if name.startswith("bucket low, ") and name != LOW
    ]
    return f"Creeping over the stone, {'; '.join(told)}; with it low, {'; '.join(bought)}."


def _kept_down(strip: Strip) -> str:
    limit = strip.limit("lifted")
    if limit.good_up_to is None:
        return "a wheel lifts at the lowest slope tried already"
    return f"no wheel lifts up to {strip.varied.show(limit.good_up_to, 'down')}"


def _gain(before: Strip, after: Strip) -> str:
    """By how much an option lifts later, at least; nothing where the strips jump, or where it is
    less than twice what they were narrowed to."""
    old, new = before.limit("lifted"), after.limit("lifted")
    if old.good_up_to is None or new.good_up_to is None or old.alternates or new.alternates:
        return "cannot be told"
    gain = new.good_up_to - old.good_up_to
    if abs(gain) < before.tolerance + after.tolerance:
        return "buys nothing that shows"
    if gain < 0.0:
        return f"costs {show_angle(-gain + before.tolerance, 'up')}"
    return f"buys at least {show_angle(gain - before.tolerance, 'down')}"


def caption(shown: Shown) -> str:
    """For a picture of the shown runs."""
    return f"{show_slope(shown.slope)}: {SHOWN_SLOPE}"


def rows(demo: Demo, us: bool) -> list[list[str]]:
    """One list of cells an option."""
    found = []
    for (name, strip), (_, row) in zip(demo.strips.items(), demo.table.iterrows(), strict=True):
        standing = row["compliant_lift_off_slope_deg"]
        mass = show(row["mass_kg"], "mass", us=us, rounding="up").partition(" (")[0]
        cells = [name, mass, words.threshold(standing)]
        found.append(cells + [_cell(strip, event) for event in ALL_EVENTS])
    return found


def _cell(strip: Strip, event: str) -> str:
    limit = strip.limit(event)
    mark = f" {_JUMPS}" if limit.alternates else ""
    mark += f" {_UNPROVED}" if limit.unknown_from is not None else ""
    mark += f" {_DISPUTED}" if strip.doubts else ""
    if limit.good_up_to is None:
        return f"{_NOTHING}{mark}"
    return (
        f"{strip.varied.show(limit.good_up_to, 'down')}{' at least' if limit.is_open else ''}{mark}"
    )


def footnotes(demo: Demo) -> list[str]:
    """What the headings and the marks in the cells mean, those that occur."""
    cells = " ".join(cell for row in rows(demo, us=False) for cell in row)
    always = [
        "standing: side slope at which a wheel lifts, standing still, on the simulation's tyres",
        "up to: all slopes tried up to it are short of the event, driven over the stone to the end",
        island_words(next(iter(demo.strips.values()))),
    ]
    return always + [note for mark, note in _NOTES.items() if mark in cells]


def _screen(demo: Demo, us: bool) -> Table:
    """The table for a terminal; a section for each group, which is named before the comma."""
    found = Table(*HEADINGS)
    last = None
    for cells in rows(demo, us):
        group, _, name = cells[0].partition(", ")
        if group != last:
            found.add_section()
            found.add_row(group, style="bold")
            last = group
        found.add_row(name, *cells[1:])
    return found


def run_rows(shown: Shown) -> list[list[str]]:
    """Cells of the shown runs."""
    return [
        [
            name,
            record.outcome.stability or NOT_COMPUTED,
            record.outcome.progress or NOT_COMPUTED,
            record.outcome.why,
            words.peak(record.outcome.peak_roll_deg),
        ]
        for name, record in shown.records.items()
    ]


def markdown(
    demo: Demo, pictures: list[str], replays: list[str], films: list[str], *, us: bool
) -> str:
    """The report as a file of its own."""
    missing = [FILMS[name][0] for name in FILMS if name not in {s.name for s in demo.shown}]
    parts = [
        f"# {headline(demo)}",
        f"**{CAUTION}**",
        _table(HEADINGS, rows(demo, us)),
        *(f"- {note}" for note in footnotes(demo)),
        f"**{answer(demo)}**",
        *(
            f"## {s.question}, {caption(s)}\n\n{_table(RUN_HEADINGS, run_rows(s))}"
            for s in demo.shown
        ),
        *(f"No slope shows this difference: {name}." for name in missing),
        *(f"![{name.removesuffix('.png')}]({name})" for name in pictures),
        *(f"Replay, to be opened in a browser: [{name}]({name})" for name in replays),
        *(f"Film, made last: [{name}]({name})" for name in films),
        *(f"- WARNING: {warning}" for warning in warnings(demo)),
        *(f"- {note}" for note in notes(demo)),
        f"Defaults used: {', '.join(defaults(demo))}.",
        f"Not modelled: {', '.join(NOT_MODELLED)}.",
    ]
    return "\n\n".join(part for part in parts if part) + "\n"


def _table(headings: Sequence[str], cells: Sequence[Sequence[str]]) -> str:
    """A table in Markdown."""
    lines = [headings, ["---"] * len(headings), *cells]
    return "\n".join(
        "| " + " | ".join(cell.replace("|", "/").replace("\n", " ") for cell in line) + " |"
        for line in lines
    )


def data(demo: Demo) -> dict[str, Any]:
    """Plain values for JSON; unknown numbers are None."""
    return {
        "engine": demo.engine,
        "quick": demo.quick,
        "options": {name: strip.to_dict() for name, strip in demo.strips.items()},
        "shown": {
            shown.name: {
                "slope_deg": shown.slope / radians(1.0),
                "runs": {name: record.outcome.to_dict() for name, record in shown.records.items()},
            }
            for shown in demo.shown
        },
        "notes": notes(demo),
        "defaults": defaults(demo),
    }


def warnings(demo: Demo) -> list[str]:
    """Each kind of warning once, with the options that it holds for."""
    told = study_warnings(demo.study)
    for name, strip in demo.strips.items():
        told[name] += () if strip.fell_back is None else (strip.fell_back,)
    return said_once({name: told[name] for name in demo.strips})


def notes(demo: Demo) -> list[str]:
    """Defaults and estimates of all options, each once."""
    study = demo.study
    fitted = [fit(study.machine, option.outfit) for option in study.options]
    return list(dict.fromkeys(note for one in fitted for note in one.notes))


def defaults(demo: Demo) -> list[str]:
    """Fields of machine, scenario and the first option's outfit that were left to a default."""
    study = demo.study
    return defaults_used(study.scenario, study.machine, study.options[0].outfit)
