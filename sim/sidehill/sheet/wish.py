"""What a sheet is asked for."""

from dataclasses import dataclass
from pathlib import Path
from typing import Literal

Place = Literal["embed", "link", "none"]  # in the page, beside it, or not at all


@dataclass(frozen=True)
class Wish:
    """How a sheet is to be made."""

    records: Path  # folder of runs that are kept
    engine: str = "compiled"  # a name of `engines.NAMES`
    want: float | None = None  # [rad] slope that "enough" has to reach; None: the scenario's own
    quick: bool = False  # coarser strips, nothing of what takes many runs
    film: Place = "embed"
    replay: Place = "embed"
    tyre: str | None = None  # the law that was asked for, where the study's own was overridden
    us: bool = False  # US units first
