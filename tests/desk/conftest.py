"""Desks to ask: a quiet one, on which nothing can be computed yet, and one that computes."""

import json
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import pytest
from starlette.testclient import TestClient

from sidehill.desk.desk import Desk
from sidehill.desk.keep import FORM, held
from sidehill.desk.serve import build
from sidehill.desk.state import first_state

PORT, TOKEN = 8123, "the-token-of-a-test"
HERE = f"http://127.0.0.1:{PORT}"

# two axle readings, wheelbase, tracks, tyres, loader: an invented tractor, in a dealer's units
OWN = {
    "weighed.front_axle": "1020 lb",
    "weighed.rear_axle": "1330 lb",
    "body.wheelbase": "66 in",
    "front_tyre.track": "41 in",
    "rear_tyre.track": "42.5 in",
    "front_tyre.diameter": "25 in",
    "front_tyre.width": "8.5 in",
    "rear_tyre.diameter": "39 in",
    "rear_tyre.width": "11.2 in",
    "loader": "yes",
    "loader_on": "no",
}


@contextmanager
def opened(folder: Path) -> Iterator[Desk]:
    """A desk on a folder."""
    with held(folder) as own:
        desk = Desk(own)
        try:
            yield desk
        finally:
            desk.end()


@contextmanager
def asked(desk: Desk) -> Iterator[TestClient]:
    """A browser's side of it, let in."""
    with TestClient(build(desk, PORT, TOKEN), base_url=HERE, follow_redirects=False) as client:
        assert client.get(f"/?token={TOKEN}").status_code == 303
        yield client


def quiet_folder(folder: Path) -> Path:
    """A folder with a form on which nothing can be computed: an own tractor, nothing typed."""
    folder.mkdir(exist_ok=True)
    state = first_state()
    state["tractor"]["kind"] = "own"
    (folder / FORM).write_text(json.dumps(state), encoding="utf-8")
    return folder


def eventually(holds: Callable[[], Any], patience: float = 60.0) -> Any:
    """What it gives once it is true; slow machines get their time."""
    until = time.monotonic() + patience
    while not (found := holds()):
        assert time.monotonic() < until, "it never came"
        time.sleep(0.05)
    return found


@pytest.fixture
def quiet(tmp_path: Path) -> Iterator[Desk]:
    with opened(quiet_folder(tmp_path / "desk")) as desk:
        yield desk


@pytest.fixture
def client(quiet: Desk) -> Iterator[TestClient]:
    with asked(quiet) as browser:
        yield browser


@pytest.fixture(scope="module")
def working(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Desk]:
    """On the shipped tractor and a plain bank, one option, all of it found."""
    with opened(tmp_path_factory.mktemp("working") / "desk") as desk:
        desk.change([("bank/base", "bank-plain")], False)
        desk.option("remove", 3)
        desk.option("remove", 1)
        eventually(lambda: desk.searches.left == 0, 300.0)
        yield desk
