"""The runs that a sheet shows and takes its peak loads from, and the slopes they are on."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from math import ceil, degrees, radians
from pathlib import Path

from sidehill.advice.headline import Answer
from sidehill.advice.look import Look
from sidehill.case import Case
from sidehill.files.errors import InputError
from sidehill.run import run
from sidehill.run.facts import ARRIVED
from sidehill.run.outcome import progress
from sidehill.run.record import Record
from sidehill.sheet.looks import Looks
from sidehill.study.study import Option, Study
from sidehill.sweep.kept import kept_records

Say = Callable[[str], None]
_FLATTER = 0.5  # [deg] by which the shown slope goes down until all that is shown can start


@dataclass(frozen=True)
class Loads:
    """Peak wheel loads of runs over the scenario."""

    slope: float  # [deg] that all were driven on
    is_own: bool  # whether that is the scenario's own
    peaks: Mapping[str, Mapping[str, float]]  # [N] by option and wheel; of runs that got there
    ended: Mapping[str, str]  # why, of the runs that did not, by option


@dataclass(frozen=True)
class Shown:
    """Runs side by side."""

    slope: float  # [deg]
    is_own: bool  # the scenario's own slope, else the steepest on which all of them can start
    records: Mapping[str, Record]

    def case(self, looks: Looks, name: str) -> Case:
        """The case of one of them on that slope."""
        return at_slope(by_name(looks)[name].case, self.slope)


def by_name(looks: Looks) -> dict[str, Look]:
    """Options and what costs nothing."""
    return {**looks.free, **looks.options}


def at_slope(case: Case, slope: float) -> Case:
    """On a slope [deg]; its own stays as it is, to the last digit."""
    is_own = slope == degrees(case.scenario.ground.slope)
    return case if is_own else case.with_slope(radians(slope))


def runnable(study: Study, looks: Looks) -> tuple[str, ...]:
    """Options that can be simulated at all, in the study's order.

    Raises:
        InputError: there is none.
    """
    found = tuple(name for name, look in looks.options.items() if look.strip is not None)
    if not found:
        problem = looks.delivered.problem
        raise InputError(f"{study.file}: no option could be simulated: {problem}")
    return found


def loads_slope(study: Study, names: Sequence[str], engine: str, say: Say) -> float:
    """[deg] the steepest on which all these come across: the scenario's own, else whole ones.

    The scenario's own as well where some come across on none, not even the level.
    """
    own = degrees(study.scenario.ground.slope)
    waiting = [study.option(name) for name in names]  # the one that failed last is tried first
    for slope in (own, *range(ceil(own) - 1, -1, -1)):
        say(f"looking for a slope to take peak loads on: {slope:.1f} deg")
        failed = next((o for o in waiting if not _gets_there(study, o, slope, engine)), None)
        if failed is None:
            return float(slope)
        waiting.sort(key=lambda option: option is not failed)
    return own


def _gets_there(study: Study, option: Option, slope: float, engine: str) -> bool:
    return progress(run(at_slope(study.case(option), slope), engine).state) in ARRIVED


def drive_loads(study: Study, names: Sequence[str], engine: str, folder: Path, say: Say) -> Loads:
    """These options driven on one slope.

    Raises:
        SidehillError: a case cannot be run, or the folder cannot be written.
    """
    own, slope = degrees(study.scenario.ground.slope), loads_slope(study, names, engine, say)
    cases = {name: at_slope(study.case(study.option(name)), slope) for name in names}
    records = kept_records(cases, engine, folder, say)
    found = {name: record.outcome for name, record in zip(names, records, strict=True)}
    across = {name: outcome.progress in ARRIVED for name, outcome in found.items()}
    return Loads(
        slope,
        slope == own,
        {name: found[name].peak_load_n for name in names if across[name]},
        {name: found[name].why for name in names if not across[name]},
    )


def chosen(looks: Looks, answered: Answer) -> tuple[str, ...]:
    """Names worth a picture: as delivered, the best that is free, the one to buy.

    Where nothing of that is, as delivered beside what reaches furthest of all.
    """
    names = [looks.delivered.name]
    if answered.best_free is not None:
        names.append(answered.best_free.name)
    names += [offer.look.name for offer in answered.to_buy[:1]]
    if len(names) == 1:
        rest = [look for look in by_name(looks).values() if look.good_up_to is not None]
        names += [max(rest, key=lambda look: look.good_up_to or 0.0).name] if rest else []
    known = by_name(looks)
    return tuple(dict.fromkeys(name for name in names if known[name].strip is not None))


def shown_slope(looks: Sequence[Look], own: float) -> float:
    """[deg] the bank asked about; flatter by half degrees where one of them cannot start there."""
    slope = own
    while slope > _FLATTER and any(_cannot_start(look, slope) for look in looks):
        slope = _FLATTER * (ceil(slope / _FLATTER) - 1)
    return slope


def _cannot_start(look: Look, slope: float) -> bool:
    """As its strip has it on both sides of a slope [deg], and its own run on its own one."""
    own = degrees(look.case.scenario.ground.slope)
    if slope == own and look.spot is not None:
        return look.spot.outcome.progress == "not_started"
    if look.strip is None:
        return True
    starts = [s.value for s in look.strip.spots if s.outcome.progress != "not_started"]
    return not starts or radians(slope) > max(starts)


def drive_shown(
    study: Study, looks: Looks, answered: Answer, engine: str, folder: Path, say: Say
) -> Shown:
    """Those worth a picture, on the bank asked about."""
    known, own = by_name(looks), degrees(study.scenario.ground.slope)
    names = chosen(looks, answered) or runnable(study, looks)[:1]
    slope = shown_slope([known[name] for name in names], own)
    cases = {name: at_slope(known[name].case, slope) for name in names}
    records = kept_records(cases, engine, folder, say)
    return Shown(slope, slope == own, dict(zip(names, records, strict=True)))
