"""The work of `sidehill limit`: the strip taken, and drawn if a picture was asked for."""

from dataclasses import dataclass
from itertools import count
from math import inf
from pathlib import Path
from typing import Any

from sidehill.case import Case
from sidehill.cli.job import Job
from sidehill.cli.progress import progress
from sidehill.files.spec import build
from sidehill.files.toml import Document
from sidehill.files.whole import ready_file, write_file
from sidehill.picture.strip import strips_picture
from sidehill.picture.style import KINDS, Kind
from sidehill.scenario.drive import TYRES
from sidehill.strip.spot import Spot
from sidehill.strip.strip import Strip, take_strip
from sidehill.study.plan import Find
from sidehill.sweep.statics import standing_slopes


@dataclass(frozen=True)
class Found:
    """A strip, and where its picture is."""

    job: Job
    strip: Strip  # under the scenario's law of the tyres, or the one asked for
    other: Strip | None  # under the other law, where the ground can tell them apart
    lift_off: float | None  # [rad] standing still on the simulation's tyres; of a slope's strip
    file: str | None

    @property
    def by_law(self) -> dict[str, Strip]:
        """Strips by the law of the tyres, the scenario's own first."""
        own = self.job.case.scenario.run.tyre
        return {own: self.strip} | ({} if self.other is None else {other_law(own): self.other})

    def lower(self, event: str) -> tuple[str, Strip]:
        """The law under which a limit is the lower one, and its strip; on a tie the own."""
        return min(self.by_law.items(), key=lambda item: _reach(item[1], event))


def other_law(law: str) -> str:
    """The law of the tyres that is not this one."""
    return next(name for name in TYRES if name != law)


def _reach(strip: Strip, event: str) -> float:
    """[SI] how far a strip is short of an event; a limit that is none is the lowest."""
    good = strip.limit(event).good_up_to
    return -inf if good is None else good


def read_find(given: dict[str, str | None], feature: int) -> Find:
    """What to look for, from the options that were given.

    Raises:
        InputError: option, value, what is allowed.
    """
    known: dict[str, Any] = {key: text for key, text in given.items() if text is not None}
    return build(Find, Document("command line", known | {"feature": feature}))


def run(job: Job, find: Find, engine: str, output: Path | None, both: bool = True) -> Found:
    """The strip in the engine asked for, with its progress told.

    Args:
        both: under the other law of the tyres too, where the ground is not even.

    Raises:
        InputError: a picture's name that cannot be used, or a range that is none.
        SidehillError: it cannot be run, or the picture cannot be written.
    """
    file = None if output is None else ready_file(output, *KINDS)
    words, numbers = f"{find.varied.words}: run", count(2)
    with progress(f"{words} 1") as say:

        def watch(_: Spot) -> None:
            say(f"{words} {next(numbers)}")

        def take(case: Case) -> Strip:
            return take_strip(
                case, find.of, feature=find.feature, engine=engine, watch=watch, **find.bounds
            )

        strip, other = take(job.case), None
        if both and not job.case.scenario.is_even:
            law = other_law(job.case.scenario.run.tyre)
            other = take(job.case.with_scenario({"run.tyre": law}))
    lift_off = standing_slopes(job.case).lift_off if find.of == "slope" else None
    found = Found(job, strip, other, lift_off, None if file is None else str(file))
    if file is not None:
        write_file(file, _picture(found, KINDS[file.suffix]))
    return found


def _picture(found: Found, kind: Kind) -> bytes:
    case, strip, lift_off = found.job.case, found.strip, found.lift_off
    asked = strip.varied.value_in(case, strip.feature)
    names = {law: "" if found.other is None else f"tyre law: {law}" for law in found.by_law}
    return strips_picture(
        {names[law]: taken for law, taken in found.by_law.items()},
        f"{case.machine.name}, {case.scenario.title}",
        kind,
        asked=asked if strip.spots[0].value <= asked <= strip.spots[-1].value else None,
        lift_offs=None if lift_off is None else dict.fromkeys(names.values(), lift_off),
    )
