"""A desk in random use, by hand: what it holds at the end beside what it held at the beginning.

`PYTHONPATH=sim:tests python tests/desk/use.py 20 1` (minutes, seed).
"""

import json
import os
import random
import sys
import tempfile
import time
from collections import Counter
from pathlib import Path

from desk.attack import Target, target, wrong

from sidehill.files.library import find, shipped


def step(desk: Target, dice: random.Random) -> tuple[str, int, bytes]:
    """One thing that a person does: what, status, answer."""
    number = dice.randint(1, 6)
    changes = {
        f"options/{number}/typed/rear_spacer": f"{2 * dice.randint(0, 75)} mm",
        f"options/{number}/typed/rear_ballast": f"{10 * dice.randint(0, 40)} kg",
        f"options/{number}/typed/bucket_load": f"{10 * dice.randint(0, 30)} kg",
        f"options/{number}/typed/bucket_height": dice.choice(("carry", "full", "")),
        "bank/base": dice.choice(("bank-plain", "bank-stone", "soft-bank", "turn-uphill")),
        "bank/typed/ground.slope": f"{dice.randint(3, 25)} deg",
        "bank/typed/drive.speed": dice.choice(("2 km/h", "5 km/h", "3 mph", "fast")),
        "bank/typed/course.length": "6 m",
        "tractor/base": dice.choice(shipped("machine")),
        "tractor/kind": dice.choice(("shipped", "shipped", "own")),
        "units": dice.choice(("metric", "us")),
    }
    path, text = dice.choice(list(changes.items()))
    machine = find("machine", dice.choice(shipped("machine"))).read_text("utf-8")
    what = dice.choices(
        ("change", "live", "option", "look", "page", "bank", "replay", "open", "make", "stop"),
        (30, 30, 4, 10, 4, 4, 4, 1, 1, 2),
    )[0]
    bodies = {
        "change": ("/change", {"changes": [[path, text]]}),
        "live": ("/change", {"changes": [[path, text]], "live": True}),
        "option": ("/option", {"do": dice.choice(("add", "remove")), "number": number}),
        "replay": ("/replay", {"way": "1", "value": "bank", "beside": dice.choice(("", "2"))}),
        "open": ("/open", {"name": f"m{number}.toml", "text": machine}),
        "make": ("/make", {"kind": dice.choice(("sheet", "film", "replay")), "quick": True}),
        "stop": ("/stop", {"kind": dice.choice(("sheet", "film", "replay"))}),
    }
    pages = {"look": "/everything", "page": "/", "bank": "/bank.svg"}
    where, body = bodies.get(what, (pages.get(what), None))
    sent = b"" if body is None else json.dumps(body).encode()
    try:
        return (what, *desk.ask("GET" if body is None else "POST", where, sent))
    except TimeoutError:
        return f"! no answer to {where} {sent[:200]!r}", 0, b""


def children(pid: int) -> int:
    """Processes that a process has begun and that are still there."""
    tasks = Path(f"/proc/{pid}/task").glob("*/children")  # each thread has its own
    return sum(len(task.read_text("utf-8").split()) for task in tasks)


def names(folder: Path | str) -> list[str]:
    """Of what lies in a folder."""
    return sorted(path.name for path in Path(folder).iterdir())


def held(desk: Target) -> str:
    """Memory, files, processes, what lies in its folders."""
    memory, files = desk.resources()
    threads = len(list(Path(f"/proc/{desk.process.pid}/task").iterdir()))
    hidden = [name for name in names(desk.folder) if name.startswith(".")]
    return (f"{memory:.0f} MB, {files} open files, {threads} threads, "
            f"{children(desk.process.pid)} processes, hidden in its folder: {hidden}, "
            f"in the temporary folder: {names(tempfile.gettempdir())}")  # fmt: skip


def main(minutes: float, seed: int) -> int:
    """Print what it holds every minute, and the finds; their number."""
    dice, ends = random.Random(seed), Counter[str]()
    with tempfile.TemporaryDirectory() as folder:
        os.environ["TMPDIR"] = tempfile.tempdir = str(Path(folder, "tmp"))
        Path(folder, "tmp").mkdir()
        with target(Path(folder) / "desk", is_quiet=False) as desk:
            begun, told = time.monotonic(), 0.0
            while (now := time.monotonic() - begun) < 60.0 * minutes:
                if now >= told:
                    print(f"{now / 60.0:5.1f} min, {ends.total()} steps: {held(desk)}", flush=True)
                    told += 60.0
                what, status, said = step(desk, dice)
                found = wrong(status, said)
                ends[f"! {what}: {found}" if found else f"{what} {status}"] += 1
                if found or what.startswith("!"):
                    print(what, found, flush=True)
                time.sleep(dice.choice((0.02, 0.05, 0.3, 1.0)))
            for kind in ("sheet", "film", "replay"):
                desk.ask("POST", "/stop", json.dumps({"kind": kind}).encode())
            time.sleep(15.0)
            print(f"at the end, 15 s later: {held(desk)}")
        print(f"after it ended: {names(tempfile.gettempdir())}, hidden: "
              f"{[name for name in names(desk.folder) if name.startswith('.')]}")  # fmt: skip
    for what, count in sorted(ends.items()):
        print(f"{count:6d} {what}")
    return sum(count for what, count in ends.items() if what.startswith("!"))


if __name__ == "__main__":
    sys.exit(min(1, main(float(sys.argv[1]), int(sys.argv[2]))))
