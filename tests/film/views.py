"""The eight pictures that the golden images hold.

Run `PYTHONPATH=sim:tests python -m film.views` from the project's root to draw them again, after
a change to the drawing or to the machines that is meant; look at every one before committing.
"""

from collections.abc import Callable
from math import radians
from pathlib import Path

import numpy as np
from film.posed import case_of, posed
from PIL import Image

from sidehill.film import still
from sidehill.film.recorded import Recorded
from sidehill.kernels.layout import CUT, OVERTURNED
from sidehill.run.record import Record

GOLDEN = Path(__file__).parent / "golden"
SIZE = (480, 270)
LEVELS = 4  # the images are kept in steps of that many of 255: half the bytes
CAPTION = "slope chosen to show the difference; not a slope to work on"

HIGH = {"bucket_load": "250 kg", "bucket_height": "full"}
LOW = {"bucket_load": "250 kg"}
WIDE = {"rear_spacer": "76 mm", "front_spacer": "38 mm"}
HEAVY = {"rear_fill": 0.75, "rear_ballast": "250 kg", "rear_wheel_weight": "40 kg"}

View = tuple[list[Record], list[str], str, float | None]  # records, titles, camera, time


def two_machines() -> View:
    """Small and large, as delivered and with everything on."""
    small = posed(case_of("sorrel", "bank-plain"), [0.0] * 3)
    large = posed(case_of("hawthorn", "bank-plain", outfit=HEAVY | WIDE), [0.0] * 3)
    return [small, large], ["small", "large, ballast"], "uphill", None


def lifted_wheel() -> View:
    """The moment at which the film stands still, from low behind."""
    rolls = list(np.linspace(0.0, radians(8.0), 30))
    return [posed(case_of("bramble", "bank-stone", outfit=HIGH), rolls)], ["lifted"], "low", None


def on_the_stop() -> View:
    """The body as far over as the front axle lets it."""
    case = case_of("bramble", "bank-stone", outfit=LOW)
    record = posed(case, [radians(14.0)] * 3, hung=1.0)
    return [record], ["on the stop"], "uphill", 0.02


def overturned() -> View:
    """On its side, roll bar folded."""
    case = case_of("bramble", "bank-plain", outfit=HIGH | {"rops": "folded"})
    rolls = list(np.radians(np.linspace(20.0, 80.0, 60)))
    return [posed(case, rolls, finish=OVERTURNED)], ["overturned"], "downhill", 0.59


def four_panes() -> View:
    """The demo's arrangement, one of them without a run."""
    outfits = (HIGH, LOW, HIGH | WIDE, LOW | WIDE)
    cases = [case_of("bramble", "bank-stone", outfit=outfit) for outfit in outfits]
    records = [posed(case, [0.04 * k] * 3) for k, case in enumerate(cases[:3])]
    records.append(posed(cases[3], [], finish=CUT, started=0.0))
    return records, ["high", "low", "high, spacers", "low, spacers"], "downhill", 0.01


def wet_grass() -> View:
    """Left side downhill, a kerb below."""
    case = case_of(
        "sorrel",
        "wet-grass",
        ["ground.slope=14 deg", "ground.downhill=left", "feature.1.y=2.2 m"],
    )
    return [posed(case, [0.0] * 3)], ["wet grass"], "uphill", 0.01


def hole() -> View:
    """Past a rut under the downhill wheels."""
    record = posed(case_of("bramble", "bank-rut"), [0.0] * 3, along=6.0)
    return [record], ["hole"], "downhill", 0.01


def rough() -> View:
    """Rough ground."""
    return [posed(case_of("sorrel", "bank-rough"), [0.0] * 3, along=9.0)], ["rough"], "low", 0.01


VIEWS: dict[str, Callable[[], View]] = {
    view.__name__: view
    for view in (
        two_machines, lifted_wheel, on_the_stop, overturned, four_panes, wet_grass, hole, rough,
    )
}  # fmt: skip


def draw(view: View) -> Image.Image:
    """The picture of a view."""
    records, titles, camera, time = view
    kept: list[Recorded] = [*records]
    return still(kept, titles, time, size=SIZE, camera=camera, caption=CAPTION)


def coarse(image: Image.Image) -> np.ndarray:
    """(h, w, 3) in steps of LEVELS."""
    return np.asarray(image) // LEVELS * LEVELS


if __name__ == "__main__":
    for name, view in VIEWS.items():
        Image.fromarray(coarse(draw(view()))).save(GOLDEN / f"{name}.png", optimize=True)
