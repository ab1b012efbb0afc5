"""What a person must be told of a machine in an outfit where it stands: one list for every report.

What is past a rating or a rule is judged as the sheet judges it (`price`). Peaks of runs are left
out: tyre ratings are for a steady load.
"""

from collections.abc import Iterator

import numpy as np

from sidehill.advice.finding import Finding
from sidehill.advice.loaded import Worked
from sidehill.advice.price import price
from sidehill.advice.site import Site
from sidehill.case import Case
from sidehill.files.units import show_slope
from sidehill.machine.build import fit
from sidehill.machine.file import Machine
from sidehill.machine.outfit import Outfit
from sidehill.machine.weigh import second_look
from sidehill.scenario.file import Scenario
from sidehill.scenario.ground import Ground
from sidehill.statics.assembly import Side, from_fitted
from sidehill.statics.flaw import sound
from sidehill.statics.slopes import front_lifts_first, lift_off_tangents, rigid_slope
from sidehill.statics.tipping import Tipping


def warnings(machine: Machine, outfit: Outfit, site: Site) -> tuple[str, ...]:
    """One line each, none twice.

    Raises:
        InputError: the outfit does not suit the machine at all.
    """
    worked = Worked(outfit)
    judged = price(machine, worked, worked, site)
    past = [f for f in (*judged.axles, *judged.shares, *judged.tyres) if f.judgement == "over"]
    return (*beside_ratings(machine, outfit, site.downhill), *map(_past, past))


def beside_ratings(machine: Machine, outfit: Outfit, downhill: Side) -> tuple[str, ...]:
    """Those that are no finding against a rating of axles and tyres, or a rule.

    Raises:
        InputError: the outfit does not suit the machine at all.
    """
    fitted = fit(machine, outfit, downhill)
    look = second_look(machine.weighed.cg_height, machine.rear_tyre.radius)
    return (
        *fitted.warnings,  # the loader's rating and the roll bar's are among them
        *([] if look is None else [look]),
        *_front_first(from_fitted(fitted, downhill)),
    )


def site_of(ground: Ground) -> Site:
    """The ground as a site, worked up and down as well as along: as the sheet takes it."""
    return Site.of(ground, steepest_grade=ground.slope)


def scenario_warnings(machine: Machine, outfit: Outfit, scenario: Scenario) -> tuple[str, ...]:
    """Those of a machine on a scenario's ground; before a tilt table turns it is level."""
    ground = scenario.ground
    level = Site(downhill=ground.downhill)
    return warnings(machine, outfit, level if scenario.course.is_tilt_table else site_of(ground))


def case_warnings(case: Case) -> tuple[str, ...]:
    """Those of a case."""
    return scenario_warnings(case.machine, case.outfit, case.scenario)


def _past(finding: Finding) -> str:
    word = "over" if finding.bound == "most" else "under"
    return (
        f"{finding.item}, {finding.what}: {finding.value_text()}, {word} {finding.limit_text()}: "
        f"{finding.reason}"
    )


def _front_first(tipping: Tipping) -> Iterator[str]:
    """A lift-off of the body that lies above the slope at which the whole machine tips."""
    if sound(tipping) and front_lifts_first(tipping):
        swings = show_slope(float(np.arctan(lift_off_tangents(tipping, 0.0).rear)))
        rigid = show_slope(float(rigid_slope(tipping)), "down")
        yield (
            f"the uphill front wheel lifts first: the body would swing about the pivot pin only at "
            f"{swings}, above the {rigid} at which the whole machine tips over its downhill "
            "wheels; check tracks, pivot_height and cg_height"
        )
