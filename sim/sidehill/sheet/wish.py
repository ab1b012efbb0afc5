"""What a sheet is asked for."""

from dataclasses import dataclass
from math import radians
from pathlib import Path
from typing import Any, Literal

FilmMode = Literal["embed", "link", "none"]


@dataclass(frozen=True)
class Wish:
    """How a sheet is to be made."""

    records: Path  # folder of runs that are kept
    engine: str = "compiled"  # a name of `engines.NAMES`
    want: float | None = None  # [rad] slope that "enough" has to reach; None: the scenario's own
    quick: bool = False  # coarser limits, nothing of what takes many runs
    film: FilmMode = "embed"
    us: bool = False  # US units first

    @property
    def limits(self) -> dict[str, Any]:
        """How finely limits are looked for: arguments of `compare`."""
        return {"tolerance": radians(0.5), "scan": 7} if self.quick else {}
