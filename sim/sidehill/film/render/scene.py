"""One pane's world: its mesh, and where everything is at a time."""

from dataclasses import dataclass

import numpy as np

from sidehill.files.errors import InputError
from sidehill.film.recorded import Recorded, look_up, name_of
from sidehill.film.render import scenery
from sidehill.film.render.hillside import Bank
from sidehill.film.render.level import levelling, up
from sidehill.film.render.model import Model, join
from sidehill.film.render.setting import Setting, read_setting
from sidehill.film.render.shapes import Array
from sidehill.film.render.visuals import read_pieces
from sidehill.film.take import Take, read_take
from sidehill.kernels.monitor import tilted

CLEAR = 0.5  # [m] a camera is kept above the ground


@dataclass(frozen=True)
class Scene:
    """What is drawn, without what it is drawn with."""

    model: Model
    take: Take
    setting: Setting
    hinge: Array  # (3,) [m] point of the hillside frame that stays where it is
    bank: Bank | None  # None on a tilt table

    def slope(self, time: float) -> float:
        """[rad] of the ground; a bank keeps its slope while a run sets gravity to it."""
        return (
            float(self.take.at(self.take.slope, time)) if self.bank is None else self.setting.slope
        )

    def levelling(self, time: float) -> tuple[Array, Array]:
        """Rotation (3, 3) and shift (3,) [m] from the hillside frame to the level one."""
        turn = levelling(up(self.slope(time), self.setting.grade, self.setting.uphill))
        return turn, self.hinge - turn @ self.hinge

    def roll(self, time: float) -> float:
        """[rad] of the body to the horizon, positive toward the side that is downhill."""
        turns, _ = self.take.pose(time)
        body = self.levelling(time)[0] @ turns[self.take.links.index("chassis")]
        return self.setting.uphill * tilted(float(body[2, 1]), float(body[2, 2]))

    def lifted(self, eye: Array, time: float) -> Array:
        """The eye (3,) [m] of the level frame, moved up to where it is clear of the ground."""
        level, shift = self.levelling(time)
        if self.bank is None:
            return eye
        short = CLEAR - self.bank.above(level.T @ (eye - shift))
        return np.asarray(eye + np.array([0.0, 0.0, max(short, 0.0) / level[2, 2]]))

    def poses(self, time: float) -> tuple[Array, Array]:
        """Rotations (links, 3, 3) and places (links, 3) [m] of the model's links, level frame."""
        level, shift = self.levelling(time)
        turns, places = self.take.pose(time)
        known = {
            name: (level @ turns[k], level @ places[k] + shift)
            for k, name in enumerate(self.take.links)
        }
        known[scenery.BANK] = (level, shift)
        known[scenery.LEVEL] = (np.eye(3), np.zeros(3))
        found = [known[name] for name in self.model.links]
        return np.stack([turn for turn, _ in found]), np.stack([place for _, place in found])


def build_scene(record: Recorded) -> Scene:
    """The scene of a record.

    Raises:
        InputError: the record or its URDF cannot be drawn.
    """
    machine = read_pieces(look_up(record, "urdf"))
    links = tuple(dict.fromkeys(piece.link for piece in machine))
    if "chassis" not in links:
        raise InputError(
            f'{name_of(record)}: its URDF draws no link "chassis"; every machine has one'
        )
    take, setting = read_take(record, links), read_setting(record)
    track = take.place("chassis")[:, :2]
    if setting.is_table:
        wheelbase = float(look_up(record, "case", "machine", "body", "wheelbase"))
        middle = track[0] + np.array([0.5 * wheelbase, 0.0])
        model = join([*machine, *scenery.table(middle)])
        return Scene(model, take, setting, scenery.hinge(setting, middle), None)
    against = up(setting.slope, setting.grade, setting.uphill)
    bank = scenery.bank_around(setting, against, track)
    model = join([*machine, *scenery.bank_pieces(bank, setting, against)])
    return Scene(model, take, setting, np.zeros(3), bank)
