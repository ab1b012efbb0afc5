"""The films of the demo, made last: whatever goes wrong with them, its tables are there."""

from pathlib import Path

from sidehill.caution import SHOWN_SLOPE
from sidehill.cli import film_run
from sidehill.cli.demo_run import Demo
from sidehill.files.errors import SidehillError

SIZE, FPS = (960, 540), 20  # under half a minute each on two idle cores
STILL = "daylight"


def names(demo: Demo) -> list[str]:
    """The films to come, or of a quick demo the stills."""
    return [f"{shown.name}{'-still.png' if demo.quick else '.mp4'}" for shown in demo.shown]


def make(folder: Path, demo: Demo) -> tuple[list[str], SidehillError | None]:
    """Films of the shown runs, or of a quick demo one still each: their paths, and what failed."""
    made: list[str] = []
    at = STILL if demo.quick else None
    for name, shown in zip(names(demo), demo.shown, strict=True):
        wish = film_run.Wish(SIZE, FPS, caption=SHOWN_SLOPE)
        records, target = list(shown.records.values()), folder / name
        try:
            film_run.draw(records, list(shown.records), target, at, wish)
        except SidehillError as error:
            return made, SidehillError(f"no film {name}, all else is written: {error}")
        made.append(str(target))
    return made, None
