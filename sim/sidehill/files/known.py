"""Numbers for programs: what is not known (NaN, or without end) is None, in every file and JSON."""

from math import degrees, isfinite
from typing import Any


def known(value: Any) -> float | None:
    """The number, None where it is not known."""
    return float(value) if value is not None and isfinite(value) else None


def known_degrees(angle: Any) -> float | None:
    """The angle [rad] in degrees, None where it is not known."""
    return degrees(angle) if isfinite(angle) else None


def plain(value: Any) -> Any:
    """Tables and lists with every number that is not known as None."""
    if isinstance(value, dict):
        return {key: plain(item) for key, item in value.items()}
    if isinstance(value, list | tuple):
        return [plain(item) for item in value]
    return known(value) if isinstance(value, float) else value
