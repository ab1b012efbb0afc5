"""The rungs of the tilt tables: the same machine in an engine, on a table turned slowly."""

from dataclasses import replace
from math import degrees

from sidehill.crosscheck.compliant import SECTION
from sidehill.crosscheck.rung import Rung
from sidehill.engines import choose
from sidehill.files.errors import EngineError
from sidehill.kernels.layout import BROKEN
from sidehill.run import run
from sidehill.run.table import event, fall_through, table_scenario
from sidehill.spread.subject import AXLES, INERTIA, TYRES, Subject

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
    if fallen["finish"][0] == BROKEN:
        return replace(rung, missing="numbers went bad on the table")
    lift = event(fallen, 0)
    if lift is None:
        return replace(rung, missing="no wheel lifts on the table before its end")
    second = event(run(subject.on(table_scenario("lower")), name).state, 2)
    released = subject.on(table_scenario("release"))
    over = fall_through(released, name, lift, max(lift, second or lift))
    return replace(
        rung,
        lift_off=degrees(lift),
        second_stage=None if second is None else degrees(second),
        overturn=None if over is None else degrees(over),
        missing="" if second is not None else "second stage: it does not rest on its stop",
    )
