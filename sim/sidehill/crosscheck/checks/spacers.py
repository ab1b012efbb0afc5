"""What a spacer does to the track: facts of the trade."""

from functools import partial

from sidehill.crosscheck.check import Check, chosen
from sidehill.machine.build import fit
from sidehill.machine.file import load_machine
from sidehill.machine.outfit import Outfit

_INCH = 0.0254
_EXACT = chosen(0.001)  # [in] what a tape cannot read


def _rear_track(thickness: str) -> float:
    """[in] of a 48 in track with spacers."""
    outfit = Outfit(rear_track="48 in", rear_spacer=thickness)
    return fit(load_machine("bramble"), outfit).rear_track / _INCH


def _gain(thickness: str) -> float:
    return _rear_track(thickness) - _rear_track("0 in")


CHECKS = (
    Check(
        name="Spacers and track",
        quantity="48 in with 2 in spacers",
        unit="in",
        expected=52.0,
        tolerance=_EXACT,
        source="common practice, no source",
        status="common practice",
        compute=partial(_rear_track, "2 in"),
    ),
    Check(
        name="Spacers and track",
        quantity="gain of 6 in spacers",
        unit="in",
        expected=12.0,
        tolerance=_EXACT,
        source="common practice, no source",
        status="common practice",
        compute=partial(_gain, "6 in"),
    ),
)
