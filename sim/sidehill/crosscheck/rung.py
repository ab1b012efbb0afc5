"""One rung of the ladder: the answer under one set of assumptions."""

from dataclasses import dataclass, fields
from typing import Any

FIGURES = ("lift_off", "second_stage", "overturn")


@dataclass(frozen=True)
class Rung:
    """Side slopes [deg], unrounded; None where the state does not exist or is not computed."""

    name: str
    assumption: str  # what is taken to be so
    fails: str  # when that is not so
    over: str | None  # name of the rung it adds its assumption to
    lift_off: float | None = None
    second_stage: float | None = None
    overturn: float | None = None
    missing: str = ""  # why it could not be computed, or what of it

    @property
    def is_computed(self) -> bool:
        """Whether it has any figure."""
        return any(getattr(self, figure) is not None for figure in FIGURES)


@dataclass(frozen=True)
class Step:
    """What an assumption changes of one figure."""

    change: float  # [deg] signed
    since: str  # name of the rung it is measured from


def step(rungs: tuple[Rung, ...], rung: Rung, figure: str) -> Step | None:
    """The change of a figure from the nearest rung below it in its own line that has one."""
    value, by_name = getattr(rung, figure), {item.name: item for item in rungs}
    over = rung.over
    while value is not None and over is not None:
        before = by_name[over]
        if (base := getattr(before, figure)) is not None:
            return Step(value - base, before.name)
        over = before.over
    return None


def rung_data(rungs: tuple[Rung, ...], rung: Rung) -> dict[str, Any]:
    """Plain values for programs, units in the names."""
    data: dict[str, Any] = {
        field.name: getattr(rung, field.name) for field in fields(rung) if field.name not in FIGURES
    }
    for figure in FIGURES:
        change = step(rungs, rung, figure)
        data[f"{figure}_slope_deg"] = getattr(rung, figure)
        data[f"{figure}_change_deg"] = change and change.change
        data[f"{figure}_change_since"] = change and change.since
    return data
