"""The rocking block, released at half its tip angle."""

from functools import partial

from sidehill.crosscheck.block import RockingBlock
from sidehill.crosscheck.check import Check, last_digit, share
from sidehill.crosscheck.rocking import simulated_quarter_period
from sidehill.engines import here

_SHAPES = {
    "four corner masses": (2.0, 0.6005, 0.6012),
    "uniform block": (4.0 / 3.0, 0.4903, 0.4909),
}
_SOURCE = "Housner's formula for the rocking block (published), values derived"


def _block(shape: float) -> RockingBlock:
    return RockingBlock(half_width=0.2, half_height=1.0, shape=shape)


def _seconds(shape: float, exact: bool) -> float:
    block = _block(shape)
    released = block.tip_angle / 2
    return block.quarter_period(released) if exact else block.slender_quarter_period(released)


def _simulated(shape: float, engine: str) -> float:
    block = _block(shape)
    return simulated_quarter_period(block, block.tip_angle / 2, engine)


_CLOSED_FORM = tuple(
    Check(
        name=f"Rocking block, {name}",
        quantity=f"quarter period, {'exact' if exact else 'formula'}",
        unit="s",
        expected=expected,
        tolerance=last_digit(0.0001),
        source=_SOURCE,
        status="derived",
        compute=partial(_seconds, shape, exact),
    )
    for name, (shape, *values) in _SHAPES.items()
    for exact, expected in zip((False, True), values, strict=True)
)
_SIMULATED = tuple(
    Check(
        name=f"Rocking block, {name}",
        quantity=f"quarter period, simulated, {engine}",
        unit="s",
        expected=exact,
        tolerance=share(0.005),
        source=_SOURCE,
        status="derived",
        compute=partial(_simulated, shape, engine),
    )
    for name, (shape, _, exact) in _SHAPES.items()
    for engine in here()
)

CHECKS = (*_CLOSED_FORM, *_SIMULATED)
