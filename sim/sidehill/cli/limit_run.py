"""The work of `sidehill limit`: the strip taken, and drawn if a picture was asked for."""

from dataclasses import dataclass
from pathlib import Path
from typing import Any

from sidehill.cli.job import Job
from sidehill.cli.progress import progress
from sidehill.files.spec import build
from sidehill.files.toml import Document
from sidehill.files.whole import ready_file, write_file
from sidehill.picture.strip import strips_picture
from sidehill.picture.style import KINDS, Kind
from sidehill.strip.spot import Spot
from sidehill.strip.strip import Strip, take_strip
from sidehill.study.plan import Find
from sidehill.sweep.statics import standing_slopes


@dataclass(frozen=True)
class Found:
    """A strip, and where its picture is."""

    job: Job
    strip: Strip
    lift_off: float | None  # [rad] standing still on the simulation's tyres; of a slope's strip
    file: str | None


def read_find(given: dict[str, str | None], feature: int) -> Find:
    """What to look for, from the options that were given.

    Raises:
        InputError: option, value, what is allowed.
    """
    known: dict[str, Any] = {key: text for key, text in given.items() if text is not None}
    return build(Find, Document("command line", known | {"feature": feature}))


def run(job: Job, find: Find, engine: str, output: Path | None) -> Found:
    """The strip in the engine asked for, with its progress told.

    Raises:
        InputError: a picture's name that cannot be used, or a range that is none.
        SidehillError: it cannot be run, or the picture cannot be written.
    """
    file = None if output is None else ready_file(output, *KINDS)
    words, done = f"{find.varied.words}: run", 0
    with progress(f"{words} 1") as say:

        def watch(_: Spot) -> None:
            nonlocal done
            done += 1
            say(f"{words} {done + 1}")

        strip = take_strip(
            job.case, find.of, feature=find.feature, engine=engine, watch=watch, **find.bounds
        )
    lift_off = standing_slopes(job.case).lift_off if find.of == "slope" else None
    if file is not None:
        write_file(file, _picture(job, strip, lift_off, KINDS[file.suffix]))
    return Found(job, strip, lift_off, None if file is None else str(file))


def _picture(job: Job, strip: Strip, lift_off: float | None, kind: Kind) -> bytes:
    case = job.case
    asked = strip.varied.value_in(case, strip.feature)
    return strips_picture(
        {"": strip},
        f"{case.machine.name}, {case.scenario.title}",
        kind,
        asked=asked if strip.spots[0].value <= asked <= strip.spots[-1].value else None,
        lift_offs=None if lift_off is None else {"": lift_off},
    )
