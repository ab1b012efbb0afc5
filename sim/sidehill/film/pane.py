"""One machine of a film: its scene, its run's outcome, and what is said of it."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import atan2

import numpy as np

from sidehill.files.errors import InputError
from sidehill.film.events import Daylight, first_daylight, on_its_stop, overturning
from sidehill.film.follow import MIDDLE, path_of
from sidehill.film.recorded import Recorded, look_up, name_of
from sidehill.film.render.camera import Camera, Extent, Stand, aim
from sidehill.film.render.scene import Scene, build_scene
from sidehill.film.render.shapes import Array
from sidehill.run.outcome import Outcome


@dataclass(frozen=True)
class Pane:
    """A part of the film. Without a scene there was no run to draw."""

    title: str
    outcome: Outcome
    machine: str
    source: str  # where the machine's numbers come from
    slope: float  # [rad] of the scenario
    hazards: tuple[str, ...]  # names of captions
    scene: Scene | None
    path: Array  # (n, 4) as in `follow`
    on_stop: tuple[tuple[float, float], ...]  # [s] from and to, hanging on the axle stop
    swing: float  # [rad] of the front axle to its stop
    table: tuple[float, float, float] | None  # [rad] tilt table: first lift, stop, over; 0 none
    daylight: Daylight | None
    over: tuple[float, float] | None  # [s] while it overturns

    @property
    def end(self) -> float:
        """[s] of the last row."""
        return 0.0 if self.scene is None else float(self.scene.take.times[-1])

    @property
    def downhill(self) -> float:
        """+1 if the machine's right side is downhill at the start, else -1."""
        return 1.0 if self.scene is None else self.scene.setting.uphill


def build_pane(record: Recorded, title: str) -> Pane:
    """A record with its title.

    Raises:
        InputError: the record cannot be drawn.
    """
    outcome = outcome_of(record)
    machine = ("case", "machine")
    outfit = look_up(record, "case", "outfit")
    own = outfit.get("front_axle_swing")  # may be 0
    swing = look_up(record, *machine, "front_axle", "swing") if own is None else own
    table = table_slopes(record)
    unknown = outcome.stability is None and table is None
    nothing = unknown or all(len(values) == 0 for values in record.columns.values())
    scene = None if nothing else build_scene(record)
    wheelbase = float(look_up(record, *machine, "body", "wheelbase"))
    over = None if scene is None else overturning(scene.take)
    return Pane(
        title=title,
        outcome=outcome,
        machine=str(look_up(record, *machine, "name")),
        source=str(look_up(record, *machine, "source")),
        slope=float(look_up(record, "case", "scenario", "ground", "slope")),
        hazards=hazards(outfit),
        scene=scene,
        path=np.zeros((0, 4)) if scene is None else path_of(scene.take, wheelbase),
        on_stop=() if scene is None else on_its_stop(scene.take, float(swing), outcome, over),
        swing=float(swing),
        table=table,
        daylight=None if scene is None else first_daylight(scene),
        over=over,
    )


def outcome_of(record: Recorded) -> Outcome:
    """The outcome of a run that came to its end.

    Raises:
        InputError: the record was cut short.
    """
    try:
        return record.outcome
    except (KeyError, ValueError):
        raise InputError(
            f"{name_of(record)}: the end of its run cannot be read: cut short, or made by another "
            "version; make it again with `sidehill drive`"
        ) from None


def table_slopes(record: Recorded) -> tuple[float, float, float] | None:
    """[rad] at which a tilt table saw first lift, axle stop, overturn; 0 if it did not."""
    if look_up(record, "case", "scenario", "course", "path") != "tilt table":
        return None
    lift, stop, over = record.state["event_slope"][0]
    return float(lift), float(stop), float(over)


def hazards(outfit: dict[str, object]) -> tuple[str, ...]:
    """Captions that an outfit calls for whatever happens."""
    found = []
    if outfit.get("rops") == "folded":
        found.append("folded")
    if outfit.get("operator_lean"):
        found.append("lean")
    return tuple(found)


def camera_at(pane: Pane, time: float, stand: Stand) -> Camera:
    """Where the pane is seen from at a time [s]; never from under the ground."""
    assert pane.scene is not None
    x, y, along, left = pane.scene.take.at(pane.path, time)
    level, shift = pane.scene.levelling(time)
    ground = level @ np.array([x, y, 0.0]) + shift
    ahead = level @ np.array([along, left, 0.0])
    camera = aim(stand, ground, atan2(ahead[1], ahead[0]), pane.downhill)
    return replace(camera, eye=pane.scene.lifted(camera.eye, time))


def extent_of(panes: Sequence[Pane]) -> Extent:
    """Of the largest machine at the start of its run."""
    sizes = [_size(pane) for pane in panes]
    return Extent(max(radius for radius, _ in sizes), max(top for _, top in sizes))


def _size(pane: Pane) -> tuple[float, float]:
    """[m] radius about the machine's middle and height above the hillside."""
    assert pane.scene is not None
    model, take = pane.scene.model, pane.scene.take
    turns, places = take.pose(0.0)
    of = np.array([take.links.index(n) if n in take.links else -1 for n in model.links])
    link = of[model.link_of]
    own = link >= 0
    points = np.einsum("nij,nj->ni", turns[link[own]], model.points[own]) + places[link[own]]
    middle = np.array([*pane.path[0, :2], MIDDLE])
    radius = np.linalg.norm(points - middle, axis=1).max()
    return float(radius), float(points[:, 2].max())
