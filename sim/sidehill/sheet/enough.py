"""How much is enough for the machine as delivered, by three slopes from rough to telling."""

from math import isfinite, nan, radians

from sidehill.advice.answer import Enough
from sidehill.advice.enough import enough_ballast, enough_spacer
from sidehill.advice.measure import Measure, rigid
from sidehill.advice.site import Site
from sidehill.case import Case
from sidehill.machine.outfit import Outfit
from sidehill.sheet.standing import standing
from sidehill.strip.limit import find_limit
from sidehill.study.study import Study
from sidehill.workers import mapped

LEAST = "lift-off slope on its tyres, lower bound"
DRIVEN = "driven slope until it goes over, slides or stalls"

Pair = tuple[Enough, Enough]  # rear spacer, rear box


def measures(study: Study, engine: str, quick: bool) -> tuple[Measure, ...]:
    """What is looked at; a quick sheet leaves out what is simulated."""
    ground = study.scenario.ground

    def least(outfit: Outfit) -> float:
        return radians(standing(study.machine, outfit, ground.downhill).least)

    def driven(outfit: Outfit) -> float:
        case = Case(study.machine, study.scenario, outfit)
        found = find_limit(case, until="overturn", engine=engine).highest_good
        return nan if found is None or not isfinite(found) else radians(found)

    found = (
        Measure(LEAST, least, scan=9, length_tolerance=1e-4, mass_tolerance=0.5),
        rigid(study.machine, "lift-off", Site.of(ground)),
    )
    if quick:
        return found
    return (*found, Measure(DRIVEN, driven, scan=4, length_tolerance=2e-3, mass_tolerance=5.0))


def enough(study: Study, wanted: float, engine: str, quick: bool) -> tuple[Pair, ...]:
    """The smallest rear spacer and rear box by each measure, everything else as delivered.

    Args:
        wanted: [rad].
    """
    machine, outfit = study.machine, study.options[0].outfit

    def look(pair: tuple[Measure, bool]) -> Enough:
        measure, is_box = pair
        search = enough_ballast if is_box else enough_spacer
        return search(machine, outfit, wanted, measure=measure)

    asked = [(m, is_box) for m in measures(study, engine, quick) for is_box in (False, True)]
    found = mapped(look, asked, engine in THREADED)
    return tuple(zip(found[::2], found[1::2], strict=True))
