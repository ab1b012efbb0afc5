"""The films of the demo, made last: whatever goes wrong with them, its tables are there."""

from pathlib import Path

from sidehill.cli import demo_report, film_run
from sidehill.cli.demo_run import HIGH, LOW, SHOWN, Demo
from sidehill.errors import SidehillError

FILMS = {"high-low": (HIGH, LOW), "high-low-spacers": SHOWN}
SIZE, FPS = (960, 540), 20  # under half a minute each on two idle cores
STILL = "daylight"


def make(folder: Path, demo: Demo) -> tuple[list[str], SidehillError | None]:
    """Films of the shown runs, or of a quick demo one still each: their paths, and what failed."""
    made: list[str] = []
    if not demo.records:
        return made, None
    wish = film_run.Wish(SIZE, FPS, caption=demo_report.caption(demo))
    at, ending = (STILL, ".png") if demo.quick else (None, ".mp4")
    for name, options in FILMS.items():
        target = folder / f"{name}{ending}"
        records = [demo.records[option] for option in options]
        try:
            film_run.draw(records, list(options), target, at, wish)
        except SidehillError as error:
            return made, SidehillError(f"no film {target.name}, all else is written: {error}")
        made.append(str(target))
    return made, None
