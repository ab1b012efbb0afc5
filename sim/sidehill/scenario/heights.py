"""Heights of the ground of one's own: profiles along the path, measured or made."""

from itertools import pairwise
from math import ceil
from typing import Annotated, Any, Self

import numpy as np
from pydantic import ValidationInfo, field_validator, model_validator
from pydantic.functional_validators import ModelWrapValidatorHandler

from sidehill.files.fields import FieldError, Quantity
from sidehill.files.problems import made_plainly
from sidehill.files.spec import Spec
from sidehill.scenario.schedule import of_arrays

GRID = 0.05  # [m] the ground is held this finely at least
FADE = 2.0  # [m] beyond the first and last height, over which it goes over to the plane
MOST_VALUES = 200_000
STEEPEST = 1.0  # height over length between neighbours; what is steeper is a feature
ROUND_OFF = 1e-6  # of a length

Height = Annotated[float, Quantity("length", "-1 m", "1 m")]
Offset = Annotated[float, Quantity("length", "-20 m", "20 m")]


class Heights(Spec):
    """Heights over the plane of the hillside, evenly spaced along the path, in profiles beside it.

    Between places it is smooth, between profiles straight across, beyond the outermost ones as
    they are. `height[k][i]` [m] is at path length `start + i spacing` [m], `across[k]` [m] to the
    left of it; arrays and lists will do.

    Raises:
        InputError: heights that do not fit together, or are not allowed.
    """

    start: Annotated[float, Quantity("length", "0 m", "200 m")] = 0.0
    spacing: Annotated[float, Quantity("length", "20 mm", "1 m")]
    across: tuple[Offset, ...]  # to the left of the path, rising
    height: tuple[tuple[Height, ...], ...]  # a profile each

    @field_validator("across", "height", mode="before")
    @classmethod
    def _of_arrays(cls, raw: Any) -> Any:
        """Arrays are what Python has."""
        return of_arrays(raw)

    @property
    def count(self) -> int:
        """Places along the path."""
        return len(self.height[0])

    @property
    def end(self) -> float:
        """[m] path length of the last place."""
        return self.start + (self.count - 1) * self.spacing

    @property
    def grid(self) -> float:
        """[m] of the grid on which the ground is held; every place along the path lies on it."""
        return self.spacing / ceil(self.spacing / GRID - ROUND_OFF)

    @property
    def span(self) -> tuple[float, float] | None:
        """[m] path lengths between which it is off the plane; None: nowhere."""
        off = np.flatnonzero(np.any(np.abs(self.height) > ROUND_OFF, axis=0))
        if not off.size:
            return None
        first, last = int(off[0]), int(off[-1])
        low = self.start + (first - 1) * self.spacing if first else self.start - FADE
        inside = last < self.count - 1
        return low, self.start + (last + 1) * self.spacing if inside else self.end + FADE

    @model_validator(mode="after")
    def _fits_together(self) -> Self:
        lengths = sorted({len(row) for row in self.height})
        if len(lengths) != 1 or lengths[0] < 2 or len(self.height) != len(self.across):
            raise FieldError(
                "height",
                f"{len(self.height)} profiles of {lengths} heights for {len(self.across)} offsets; "
                "allowed: a profile for each of across, all of the same two or more heights",
            )
        if len(self.height) * lengths[0] > MOST_VALUES:
            raise FieldError("height", f"too many; allowed: up to {MOST_VALUES:,} heights in all")
        if not all(low < high for low, high in pairwise(self.across)):
            raise FieldError("across", "allowed: offsets from right to left, each once")
        return self

    @model_validator(mode="after")
    def _can_be_held(self) -> Self:
        """Along and across no step is too steep, and no profile lies between the grid's lines."""
        rows = np.array(self.height)
        steps = np.abs(np.diff(rows, axis=1)) / self.spacing
        if steps.max() > STEEPEST * (1.0 + ROUND_OFF):
            row, place = (int(n) for n in np.unravel_index(steps.argmax(), steps.shape))
            raise FieldError(
                f"height.{row + 1}",
                f"from {rows[row, place]:g} m to {rows[row, place + 1]:g} m at a path of "
                f"{self.start + place * self.spacing:g} m: too steep; allowed: up to "
                f"{STEEPEST * self.spacing:g} m between neighbours; a kerb is a [[feature]]",
            )
        gaps = np.diff(self.across)
        off_grid = np.abs(gaps / self.grid - np.round(gaps / self.grid)) > ROUND_OFF
        if len(gaps) > 1 and off_grid.any():
            raise FieldError(
                "across",
                f"a gap of {gaps[off_grid.argmax()]:g} m; allowed: with three profiles or more, "
                f"whole multiples of {self.grid:g} m, on which the ground is held",
            )
        return self

    @model_validator(mode="wrap")
    @classmethod
    def _told_plainly(
        cls, data: Any, handler: ModelWrapValidatorHandler[Self], info: ValidationInfo
    ) -> Self:
        return made_plainly(cls, data, handler, info)  # last, around the others
