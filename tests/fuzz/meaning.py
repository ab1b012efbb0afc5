"""Cases whose meaning is changed, each held against one law of `laws`."""

import json
import random
from collections.abc import Iterator
from pathlib import Path

from fuzz.drawn import draw_case
from fuzz.files import Fate
from fuzz.judge import Hang, time_limit
from fuzz.laws import LAWS

from sidehill.files.errors import InputError

LIMIT = 300  # [s] of one law; strips are the dearest


def campaign(seed: int, count: int, folder: Path) -> Iterator[Fate]:
    """`count` drawn cases; what cannot be is refused (exit code 2) and proves nothing."""
    rng = random.Random(seed)
    names = [law for law, share in LAWS.items() for _ in range(share)]
    for number in range(count):
        law, drawn = rng.choice(names), draw_case(rng, folder, number)
        line = f"{law.__name__} {' '.join(drawn.line('drive'))}"
        code, wrong = 0, ""
        try:
            with time_limit(LIMIT):
                wrong = law(drawn, folder)
        except InputError:
            code = 2
        except Hang:
            wrong = f"no answer within {LIMIT} s"
        except Exception as error:
            wrong = f"{type(error).__name__}: {error}"
        told = {"line": line, "done": drawn.done, "wrong": wrong}
        yield Fate(law.__name__, json.dumps(told).encode(), drawn.done, line, code, wrong)
        Path(drawn.machine).unlink(missing_ok=True)
