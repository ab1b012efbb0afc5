"""The loader as parts: frame on the chassis, arms at the fitted height, bucket and load."""

import math

import numpy as np

from sidehill.files.errors import InputError
from sidehill.files.units import show
from sidehill.machine import inertia
from sidehill.machine.file import Loader, Machine
from sidehill.machine.fitted import Array, Part
from sidehill.machine.outfit import Outfit

HUNG = "hung_load"  # name of the part
_IRON = 7200.0  # [kg/m^3]
_ARM_SECTION = 0.12  # [m] estimated thickness of the arms
_BUCKET_DEEP, _BUCKET_HIGH = 0.50, 0.45  # [m] estimated outside size of a bucket
_FRAME_LONG, _FRAME_HIGH = 0.30, 0.80  # [m] estimated size of the loader frame


def pin_height(loader: Loader, height: float | str) -> float:
    """[m] of the bucket pin for "carry", "full", or a height of its own.

    Raises:
        InputError: out of the arm's reach.
    """
    named = {"carry": loader.carry_height, "full": loader.full_height}
    wanted = named[height] if isinstance(height, str) else height
    if not loader.reaches(wanted):
        low, high = loader.pin_range
        raise InputError(
            f"bucket_height {show(wanted, 'length')}: out of the arm's reach; allowed: from "
            f"{show(low, 'length', rounding='up')} to {show(high, 'length', rounding='down')}"
        )
    return wanted


def refuse_dragging(loader: Loader, outfit: Outfit, height: float | str) -> None:
    """Refuse a hung load that would lie on level ground with the bucket pin at that height.

    Raises:
        InputError: load, rope, and what is allowed.
    """
    hook = pin_height(loader, height)
    if outfit.hung_load > 0.0 and outfit.rope >= hook:
        raise InputError(
            f"rope {show(outfit.rope, 'length')}: the hung load would lie on the ground under a "
            f"hook {show(hook, 'length', rounding='down')} up; allowed: a shorter rope, or a "
            "higher bucket"
        )


def arm_angle(loader: Loader, height: float | str) -> float:
    """[rad] of the arm above horizontal that puts the bucket pin there."""
    return math.asin((pin_height(loader, height) - loader.arm_pivot[1]) / loader.arm_length)


def parts(machine: Machine, outfit: Outfit) -> list[Part]:
    """Frame, arms, bucket and load; nothing without a loader."""
    loader = machine.loader
    if loader is None:
        return []
    angle = arm_angle(loader, outfit.bucket_height)
    ahead = np.array([math.cos(angle), 0.0, math.sin(angle)])
    pivot, frame = _at(loader.arm_pivot), _at(loader.frame_cg)
    bucket = pivot + loader.arm_length * ahead + np.array([loader.load_reach, 0.0, 0.0])
    frame_box = (_FRAME_LONG, loader.frame_width, _FRAME_HIGH)
    bucket_box = (_BUCKET_DEEP, loader.bucket_width, _BUCKET_HIGH)
    return [
        _box("loader_frame", "chassis", loader.frame_mass, frame, frame_box),
        Part(
            "loader_arm",
            "loader_arm",
            loader.arm_mass,
            pivot + loader.arm_cg * loader.arm_length * ahead,
            _arms(loader, angle),
        ),
        _box("bucket", "bucket", loader.bucket_mass, bucket, bucket_box),
        _box("bucket_load", "bucket", outfit.bucket_load, bucket, bucket_box),
        # its weight acts at its hook; a run moves the load itself
        Part(HUNG, "bucket", outfit.hung_load, bucket, inertia.cube(outfit.hung_load, _IRON)),
    ]


def lump(machine: Machine, height: float | str) -> tuple[float, float, float]:
    """Mass [kg] of the empty loader, and its CG ahead of the rear axle and above ground [m].

    Args:
        height: of the bucket pin, as `pin_height`.

    Raises:
        InputError: the machine has no loader, or the height is out of its reach.
    """
    if machine.loader is None:
        raise InputError(
            f"the machine file {machine.file or machine.name} lacks a [loader] table; add it, or "
            "give the loader's mass and place"
        )
    empty = [part for part in parts(machine, Outfit(bucket_height=height)) if part.mass > 0.0]
    mass = sum(part.mass for part in empty)
    x, _, z = sum((part.mass * part.cg for part in empty), np.zeros(3)) / mass
    return mass, float(x), float(z)


def _at(forward_up: tuple[float, float]) -> Array:
    return np.array([forward_up[0], 0.0, forward_up[1]])


def _box(name: str, link: str, mass: float, place: Array, size: tuple[float, float, float]) -> Part:
    return Part(name, link, mass, place, inertia.box(mass, *size))


def _arms(loader: Loader, angle: float) -> Array:
    """Two equal bars, a frame width apart, at that angle above horizontal."""
    half = loader.arm_mass / 2.0
    bar = inertia.box(half, loader.arm_length, _ARM_SECTION, _ARM_SECTION)
    side = np.array([0.0, loader.frame_width / 2.0, 0.0])
    turn: Array = np.array(
        [
            [math.cos(angle), 0.0, -math.sin(angle)],
            [0.0, 1.0, 0.0],
            [math.sin(angle), 0.0, math.cos(angle)],
        ]
    )
    pair: Array = 2.0 * inertia.about(bar, half, side)
    return np.asarray(turn @ pair @ turn.T)
