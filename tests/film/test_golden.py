"""Eight pictures, as they were when somebody looked at them."""

from collections.abc import Sequence
from dataclasses import replace

import numpy as np
import pytest
from film.views import GOLDEN, LEVELS, VIEWS, coarse, draw
from PIL import Image

from sidehill.run.record import Record

OFF = 2 * LEVELS  # of 255: a pixel farther off than this is another pixel
MOST = 0.0005  # share of such pixels that is let pass: another font rasteriser's edges
NUDGE = 0.020  # [m]

# the wheels that each view is there to show
SHOWN = {
    "two_machines": ("rear_left", "front_left"),
    "lifted_wheel": ("rear_left", "rear_right"),
    "on_the_stop": ("rear_left", "rear_right", "front_left"),
    "overturned": ("rear_left", "rear_right"),
    "four_panes": ("rear_right", "rear_left"),
    "wet_grass": ("rear_right", "front_right"),
    "hole": ("rear_right", "rear_left", "front_right"),
    "rough": ("rear_left", "rear_right"),
}
NUDGES = [(view, wheel) for view, wheels in SHOWN.items() for wheel in wheels]


def share_off(image: np.ndarray, golden: np.ndarray) -> float:
    """Share of the pixels of two pictures (h, w, 3) that are not alike."""
    difference = np.abs(image.astype(int) - golden.astype(int)).max(axis=2)
    return float((difference > OFF).mean())


def golden(view: str) -> np.ndarray:
    return np.asarray(Image.open(GOLDEN / f"{view}.png").convert("RGB"))


def nudged(records: Sequence[Record], wheel: str) -> list[Record]:
    """The records with one wheel off its place."""
    column = f"wheel_{wheel}_z_m"
    return [replace(r, columns=r.columns | {column: r.columns[column] + NUDGE}) for r in records]


@pytest.mark.parametrize("view", VIEWS)
def test_the_picture_is_as_it_was(view: str) -> None:
    assert share_off(coarse(draw(VIEWS[view]())), golden(view)) <= MOST


@pytest.mark.parametrize(("view", "wheel"), NUDGES)
def test_a_wheel_twenty_millimetres_off_is_seen(view: str, wheel: str) -> None:
    records, *rest = VIEWS[view]()
    picture = draw((nudged(records, wheel), *rest))
    assert share_off(coarse(picture), golden(view)) > 2 * MOST


def test_every_golden_picture_has_its_view() -> None:
    assert {path.stem for path in GOLDEN.glob("*.png")} == set(VIEWS) == set(SHOWN)
