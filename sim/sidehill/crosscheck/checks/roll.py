"""Roll of a narrow tractor after tipping over a bank (Code 6)."""

from collections.abc import Callable
from functools import partial

from sidehill.crosscheck import code6
from sidehill.crosscheck.check import Check, Status, Tolerance, chosen, last_digit
from sidehill.crosscheck.code6 import NarrowTractor, Roll
from sidehill.crosscheck.examples import CODE6_1, CODE6_2

_SOURCE = "OECD Code 6 / EU 1322/2014 Annex IX / Directive 2010/22/EU, example {}; {}"
_RECALLED = "value from memory"
_STEP = "intermediate value, derived from the method's words"

_ROWS: tuple[tuple[str, str, float, float, Callable[[Roll], float]], ...] = (
    ("CG on the axle stop, forward", "m", 0.91204, 1e-5, lambda r: float(r.turned_cg.x)),
    ("CG on the axle stop, inward", "m", 0.47057, 1e-5, lambda r: float(r.turned_cg.y)),
    ("CG on the axle stop, up", "m", 0.80175, 1e-5, lambda r: float(r.turned_cg.z)),
    ("that CG from the contacts' line", "m", 0.92965, 1e-5, lambda r: r.w0),
    ("A2, bank across the tilted axis", "rad", 0.57461, 1e-5, lambda r: r.section.a2),
    ("V0, axis to impact point", "m", 0.93942, 1e-5, lambda r: r.section.v0),
    ("E4, axis to CG", "m", 0.74458, 1e-5, lambda r: r.section.e4),
    ("Q3, inertia along the axis", "kg m^2", 318.558, 1e-3, lambda r: r.section.q3),
    ("d1, CG past the vertical, tyres down", "rad", 0.07902, 1e-5, lambda r: r.section.d1),
    ("d2, CG past the vertical, frame in", "rad", 0.57900, 1e-5, lambda r: r.section.d2),
    ("Xc, CG down the bank", "m", 0.00326, 1e-5, lambda r: r.section.xc),
    ("Zc, CG off the bank", "m", 0.74458, 1e-5, lambda r: r.section.zc),
)
_RATES: tuple[tuple[str, float, Callable[[Roll], float]], ...] = (
    ("O0, as the side meets the bank", 3.881, lambda r: r.o0),
    ("O1, after, about the tyre tops", 1.078, lambda r: r.o1),
    ("O2, about the tilted axis", 1.057, lambda r: r.o2),
    ("O3, as the frame meets the ground", 2.134, lambda r: r.o3),
    ("O4, after the frame's impact", 0.731, lambda r: r.o4),
)
_RATES_2: tuple[tuple[str, float, Status, Callable[[Roll], float]], ...] = (
    ("O0, as the side meets the bank", 3.840, "memory", lambda r: r.o0),
    ("O1, after, about the tyre tops", 0.281, "derived", lambda r: r.o1),
    ("O2, about the tilted axis", 0.268, "memory", lambda r: r.o2),
)


def _read(tractor: NarrowTractor, value: Callable[[Roll], float]) -> float:
    return value(code6.roll(tractor))


def _check(
    example: int,
    quantity: str,
    unit: str,
    expected: float,
    tolerance: Tolerance,
    status: Status,
    value: Callable[[Roll], float],
) -> Check:
    tractor = (CODE6_1, CODE6_2)[example - 1]
    note = _RECALLED if status == "memory" else _STEP
    return Check(
        name=f"Code 6 roll, example {example}",
        quantity=quantity,
        unit=unit,
        expected=expected,
        tolerance=tolerance,
        source=_SOURCE.format(example, note),
        status=status,
        compute=partial(_read, tractor, value),
    )


CHECKS = (
    *(
        _check(1, quantity, "rad/s", expected, chosen(0.001), "memory", value)
        for quantity, expected, value in _RATES
    ),
    *(
        _check(1, quantity, unit, expected, last_digit(digit), "derived", value)
        for quantity, unit, expected, digit, value in _ROWS
    ),
    *(
        _check(2, quantity, "rad/s", expected, chosen(0.001), status, value)
        for quantity, expected, status, value in _RATES_2
    ),
)
