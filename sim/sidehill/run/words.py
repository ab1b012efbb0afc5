"""Angles of a run in words: thresholds and least angles down, peaks away from zero."""

from math import isnan, radians

from sidehill.files.units import NOT_COMPUTED, show_angle, show_threshold


def threshold(degrees: float | None) -> str:
    """A slope that something starts at, rounded down; see `show_threshold`."""
    return NOT_COMPUTED if degrees is None or isnan(degrees) else show_threshold(radians(degrees))


def peak(degrees: float | None) -> str:
    """A roll or pitch, rounded away from zero."""
    if degrees is None or isnan(degrees):
        return NOT_COMPUTED
    return show_angle(radians(degrees), "up" if degrees >= 0.0 else "down")


def least(degrees: float | None) -> str:
    """A least balance or lift-off angle, rounded down; at zero it was lost."""
    if degrees is None or isnan(degrees):
        return NOT_COMPUTED
    return show_angle(radians(degrees), "down") if degrees > 0.0 else "lost"
