"""The runs that a sheet shows and takes its peak loads from, and the slopes they are on."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from math import ceil, degrees, radians
from pathlib import Path

import pandas as pd

from sidehill.files.errors import InputError
from sidehill.run import run
from sidehill.run.outcome import read, verdict
from sidehill.run.record import Record
from sidehill.strip.trial import COUNTED
from sidehill.study.study import Option, Study
from sidehill.sweep.kept import kept_records

Say = Callable[[str], None]


@dataclass(frozen=True)
class Loads:
    """Peak wheel loads of runs over the scenario."""

    slope: float  # [deg] that all were driven on
    is_own: bool  # whether that is the scenario's own
    peaks: Mapping[str, Mapping[str, float]]  # [N] by option and wheel; of runs that came across
    ended: Mapping[str, str]  # verdict of the runs that did not, by option


@dataclass(frozen=True)
class Shown:
    """Runs side by side."""

    slope: float  # [deg]
    is_own: bool  # the scenario's own slope, else one chosen to show the difference
    records: Mapping[str, Record]


def runnable(study: Study, table: pd.DataFrame) -> tuple[str, ...]:
    """Options that can be simulated at all, in the study's order.

    Raises:
        InputError: there is none.
    """
    problems = table.set_index("option")["problem"]
    found = tuple(o.name for o in study.options if pd.isna(problems[o.name]))
    if not found:
        raise InputError(f"{study.file}: no option could be simulated: {problems.iloc[0]}")
    return found


def loads_slope(study: Study, names: Sequence[str], engine: str, say: Say) -> float:
    """[deg] the steepest on which all these come across: the scenario's own, else whole ones.

    The scenario's own as well where some come across on none, not even the level.
    """
    own = degrees(study.scenario.ground.slope)
    waiting = [study.option(name) for name in names]  # the one that failed last is tried first
    for slope in (own, *range(ceil(own) - 1, -1, -1)):
        say(f"looking for a slope to take peak loads on: {slope:.1f} deg")
        failed = next((o for o in waiting if not _comes_across(study, o, slope, engine)), None)
        if failed is None:
            return float(slope)
        waiting.sort(key=lambda option: option is not failed)
    return own


def _comes_across(study: Study, option: Option, slope: float, engine: str) -> bool:
    track = run(study.case(option).with_slope(radians(slope)), engine)
    return _is_across(verdict(track.state, study.scenario.run.step))


def _is_across(judged: str) -> bool:
    return judged in COUNTED["overturn"]


def drive_loads(study: Study, names: Sequence[str], engine: str, folder: Path, say: Say) -> Loads:
    """These options driven on one slope.

    Raises:
        SidehillError: a case cannot be run, or the folder cannot be written.
    """
    own, slope = degrees(study.scenario.ground.slope), loads_slope(study, names, engine, say)
    records = _driven(study, names, slope, engine, folder, say)
    found = {name: read(record.state, record.step) for name, record in records.items()}
    across = {name: _is_across(outcome.verdict) for name, outcome in found.items()}
    return Loads(
        slope,
        slope == own,
        {name: found[name].peak_load_n for name in names if across[name]},
        {name: found[name].verdict for name in names if not across[name]},
    )


def between(table: pd.DataFrame, one: str, other: str) -> float | None:
    """[deg] to 0.1 deg, midway between the driven overturn limits of two options.

    None where either has no limit, or no such slope is clear of both.
    """
    rows = table.set_index("option").loc[[one, other]]
    good, bad = rows["overturn_highest_good_deg"], rows["overturn_lowest_bad_deg"]
    if one == other or good.isna().any() or bad.isna().any():
        return None
    low, high = float(bad.min()), float(good.max())
    slope = round((low + high) / 2.0, 1)
    return slope if low < slope < high else None


def drive_shown(
    study: Study, names: Sequence[str], table: pd.DataFrame, engine: str, folder: Path, say: Say
) -> Shown:
    """Some options on a slope between the limits of the first two, else on the scenario's own."""
    own = degrees(study.scenario.ground.slope)
    chosen = between(table, names[0], names[1]) if len(names) > 1 else None
    slope = own if chosen is None else chosen
    return Shown(slope, chosen is None, _driven(study, names, slope, engine, folder, say))


def _driven(
    study: Study, names: Sequence[str], slope: float, engine: str, folder: Path, say: Say
) -> dict[str, Record]:
    cases = {name: study.case(study.option(name)) for name in names}
    if slope != degrees(study.scenario.ground.slope):  # its own stays as it is, to the last digit
        cases = {name: case.with_slope(radians(slope)) for name, case in cases.items()}
    return dict(zip(names, kept_records(cases, engine, folder, say), strict=True))
