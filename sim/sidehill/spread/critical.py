"""The simulated slopes that a spread is asked of: overturn standing, critical slopes driven."""

from math import degrees, radians

from sidehill.files.units import NOT_COMPUTED
from sidehill.machine.pressure import stiffnesses
from sidehill.run.facts import PROGRESS
from sidehill.run.table import fall_through, table_scenario
from sidehill.scenario.file import Scenario
from sidehill.spread.design import Found, Point, Watch, simulated_spread
from sidehill.spread.inputs import DRIVEN, ENVELOPING, GRIP, LATERAL, SECTION_WIDTH, inputs
from sidehill.spread.interval import Interval
from sidehill.spread.softened import Tyres, lift_off_on_tyres
from sidehill.spread.subject import Subject
from sidehill.statics.slopes import second_stage_slope
from sidehill.strip.strip import Strip, take_strip
from sidehill.strip.words import EVENT_WORDS

OVERTURN = "overturn slope, simulated"
UNTILS = ("lifted", "overturned")  # events of a critical slope

_TOLERANCE = radians(0.05)  # of a critical slope
_SCAN = radians(1.0)
_LOW = radians(1.0)
_PAST = radians(2.0)  # past lift-off, where a critical slope is looked for up to


def overturn_spread(
    subject: Subject, engine: str, watch: Watch = lambda done, of: None
) -> Interval | str:
    """The overturn slope of the tilt table, or why it has no interval."""
    table = table_scenario("release")

    def simulate(point: Point) -> Found:
        lift, case = _lift_off(point), point.subject.on(table, point.settings)
        second = float(second_stage_slope(point.subject.tipping))
        found = fall_through(case, engine, lift, max(lift, second))
        return Found(None if found is None else degrees(found))

    names = [name for name in inputs(subject) if name not in DRIVEN]
    return simulated_spread(OVERTURN, subject, simulate, names, engine, watch)


def critical_spread(
    subject: Subject,
    scenario: Scenario,
    until: str,
    engine: str,
    watch: Watch = lambda done, of: None,
) -> Interval | str:
    """The critical slope of a course until an event of `UNTILS`, or why it has no interval."""

    def simulate(point: Point) -> Found:
        law = "enveloping" if point.values[ENVELOPING] > 0.0 else "point"
        ground = scenario.with_values({"ground.friction": point.values[GRIP], "run.tyre": law})
        strip = take_strip(
            point.subject.on(ground, point.settings),
            "slope",
            low=_LOW,
            high=max(_lift_off(point) + _PAST, _LOW + _SCAN),
            scan=_SCAN,
            tolerance=_TOLERANCE,
            until=(until,),
            engine=engine,
        )
        limit = strip.limit(until)
        slope = None if limit.good_up_to is None else degrees(limit.good_up_to)
        return Found(slope, _ending(strip, until))

    name, known = critical_name(scenario, until), list(inputs(subject))
    return simulated_spread(name, subject, simulate, known, engine, watch)


def _ending(strip: Strip, until: str) -> str:
    """What stands just beyond the limit, in a few words; empty where the strip ends before."""
    limit = strip.limit(until)
    if limit.is_open:
        return ""
    if limit.unknown_from is None:
        return EVENT_WORDS[until]
    outcome = strip.at(limit.unknown_from).outcome
    return NOT_COMPUTED if outcome.progress is None else PROGRESS[outcome.progress]


def critical_name(scenario: Scenario, until: str) -> str:
    """What the interval is of."""
    return f'critical slope, "{scenario.title}", until {EVENT_WORDS[until]}'


def _lift_off(point: Point) -> float:
    """[rad] standing, on the point's tyres."""
    machine = point.subject.machine
    front, rear = stiffnesses(machine, point.subject.outfit)
    tyres = Tyres(
        front_stiffness=front,
        rear_stiffness=rear,
        lateral_ratio=point.values[LATERAL],
        section=point.values[SECTION_WIDTH] * machine.rear_tyre.width,
    )
    return float(lift_off_on_tyres(point.subject.tipping, tyres))
