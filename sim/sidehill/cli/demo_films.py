"""The films of the demo, made last: whatever goes wrong with them, its tables are there."""

from pathlib import Path

from sidehill.caution import SHOWN_SLOPE
from sidehill.cli import film_run
from sidehill.cli.demo_run import HIGH, LOW, SHOWN, Demo
from sidehill.files.errors import SidehillError

FILMS = {"high-low": (HIGH, LOW), "high-low-spacers": SHOWN}
SIZE, FPS = (960, 540), 20  # under half a minute each on two idle cores
STILL = "daylight"


def names(demo: Demo) -> dict[str, tuple[str, ...]]:
    """The films to come, or of a quick demo the stills, each with the options it shows."""
    ending = ".png" if demo.quick else ".mp4"
    return {f"{name}{ending}": options for name, options in FILMS.items()}


def make(folder: Path, demo: Demo) -> tuple[list[str], SidehillError | None]:
    """Films of the shown runs, or of a quick demo one still each: their paths, and what failed."""
    made: list[str] = []
    if not demo.records:
        return made, None
    wish = film_run.Wish(SIZE, FPS, caption=SHOWN_SLOPE)
    at = STILL if demo.quick else None
    for name, options in names(demo).items():
        target = folder / name
        records = [demo.records[option] for option in options]
        try:
            film_run.draw(records, list(options), target, at, wish)
        except SidehillError as error:
            return made, SidehillError(f"no film {target.name}, all else is written: {error}")
        made.append(str(target))
    return made, None
