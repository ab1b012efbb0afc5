"""What tells the machines of a film apart, and where on each of them it is."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from sidehill.case import Case
from sidehill.film.differs import apart_in, differing, fields, worded
from sidehill.film.pane import Pane
from sidehill.film.recorded import Recorded, look_up
from sidehill.film.render.scene import Scene
from sidehill.film.render.shapes import Array
from sidehill.film.words import Words
from sidehill.machine.build import fit
from sidehill.machine.fitted import Part
from sidehill.machine.outfit import Outfit

# how the names of the parts begin that an option of the outfit adds, changes or moves
PARTS = {
    "outfit.rear_spacer": "spacer_rear",
    "outfit.front_spacer": "spacer_front",
    "outfit.rear_track": "tyre_rear",
    "outfit.front_track": "tyre_front",
    "outfit.bucket_load": "bucket_load",
    "outfit.bucket_height": "bucket",
    "outfit.operator": "operator",
    "outfit.operator_lean": "operator",
    "outfit.rear_fill": "liquid_rear",
    "outfit.front_fill": "liquid_front",
    "outfit.rear_pressure": "tyre_rear",
    "outfit.front_pressure": "tyre_front",
    "outfit.rear_wheel_weight": "wheel_weight_rear",
    "outfit.rear_ballast": "rear_ballast",
    "outfit.front_weight": "front_weight",
    "outfit.front_axle_swing": "beam",
    "outfit.attachment": "attachment",
    "outfit.attachment_at": "attachment",
}


@dataclass(frozen=True)
class Mark:
    """One thing that is different, in words, and its places [m] at the start, level frame."""

    text: str
    places: tuple[Array, ...]  # none where it is not of the machine


def marks(
    records: Sequence[Recorded], panes: Sequence[Pane], words: Words
) -> tuple[tuple[Mark, ...], ...]:
    """Of every pane. One run alone is held against a bare machine; what a machine goes without
    is not told of it.
    """
    rows = differing(records) if len(records) > 1 else _beside_bare(records[0])
    found = []
    for k, (record, pane) in enumerate(zip(records, panes, strict=True)):
        case = Case.from_resolved(look_up(record, "case"))
        parts = fit(case.machine, case.outfit, case.scenario.ground.downhill).parts
        own = dict(fields(record))
        found.append(
            tuple(
                Mark(
                    words.say("differs", what=worded(name), value=values[k]),
                    () if pane.scene is None else _places(pane.scene, parts, PARTS.get(name)),
                )
                for name, values in rows
                if own.get(name) or not name.startswith("outfit.")
            )
        )
    return tuple(found)


def _beside_bare(record: Recorded) -> list[tuple[str, list[str]]]:
    """What is fitted to a machine, as the rows of `differing`."""
    own = {name: value for name, value in fields(record) if name.startswith("outfit.")}
    bare = Outfit().model_dump(mode="json")
    return apart_in([own, {name: bare.get(name.partition(".")[2]) for name in own}])


def _places(scene: Scene, parts: Sequence[Part], start: str | None) -> tuple[Array, ...]:
    if start is None:
        return ()
    return tuple(_place(scene, part) for part in parts if part.name.startswith(start))


def _place(scene: Scene, part: Part) -> Array:
    """[m] of a part at the start, in the level frame: its link's, or where the chassis has it."""
    take = scene.take
    turns, places = take.pose(0.0)
    level, shift = scene.levelling(0.0)
    if part.link != "chassis" and part.link in take.links:
        return np.asarray(level @ places[take.links.index(part.link)] + shift)
    chassis = take.links.index("chassis")
    return np.asarray(level @ (turns[chassis] @ part.cg + places[chassis]) + shift)
