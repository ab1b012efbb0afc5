"""The rungs on tyres that give: statics with the simulation's own tyre law, nothing integrated."""

from dataclasses import replace
from math import isnan

from sidehill.case import Settings
from sidehill.crosscheck.rigid import FALL
from sidehill.crosscheck.rung import Rung
from sidehill.files.known import known_degrees
from sidehill.files.units import show
from sidehill.flat import Flat, flatten
from sidehill.rest import RestSlopes, rest_slopes
from sidehill.run.table import table_scenario
from sidehill.scenario.file import load_scenario
from sidehill.spread.subject import AXLES, TYRES, Subject

NO_SHIFT = 100.0  # lateral over vertical stiffness: the patch stays put

# vertical compliance alone; with lateral shift; with section width: as the simulation has it
SETTINGS = (Settings(discs=1, lateral_ratio=NO_SHIFT), Settings(discs=1), Settings())

_NO_FALL = "overturn: statics cannot follow a fall; the tilt tables below do"

VERTICAL = Rung(
    name="+ vertical tyre compliance",
    assumption="Each tyre is one thin disc on a spring: the downhill ones sink, the body leans on.",
    fails="Where a tyre is softer or harder than its file says (pressure, ply, load).",
    over=FALL.name,
)
LATERAL = Rung(
    name="+ lateral tyre shift",
    assumption="The rim moves downhill off its own patch, which narrows the base.",
    fails="Where the lateral stiffness is not what the file says; it is seldom measured.",
    over=VERTICAL.name,
)
SECTION = Rung(
    name="+ section width",
    assumption="The tyre stands on 0.9 of its width: as it leans the load moves to its outer edge.",
    fails="Where the tread is crowned or soft at the shoulder: then it is less than this.",
    over=LATERAL.name,
)
ENVELOPING = Rung(
    name="+ a tyre that envelops",
    assumption="The tyre swallows a part of what is shorter than its contact; on even ground "
    "that is the same law, so that standing nothing changes.",
    fails="Over a stone: a real tyre lies between this and contact at one point; the table of "
    "stones has both. This end is the milder. Unsafe.",
    over=SECTION.name,
)
SOFT = Rung(
    name="+ soft ground",
    assumption="The soil gives like a spring under each wheel, in series with the tyre.",
    fails="Where a wheel digs in or the edge breaks away: neither is modelled. Unsafe.",
    over=SECTION.name,
)


def soft_ground() -> float:
    """[N/m] under each wheel: the shipped soft bank's."""
    ground = load_scenario("soft-bank").ground
    return 1.0 / ground.compliance


def tyre_rungs(subject: Subject) -> tuple[Rung, ...]:
    """The five rungs on compliant tyres; what cannot be computed says why."""
    soft = replace(SOFT, name=f"{SOFT.name}, {show(soft_ground(), 'stiffness')} a wheel")
    rungs = (VERTICAL, LATERAL, SECTION, ENVELOPING, soft)
    lack = subject.lacks(AXLES, TYRES)
    if lack is not None:
        return tuple(replace(rung, missing=lack) for rung in rungs)
    cases = (
        *(subject.on(table_scenario(), settings) for settings in SETTINGS),
        subject.on(table_scenario().with_values({"run.tyre": "enveloping"})),
        subject.on(table_scenario(stiffness=soft_ground())),
    )
    return tuple(_rung(rung, flatten(case)) for rung, case in zip(rungs, cases, strict=True))


def _rung(rung: Rung, flat: Flat) -> Rung:
    try:
        found = rest_slopes(flat)
    except ArithmeticError as error:
        return replace(rung, missing=f"no rest on its tyres was found: {error}")
    return replace(
        rung,
        lift_off=known_degrees(found.lift_off),
        second_stage=known_degrees(found.second_stage),
        missing="; ".join(text for text in (_oddity(found), _NO_FALL) if text),
    )


def _oddity(found: RestSlopes) -> str:
    """What is odd about the slopes; empty if nothing is."""
    if isnan(found.lift_off):
        return "it slides away before a wheel lifts"
    if found.carried > 0.0:
        left = show(found.carried, "force", rounding="up")
        return f"the body falls away while the uphill rear wheel still carries {left}"
    return ""
