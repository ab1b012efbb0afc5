"""The published examples: one table, read by the page, the command and the tests alike."""

from sidehill.crosscheck.check import Check, Result
from sidehill.crosscheck.checks import (
    bucket,
    bump,
    energy,
    lifting,
    liquid,
    loads,
    rocking,
    roll,
    roughness,
    slide,
    spacers,
    stages,
)

CHECKS: tuple[Check, ...] = (
    *roll.CHECKS,
    *stages.CHECKS,
    *spacers.CHECKS,
    *loads.CHECKS,
    *bucket.CHECKS,
    *bump.CHECKS,
    *energy.CHECKS,
    *rocking.CHECKS,
    *slide.CHECKS,
    *roughness.CHECKS,
    *lifting.CHECKS,
    *liquid.CHECKS,
)


def run_checks() -> tuple[Result, ...]:
    """Every check of the table, computed now."""
    return tuple(check.run() for check in CHECKS)
