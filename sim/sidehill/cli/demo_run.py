"""The work of the demo: strips of every option, slopes that show a difference, runs on them."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from math import degrees, radians
from typing import Any

import pandas as pd

from sidehill.cli.progress import progress
from sidehill.engines import choose
from sidehill.run.facts import Facts, is_good
from sidehill.run.record import Record, simulate
from sidehill.strip.meeting import Wanted, meeting
from sidehill.strip.strip import Strip
from sidehill.study.strips import strips_of
from sidehill.study.study import Study, load_study
from sidehill.sweep.compare import side_by_side

HIGH, LOW = "bucket high, as delivered", "bucket low, as delivered"
WIDE = "bucket low, rear spacers 76 mm"
BOX, FILL = "bucket low, rear box 250 kg", "bucket low, rear tyres filled"

QUICK = (HIGH, LOW, WIDE, BOX, FILL, "bucket high, rear spacers 76 mm")
HOW: dict[str, Any] = {"scan": radians(0.5), "tolerance": radians(0.1)}
QUICKER: dict[str, Any] = {"scan": radians(1.0), "tolerance": radians(0.5), "check": False}


@dataclass(frozen=True)
class Shown:
    """Runs of some options on a slope that shows their difference."""

    name: str  # of its files
    question: str  # what it shows
    slope: float  # [rad]
    records: dict[str, Record]  # by option


@dataclass(frozen=True)
class Demo:
    """What the demo found."""

    study: Study
    engine: str  # of the shown runs
    quick: bool
    strips: dict[str, Strip]
    table: pd.DataFrame  # of the strips, side by side
    shown: tuple[Shown, ...]  # those for which there is a slope


def goes_over(facts: Facts) -> bool:
    """Over while it is driven, not before."""
    return facts[:2] == ("overturned", "over")


def comes_across(facts: Facts) -> bool:
    """Across, with a wheel up for long or high."""
    return facts[0] in ("lifted", "on_stop") and facts[1] == "across"


def is_fine(facts: Facts) -> bool:
    """A good result."""
    return is_good(*facts)


FILMS: dict[str, tuple[str, dict[str, Wanted]]] = {
    "high-low": ("bucket high or low", {HIGH: goes_over, LOW: is_fine}),
    "what-helps": (
        "bucket low: as delivered, spacers, box, fill",
        {LOW: comes_across, WIDE: is_fine, BOX: is_fine, FILL: is_fine},
    ),
}


def run(engine: str, quick: bool) -> Demo:
    """The whole of it, with its progress told; `quick` takes fewer options and wider limits."""
    study = load_study("demo")
    if quick:
        study = replace(study, options=tuple(o for o in study.options if o.name in QUICK))
    shown_in = choose(engine)
    with progress("starting the strips") as say:
        strips = strips_of(study, "slope", say=say, engine=engine, **(QUICKER if quick else HOW))
        table = side_by_side(study, strips, "slope")
        shown = (_shown(study, strips, name, shown_in, say) for name in FILMS)
        return Demo(study, shown_in, quick, strips, table, tuple(s for s in shown if s is not None))


def shown_slope(strips: dict[str, Strip], wishes: dict[str, Wanted]) -> float | None:
    """[rad] to 0.1 deg, in the middle of where every option does what is to be shown of it.

    None where there is no such slope.
    """
    ends = meeting([(strips[option], wanted) for option, wanted in wishes.items()])
    if ends is None:
        return None
    slope = radians(round(degrees(0.5 * (ends[0] + ends[1])), 1))
    return slope if ends[0] <= slope <= ends[1] else None


def _shown(
    study: Study, strips: dict[str, Strip], name: str, engine: str, say: Callable[[str], None]
) -> Shown | None:
    question, wishes = FILMS[name]
    slope = shown_slope(strips, wishes)
    if slope is None:
        return None
    records = {}
    for option in wishes:
        say(f"running {option}")
        records[option] = simulate(study.case(study.option(option)).with_slope(slope), engine)
    return Shown(name, question, slope, records)
