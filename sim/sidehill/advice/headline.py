"""The ranking in a sentence or two: the cheap helps first where they beat spacers."""

from collections.abc import Sequence
from math import radians

from sidehill.advice.changes import BALLAST, LIGHTER_LOAD, LOWER_BUCKET, SPACERS
from sidehill.advice.ranked import BUYS, Ranked
from sidehill.files.units import show, show_angle

_RIVALS = {
    LOWER_BUCKET: "A lower bucket",
    LIGHTER_LOAD: "A lighter load",
    BALLAST: "Ballast",
}
_NAMES = {
    "least_lift_off_slope_deg": "lift-off slope on its tyres, standing (lower bound)",
    "lift_off_slope_deg": "rigid lift-off slope",
    "overturn_slope_deg": "rigid overturn slope",
    "energy_to_tip_j": "energy to tip",
    "lift_limit_deg": "driven slope limit until a wheel lifts",
    "stop_limit_deg": "driven slope limit until the axle stop is met",
    "overturn_limit_deg": "driven slope limit until it overturns, slides or stalls",
}


def headline(options: Sequence[Ranked], by: str) -> tuple[str, ...]:
    """Which change alone buys most of the deciding figure; combined changes are left to the table.

    First a line for each of lower bucket, lighter load and ballast that beats the best spacers, the
    best of them first; else a line that says what buys most, or that nothing compared does.
    """
    best = best_alone(options, by)
    if not best:
        return (f"No change of those compared, alone, adds to the {_NAMES[by]}.",)
    spacers = best.get(SPACERS)
    least = spacers.gains[by] if spacers else 0.0
    beating = [kind for kind in best if kind in _RIVALS and best[kind].gains[by] > least]
    if spacers is None or not beating:
        kind = max(best, key=lambda kind: best[kind].gains[by])
        return (f"{_RIVALS.get(kind, kind.capitalize())} alone: {_bought(best[kind], by)}.",)
    beating.sort(key=lambda kind: -best[kind].gains[by])
    return tuple(
        f"{_RIVALS[kind]} beats spacers: {_bought(best[kind], by)}; "
        f'the best spacers alone, "{spacers.option}", add {_amount(spacers, by)}.'
        for kind in beating
    )


def best_alone(options: Sequence[Ranked], by: str) -> dict[str, Ranked]:
    """Kind of change -> the option that gains most by that kind alone; only what gains.

    A gain is a difference of two figures, each within the step that counts.
    """
    best: dict[str, Ranked] = {}
    for option in options:
        if len(option.changed) != 1 or not option.gains[by] >= 2.0 * BUYS[by]:
            continue
        (kind,) = option.changed
        if kind not in best or option.gains[by] > best[kind].gains[by]:
            best[kind] = option
    return best


def _bought(option: Ranked, by: str) -> str:
    return f'"{option.option}" adds {_amount(option, by)} to the {_NAMES[by]}'


def _amount(option: Ranked, by: str) -> str:
    """What it gains, rounded down."""
    gain = option.gains[by]
    if by.endswith("_j"):
        return show(gain, "energy", rounding="down")
    return show_angle(radians(gain), "down")
