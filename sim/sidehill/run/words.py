"""Verdicts and slopes in words: thresholds rounded down, peaks up."""

from math import isnan, radians

from sidehill.files.units import show_angle, show_threshold

UNKNOWN = "not computed"

VERDICTS = {
    "failed": "numbers went bad, nothing is known",
    "not_settled": "no four wheels on the ground before the start; no drive was run",
    "overturned": "it went past 60 deg",
    "slid": "over 0.5 m off the path",
    "stalled": "it came to a halt before the end",
    "on_stop": "past the features, but left leaning on its axle stop",
    "wheel_lifted": "it came across, but a wheel lifted",
    "crossed": "it came across with four wheels loaded",
}


def verdict(name: str) -> str:
    """The verdict with what it means."""
    return f"{name}: {VERDICTS[name]}"


def threshold(degrees: float | None) -> str:
    """A slope that something starts at; see `show_threshold`."""
    return UNKNOWN if degrees is None else show_threshold(radians(degrees))


def peak(degrees: float | None) -> str:
    """A roll or pitch, rounded up."""
    return UNKNOWN if degrees is None or isnan(degrees) else show_angle(radians(degrees), "up")
