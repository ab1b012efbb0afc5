"""How many discs a wheel is made of, so that nothing narrow slips through between two of them."""

from math import ceil

import numpy as np

from sidehill.case import Case
from sidehill.kernels.tyre import SECTION_SHARE
from sidehill.scenario.ground import Feature
from sidehill.terrain.build import flank

LEAST_TOP = 0.25  # of a feature's width, that counts as its top where it has next to none


def discs(case: Case) -> int:
    """Discs of every wheel: those of the settings, or more where a feature is narrow.

    They stand no further apart than the narrowest top is wide, so that one of them climbs it. A
    single disc is a wheel without width, asked for as such, and stays alone.
    """
    asked = case.settings.discs
    if asked == 1:
        return 1
    span = SECTION_SHARE * max(case.machine.front_tyre.width, case.machine.rear_tyre.width)
    tops = [_top(feature, feature.width) for feature in case.scenario.feature if feature.width]
    if case.scenario.heights is not None:
        tops += np.diff(case.scenario.heights.across).tolist()
    return max([asked, *(ceil(span / top) for top in tops)])


def _top(feature: Feature, width: float) -> float:
    """[m] across a feature, over which it has its full height."""
    return max(width - 2.0 * flank(feature), LEAST_TOP * width)


def reach(case: Case, width: float) -> float:
    """[m] from a tyre's middle to its outermost disc; width: of its section [m]."""
    return SECTION_SHARE * width * (1.0 - 1.0 / discs(case)) / 2.0


def discs_notes(case: Case) -> tuple[str, ...]:
    """That there are more of them than usual, and why."""
    count, asked = discs(case), case.settings.discs
    if count == asked:
        return ()
    why = "a feature is narrow, and none is to slip through between two of them"
    return (f"{count} discs a wheel instead of {asked}: {why}",)
