"""Mutated machine, scenario and study files through the commands."""

import random
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from fuzz.judge import Hang, judge, time_limit
from fuzz.mutate import mutated

from sidehill.case import Case
from sidehill.files.library import find, shipped
from sidehill.flat import flatten
from sidehill.machine.file import load_machine
from sidehill.scenario.file import load_scenario

SHORT = """\
title = "Short"
teaches = "nothing, it is a test"

[ground]
slope = "8 deg"

[[feature]]
shape = "bump"
wheels = "uphill"
at = "6 m"
height = "80 mm"
length = "0.8 m"
width = "0.6 m"

[course]
length = "7.5 m"

[drive]
speed = "6 km/h"

[run]
step = "2 ms"
"""
STUDY = """\
title = "Some ways to fit it"
machine = "bramble"
scenario = "bank-stone"

[outfit]
bucket_load = "250 kg"

[[option]]
name = "as delivered"

[[option]]
name = "spacers"
rear_spacer = "76 mm"
bucket_height = "full"

[vary]
"ground.slope" = { from = "4 deg", to = "14 deg", steps = 5 }
"drive.speed" = ["3 km/h", "6 km/h"]
"outfit.rear_spacer" = { low = "0 mm", high = "150 mm" }
"machine.weighed.cg_height" = { mean = "0.6 m", spread = "5 %" }

[sample]
method = "sobol"
n = 64
seed = 3

[find]
of = "slope"
until = "overturn"
low = "3 deg"
"""
MOST_STEPS = 20_000  # of a drive that is cheap enough to be run
PICTURED = 8  # one scenario in so many is drawn


@dataclass(frozen=True)
class Fate:
    """How one mutated file fared."""

    kind: str
    raw: bytes
    done: str  # to the file
    line: str
    exit_code: int | None
    wrong: str  # empty: nothing


def campaign(seed: int, count: int, folder: Path) -> Iterator[Fate]:
    """`count` mutated files, in the working folder; each through a few commands."""
    rng = random.Random(seed)
    short = folder / "short.toml"
    short.write_text(SHORT, encoding="utf-8")
    kinds = {"machine": machine_lines, "scenario": scenario_lines, "study": study_lines}
    texts = {kind: [*sources(kind)] for kind in kinds}
    for number in range(count):
        kind = rng.choice(("machine", "machine", "scenario", "scenario", "study"))
        raw, done = mutated(rng, rng.choice(texts[kind]))
        file = folder / f"{kind}-{number}.toml"
        file.write_bytes(raw)
        yield from fates(kind, file, done, kinds[kind](file.name))
        file.unlink()


def fates(kind: str, file: Path, done: str, lines: Iterator[Sequence[str]]) -> Iterator[Fate]:
    """Of one file: its commands until one refuses it."""
    for line in lines:
        exit_code, wrong = judge(line, file.name)
        yield Fate(kind, file.read_bytes(), done, " ".join(line), exit_code, wrong)
        if exit_code != 0:
            return


def sources(kind: str) -> Iterator[str]:
    """The texts that are mutated."""
    if kind == "study":
        yield STUDY
    else:
        for name in shipped("machine" if kind == "machine" else "scenario"):
            yield find("machine" if kind == "machine" else "scenario", name).read_text("utf-8")


def machine_lines(file: str) -> Iterator[Sequence[str]]:
    """Statics, then the URDF, then a short drive."""
    yield "tip", file, "--slope", "9 deg", "--json"
    yield "urdf", file, "-o", "out.urdf", "--json"
    yield "drive", file, "short.toml", "--engine", "compiled", "--json", "--out", "out"


def scenario_lines(file: str) -> Iterator[Sequence[str]]:
    """The drive if it is a short one; for some of them a picture, which takes longer."""
    if int(file.removesuffix(".toml").rpartition("-")[2]) % PICTURED == 0:
        yield "picture", file, "--machine", "sorrel", "-o", "out.svg", "--json"
    if drives_soon(file):
        yield "drive", "sorrel", file, "--engine", "compiled", "--json", "--out", "out"


def drives_soon(file: str) -> bool:
    """Whether a scenario is over within a few steps."""
    try:
        with time_limit(30):
            flat = flatten(Case(load_machine("sorrel"), load_scenario(file)))
    except (Exception, Hang):
        return True  # the command is to say so
    return bool(flat.case["most_steps"][0] < MOST_STEPS)


def study_lines(file: str) -> Iterator[Sequence[str]]:
    """A film asked for an option that no study has: read whole, and refused."""
    yield "film", file, "--option", "no such option", "--still", "end", "--out", "out.png"
