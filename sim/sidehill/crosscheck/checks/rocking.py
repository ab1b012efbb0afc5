"""The rocking block, released at half its tip angle."""

from functools import partial

from sidehill.crosscheck.block import RockingBlock
from sidehill.crosscheck.check import Check, last_digit

_SHAPES = {
    "four corner masses": (2.0, 0.6005, 0.6012),
    "uniform block": (4.0 / 3.0, 0.4903, 0.4909),
}


def _seconds(shape: float, exact: bool) -> float:
    block = RockingBlock(half_width=0.2, half_height=1.0, shape=shape)
    released = block.tip_angle / 2
    return block.quarter_period(released) if exact else block.slender_quarter_period(released)


CHECKS = tuple(
    Check(
        name=f"Rocking block, {name}",
        quantity=f"quarter period, {'exact' if exact else 'formula'}",
        unit="s",
        expected=expected,
        tolerance=last_digit(0.0001),
        source="Housner's formula for the rocking block (published), values derived",
        status="derived",
        compute=partial(_seconds, shape, exact),
    )
    for name, (shape, *values) in _SHAPES.items()
    for exact, expected in zip((False, True), values, strict=True)
)
