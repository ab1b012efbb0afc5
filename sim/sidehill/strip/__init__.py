"""What one outfit does at every value of one quantity, and the limits read off it."""

from sidehill.strip.limits import ALL_EVENTS, Limit
from sidehill.strip.spot import Spot
from sidehill.strip.strip import Strip, take_strip

__all__ = ["ALL_EVENTS", "Limit", "Spot", "Strip", "take_strip"]
