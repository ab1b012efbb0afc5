"""The work of the demo: limits of every option, a slope between two of them, runs on it."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from math import radians
from typing import Any

import pandas as pd

from sidehill.cli.progress import progress
from sidehill.engines import choose
from sidehill.run.record import Record, simulate
from sidehill.study.study import Study, load_study
from sidehill.sweep.compare import compare

HIGH, LOW = "bucket high, as delivered", "bucket low, as delivered"
SHOWN = (HIGH, LOW, "bucket high, rear spacers 76 mm", "bucket low, rear spacers 76 mm")

QUICK = (*SHOWN, "bucket high, rear box 250 kg", "bucket low, rear box 250 kg")
QUICKER: dict[str, Any] = {"tolerance": radians(0.5), "scan": 7}


@dataclass(frozen=True)
class Demo:
    """What the demo found."""

    study: Study
    engine: str  # of the shown runs
    quick: bool
    table: pd.DataFrame  # of `compare`
    slope: float | None  # [deg] shown
    records: dict[str, Record]  # of the runs on it, by option

    @property
    def engines(self) -> str:
        """Which engine did what, in words."""
        searched = self.table["engine"].iloc[0]
        if searched == self.engine:
            return f"engine {self.engine}"
        return f"limits in {searched}, their ends again in {self.engine}, as what is shown"


def run(engine: str, quick: bool) -> Demo:
    """The whole of it, with its progress told; `quick` takes fewer options and wider limits."""
    study = load_study("demo")
    if quick:
        study = replace(study, options=tuple(o for o in study.options if o.name in QUICK))
    with progress("starting the search of limits") as say:
        table = compare(
            study,
            engine,
            watch=lambda done, of: say(f"limits: {done} of {of} options done"),
            **(QUICKER if quick else {}),
        )
        slope, shown = shown_slope(table), choose(engine)
        records = {} if slope is None else run_shown(study, slope, shown, say)
    return Demo(study, shown, quick, table, slope, records)


def shown_slope(table: pd.DataFrame) -> float | None:
    """[deg] to 0.1 deg, midway between the overturn limits of HIGH and LOW.

    None where either has no limit, or no such slope is clear of both.
    """
    by_name = table.set_index("option")
    good = [by_name.loc[name, "overturn_highest_good_deg"] for name in (HIGH, LOW)]
    bad = [by_name.loc[name, "overturn_lowest_bad_deg"] for name in (HIGH, LOW)]
    if any(pd.isna(value) for value in (*good, *bad)):
        return None
    low, high = min(bad), max(good)
    slope = float(round((low + high) / 2.0, 1))
    return slope if low < slope < high else None


def run_shown(
    study: Study, degrees: float, engine: str, say: Callable[[str], None]
) -> dict[str, Record]:
    """The records of the shown options on one slope."""
    found = {}
    for name in SHOWN:
        say(f"running {name}")
        found[name] = simulate(study.case(study.option(name)).with_slope(radians(degrees)), engine)
    return found
