"""How much is enough for the machine as delivered: by driven facts, and standing beside it."""

from collections.abc import Callable
from math import radians

from sidehill.advice.answer import Enough
from sidehill.advice.driven_enough import GOALS, DrivenEnough, driven_enough, holds_throughout
from sidehill.advice.enough import enough_ballast, enough_spacer
from sidehill.advice.look import Look, Means
from sidehill.advice.measure import Measure, rigid
from sidehill.advice.setting import settings
from sidehill.advice.site import Site
from sidehill.machine.outfit import Outfit
from sidehill.sheet.standing import standing
from sidehill.sheet.wish import Wish
from sidehill.study.study import Study

LEAST = "lift-off slope on its tyres, lower bound"

Pair = tuple[Enough, Enough]  # rear spacer, rear box
Say = Callable[[str], None]


def driven_answers(
    study: Study, delivered: Look, wanted: float, wish: Wish, say: Say = lambda text: None
) -> tuple[tuple[DrivenEnough, ...], ...]:
    """Each setting alone, everything else as delivered; by each goal.

    Args:
        wanted: [rad].
    """
    means, case = Means(wish.engine, wish.quick), study.case(study.options[0])
    if delivered.strip is None:
        return ()
    at = case.with_slope(wanted)
    already = {goal: holds_throughout(at, goal, wanted, means) for goal in GOALS}
    found: list[tuple[DrivenEnough, ...]] = []
    for setting in settings(case, wish.us):
        say(f"how much is enough: {setting.name}")
        found.append(driven_enough(case, setting, wanted, means, already))
    return tuple(found)


def measures(study: Study) -> tuple[Measure, ...]:
    """The standing slopes that are looked at beside."""
    ground = study.scenario.ground

    def least(outfit: Outfit) -> float:
        return radians(standing(study.machine, outfit, ground.downhill).least)

    return (
        Measure(LEAST, least, scan=9, length_tolerance=1e-4, mass_tolerance=0.5),
        rigid(study.machine, "lift-off", Site.of(ground)),
    )


def standing_answers(study: Study, wanted: float) -> tuple[Pair, ...]:
    """The smallest rear spacer and rear box by each standing slope, everything else as delivered.

    Args:
        wanted: [rad].
    """
    machine, outfit = study.machine, study.options[0].outfit
    return tuple(
        (
            enough_spacer(machine, outfit, wanted, measure=measure),
            enough_ballast(machine, outfit, wanted, measure=measure),
        )
        for measure in measures(study)
    )
