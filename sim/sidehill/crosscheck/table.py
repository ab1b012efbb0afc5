"""The rungs of the tilt tables: the same machine in an engine, on a table turned slowly."""

from collections.abc import Callable
from dataclasses import replace
from math import degrees, radians

from sidehill.case import Case
from sidehill.crosscheck.compliant import SECTION, table_scenario
from sidehill.crosscheck.rung import Rung
from sidehill.crosscheck.subject import AXLES, INERTIA, TYRES, Subject
from sidehill.engines import choose
from sidehill.errors import EngineError
from sidehill.layout import OVERTURNED, Records
from sidehill.outcome import UNKNOWN, verdict
from sidehill.run import run

TOLERANCE = radians(0.02)  # of the overturn slope
_PAST = radians(0.5)  # past the second stage it goes over for certain
_STEEPEST = radians(59.0)  # a table is turned to

TABLE = Rung(
    name="tilt table in {engine}",
    assumption="The whole machine on a hard table, every force of the simulation at work: turned "
    "until a wheel lifts; the body lowered gently; the body let go at ever steeper slopes.",
    fails="On anything that moves: no speed, no bump, no drive.",
    over=SECTION.name,
)


def table_rung(subject: Subject, engine: str) -> Rung:
    """Lift-off, second stage and overturn on the tilt table of an engine."""
    rung = replace(TABLE, name=TABLE.name.format(engine=engine))
    lack = subject.lacks(AXLES, TYRES, INERTIA)
    if lack is not None:
        return replace(rung, missing=lack)
    try:
        name = choose(engine)
    except EngineError as error:
        return replace(rung, missing=str(error))
    fallen = run(subject.on(table_scenario("fall")), name).state
    if (judged := verdict(fallen, 1e-3)) in UNKNOWN:
        return replace(rung, missing=f"the table's run ended as {judged}")
    lift = _event(fallen, 0)
    if lift is None:
        return replace(rung, missing="no wheel lifts on the table before its end")
    second = _event(run(subject.on(table_scenario("lower")), name).state, 2)
    released = subject.on(table_scenario("release"))
    over = fall_through(released, name, lift, max(lift, second or lift))
    return replace(
        rung,
        lift_off=degrees(lift),
        second_stage=None if second is None else degrees(second),
        overturn=None if over is None else degrees(over),
        missing="" if second is not None else "second stage: it does not rest on its stop",
    )


def fall_through(case: Case, engine: str, lift: float, second: float) -> float | None:
    """[rad] lowest slope from lift-off on at which the body, let go on four wheels, carries over.

    None where it does not even past the second stage.

    Args:
        case: on the table whose body is held and released.
    """
    return bisect(lambda slope: goes_over(case, engine, slope), lift, second + _PAST)


def goes_over(case: Case, engine: str, slope: float) -> bool:
    """Whether a machine that is held on four wheels and let go at a slope [rad] goes over."""
    held = case.with_slope(min(slope, _STEEPEST))
    return bool(run(held, engine).state["finish"][0] == OVERTURNED)


def bisect(is_over: Callable[[float], bool], low: float, high: float) -> float | None:
    """[rad] lowest slope that is over, rounded down to the last one tried that is not.

    `low` itself if it is; None if `high` is not.
    """
    if is_over(low):
        return low
    if not is_over(high):
        return None
    while high - low > TOLERANCE:
        middle = 0.5 * (low + high)
        low, high = (low, middle) if is_over(middle) else (middle, high)
    return low


def _event(state: Records, number: int) -> float | None:
    """[rad] an event of the table; None if it did not come."""
    return float(state["event_slope"][0, number]) or None
