"""Mutated results of a sweep through the commands that read them."""

import json
import random
import shutil
from collections.abc import Callable, Iterator
from pathlib import Path

import pyarrow.parquet as pq
from fuzz.files import Fate
from fuzz.judge import judge
from fuzz.mutate import flip_bytes
from fuzz.records import CHANGES, WRONG
from sweep.cheap import cheap_study

from sidehill.sweep.folder import PLAN, TABLE
from sidehill.sweep.run_study import run_study

NAME = "results-of-cheap"
LINES = (
    ("map", NAME, "--of", "peak_roll_deg", "-o", "drawn", "--json"),
    ("sweep", "cheap.toml", "--out", NAME, "--engine", "compiled", "--workers", "1", "--json"),
)
Spoil = Callable[[random.Random, Path], None]


def spoil_bytes(rng: random.Random, folder: Path) -> None:
    """Bytes of the table changed, or its end cut off."""
    file = folder / TABLE
    raw = file.read_bytes()
    file.write_bytes(flip_bytes(rng, raw) if rng.random() < 0.7 else raw[: rng.randrange(len(raw))])


def spoil_table(rng: random.Random, folder: Path) -> None:
    """A column, rows or the metadata of the table changed."""
    file = folder / TABLE
    pq.write_table(rng.choice(CHANGES)(rng, pq.read_table(file)), file)


def spoil_plan(rng: random.Random, folder: Path) -> None:
    """The table gone, and something in the plan that is left replaced or gone."""
    (folder / TABLE).unlink()
    plan = json.loads((folder / PLAN).read_text(encoding="utf-8"))
    key = rng.choice(list(plan))
    if rng.random() < 0.3:
        del plan[key]
    else:
        plan[key] = rng.choice(WRONG)
    (folder / PLAN).write_text(json.dumps(plan), encoding="utf-8")


def other_kind(rng: random.Random, folder: Path) -> None:
    """A folder, an empty file or a link to nothing where a file should be."""
    file = folder / rng.choice((TABLE, PLAN))
    file.unlink()
    rng.choice((file.mkdir, file.touch, lambda: file.symlink_to(folder / "nothing")))()


SPOILS: tuple[Spoil, ...] = (spoil_bytes, spoil_bytes, spoil_table, spoil_plan, other_kind)


def campaign(seed: int, count: int, folder: Path) -> Iterator[Fate]:
    """`count` folders of results with something wrong, in the working folder."""
    rng = random.Random(seed)
    sound, file = folder / "sound", folder / NAME
    run_study(cheap_study(folder, 2), sound, engine="compiled", workers=1)
    rows = pq.read_table(sound / TABLE)
    shutil.copytree(sound, file)
    for line in LINES:
        yield Fate("results", b"", "nothing", " ".join(line), *judge(line, NAME))
    for _ in range(count):
        shutil.rmtree(file, ignore_errors=True)
        shutil.copytree(sound, file)
        spoil = rng.choice(SPOILS)
        try:
            spoil(rng, file)
        except (LookupError, ValueError, TypeError):
            continue  # there was nothing to change there
        line = rng.choice(LINES)
        exit_code, wrong = judge(line, NAME)
        table = file / TABLE
        raw = table.read_bytes() if table.is_file() else b""
        if exit_code == 0 and not pq.read_table(table).equals(rows):
            wrong = wrong or "taken for the results, and it is not"
        yield Fate("results", raw, spoil.__name__, " ".join(line), exit_code, wrong)
