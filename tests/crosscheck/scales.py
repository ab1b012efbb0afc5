"""Readings of scales that tests of the lifting method begin from."""

from sidehill.machine.weigh import read_scales

NUMBERS = {
    "level_front": (430.0, "kg"),
    "level_rear": (560.0, "kg"),
    "raised_front": (383.0, "kg"),
    "tilt": (22.0, "deg"),
    "wheelbase": (1.62, "m"),
    "front_radius": (0.30, "m"),
    "rear_radius": (0.475, "m"),
}


def readings(**changes):
    """Of a small tractor; numbers in kg, deg, m, texts as they are."""
    numbers = {name: f"{value!r} {unit}" for name, (value, unit) in NUMBERS.items()}
    given_ = {
        name: f"{value!r} {NUMBERS[name][1]}" if isinstance(value, float) else value
        for name, value in changes.items()
    }
    return read_scales(numbers | given_)
