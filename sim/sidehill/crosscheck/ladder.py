"""The ladder: the answer under each assumption, one machine in one outfit."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from sidehill.crosscheck.compliant import tyre_rungs
from sidehill.crosscheck.derating import Crossing, crossings
from sidehill.crosscheck.remainder import Remainder, remainder
from sidehill.crosscheck.rigid import rigid_rungs
from sidehill.crosscheck.rung import Rung, rung_data
from sidehill.crosscheck.table import table_rung
from sidehill.files.errors import InputError, SidehillError
from sidehill.scenario.file import Scenario
from sidehill.spread.closed import closed_form_spread
from sidehill.spread.critical import (
    OVERTURN,
    UNTILS,
    critical_name,
    critical_spread,
    overturn_spread,
)
from sidehill.spread.design import Watch
from sidehill.spread.interval import Interval, interval_data
from sidehill.spread.subject import AXLES, INERTIA, TYRES, Subject

TABLES = ("pybullet", "mujoco")
_QUICK = "statics only were asked for"

Say = Callable[[str], None]


@dataclass(frozen=True)
class Ladder:
    """Everything that is crosschecked of one machine; a text stands where a part has no answer."""

    subject: Subject
    scenario: Scenario  # of the critical slopes
    engine: str
    rungs: tuple[Rung, ...]
    remainder: Remainder | str
    crossings: tuple[Crossing, ...] | str
    intervals: dict[str, Interval | str]  # by quantity

    def to_dict(self) -> dict[str, Any]:
        """Plain values for programs."""
        stones = self.crossings
        return {
            "machine": self.subject.machine.name,
            "engine": self.engine,
            "rungs": [rung_data(self.rungs, rung) for rung in self.rungs],
            "remainder": self.remainder
            if isinstance(self.remainder, str)
            else self.remainder.to_dict(),
            "crossings": stones if isinstance(stones, str) else [row.to_dict() for row in stones],
            "intervals": {
                name: found if isinstance(found, str) else interval_data(found)
                for name, found in self.intervals.items()
            },
        }


def climb(
    subject: Subject,
    scenario: Scenario,
    engine: str = "compiled",
    statics_only: bool = False,
    say: Say = lambda text: None,
) -> Ladder:
    """The whole ladder.

    Args:
        scenario: a course, of which critical slopes are asked.
        engine: runs stones, falls and critical slopes; the tilt tables have their own.
        statics_only: nothing is simulated.
        say: told what is being done.

    Raises:
        InputError: the scenario is a tilt table.
    """
    if scenario.course.is_tilt_table:
        raise InputError(f"{scenario.file}: a tilt table has no critical slope; name a course")
    say("statics")
    rungs = rigid_rungs(subject) + tyre_rungs(subject)
    lack = _QUICK if statics_only else subject.lacks(AXLES, TYRES, INERTIA)
    tables = () if statics_only else _tables(subject, say)
    return Ladder(
        subject=subject,
        scenario=scenario,
        engine=engine,
        rungs=rungs + tables,
        remainder=lack or _remainder(subject, say),
        crossings=lack or _stones(subject, tables, engine, say),
        intervals=_intervals(subject, scenario, engine, lack, say),
    )


def _tables(subject: Subject, say: Say) -> tuple[Rung, ...]:
    found = []
    for name in TABLES:
        say(f"tilt table in {name}")
        found.append(table_rung(subject, name))
    return tuple(found)


def _remainder(subject: Subject, say: Say) -> Remainder | str:
    say("the fall on hard tyres")
    try:
        return remainder(subject)
    except SidehillError as error:
        return str(error)


def _stones(
    subject: Subject, tables: tuple[Rung, ...], engine: str, say: Say
) -> tuple[Crossing, ...] | str:
    """Over the stones, from the standing answer of the last table that has one."""
    standing = next(
        (t for t in reversed(tables) if t.lift_off is not None and t.overturn is not None), None
    )
    if standing is None or standing.lift_off is None or standing.overturn is None:
        return "; ".join(table.missing for table in tables)
    watch = _counted("stones", say)
    return crossings(subject, standing.lift_off, standing.overturn, engine, watch)


def _intervals(
    subject: Subject, scenario: Scenario, engine: str, lack: str | None, say: Say
) -> dict[str, Interval | str]:
    say("spread of the inputs")
    if (missing := subject.lacks(AXLES, TYRES)) is not None:
        return {"lift-off and overturn slope": missing}
    found: dict[str, Interval | str] = {
        interval.quantity: interval for interval in closed_form_spread(subject)
    }
    names = (OVERTURN, *(critical_name(scenario, u) for u in UNTILS))
    if lack is not None:
        return found | dict.fromkeys(names, lack)
    found[names[0]] = overturn_spread(subject, engine, _counted("spread: overturn", say))
    for name, until in zip(names[1:], UNTILS, strict=True):
        watch = _counted(f"spread: critical slope until {until}", say)
        found[name] = critical_spread(subject, scenario, until, engine, watch)
    return found


def _counted(what: str, say: Say) -> Watch:
    return lambda done, of: say(f"{what}: {done} of {of} done")
