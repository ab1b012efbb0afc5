"""A small seeded part of the attack on a running desk; `attack.py` by hand is the whole of it."""

import json
import socket
import sys
import time
from collections.abc import Iterator
from contextlib import ExitStack
from typing import Any

import pytest
from desk.attack import HOSTILE, Target, fuzz, target, wrong

pytestmark = pytest.mark.skipif(sys.platform != "linux", reason="looks at /proc")

BOMBS = {
    "deep lists": "a = " + "[" * 50_000,
    "deep tables": "a = " + "{a=" * 20_000,
    "a long key": ".".join(["a"] * 200_000) + " = 1",
    "a long head": "[" + ".".join(["a"] * 200_000) + "]",
    "a long number": "a = " + "9" * 400_000,
    "many lists": "[[a]]\n" * 20_000,
    "zeros": "\0" * 10_000,
}


@pytest.fixture(scope="module")
def desk(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Target]:
    with target(tmp_path_factory.mktemp("attack") / "desk") as found:
        yield found


def posted(desk: Target, path: str, body: Any) -> tuple[int, bytes]:
    return desk.ask("POST", path, json.dumps(body).encode())


def test_fuzzed_requests_are_answered_or_refused_in_words(desk: Target) -> None:
    ends = fuzz(desk, 120, 7)
    assert not [what for what in ends if what.startswith("!")], ends
    assert ends["200"] > 5
    assert ends["422"] > 5


@pytest.mark.parametrize(
    "headers",
    [{"host": "evil.example"}, {"host": "127.0.0.1.evil.example:80"}, {"host": ""},
     {"origin": "http://evil.example"}, {"origin": "null"}, {"sec-fetch-site": "cross-site"},
     {"cookie": ""}],
    ids=str,
)  # fmt: skip
def test_another_site_or_a_name_turned_to_this_computer_is_refused(
    headers: dict[str, str], desk: Target
) -> None:
    before = desk.form()["revision"]
    body = json.dumps({"changes": [["title", "theirs"]]}).encode()
    for method, path in (("POST", "/change"), ("GET", "/everything"), ("GET", "/events")):
        status, said = desk.ask(method, path, body, desk.own | headers)
        assert status == 403, (status, said)
        assert not wrong(status, said)
    assert desk.form()["revision"] == before


@pytest.mark.parametrize("name", BOMBS)
def test_a_bomb_is_refused_within_a_moment_and_not_kept(name: str, desk: Target) -> None:
    begun = time.monotonic()
    status, said = posted(desk, "/open", {"name": "x.toml", "text": BOMBS[name]})
    assert status == 422
    assert not wrong(status, said)
    assert time.monotonic() - begun < 50.0  # not minutes, on the busiest machine
    assert not (desk.folder / "x.toml").exists()


def test_half_open_and_dripping_connections_hold_nobody_up(desk: Target) -> None:
    before = desk.resources()[1]
    with ExitStack() as stack:
        for number in range(100):
            line = stack.enter_context(socket.create_connection(("127.0.0.1", desk.port), 30))
            begun = b"POST /change HTTP/1.1\r\ncontent-length: 900\r\n"
            line.sendall(begun if number % 2 else begun[: 1 + number % 40])
        assert desk.form()["parts"]
        assert desk.resources()[1] >= before + 100
    until = time.monotonic() + 60.0
    while desk.resources()[1] > before and time.monotonic() < until:
        time.sleep(0.2)
    assert desk.resources()[1] <= before


def test_fifty_pages_hear_the_news_and_leave_nothing(desk: Target) -> None:
    before = desk.resources()[1]
    head = "".join(f"{name}: {text}\r\n" for name, text in desk.own.items())
    with ExitStack() as stack:
        pages = []
        for _ in range(50):
            line = stack.enter_context(socket.create_connection(("127.0.0.1", desk.port), 60))
            line.sendall(f"GET /events HTTP/1.1\r\n{head}\r\n".encode())
            heard = b""
            while b"hello" not in heard:
                heard += line.recv(4096)
            pages.append(line)
        assert posted(desk, "/change", {"changes": [["title", "news"]]})[0] == 200
        for line in pages:
            heard = b""
            while b'"again"' not in heard:
                got = line.recv(4096)
                assert got
                heard += got
    until = time.monotonic() + 60.0
    while desk.resources()[1] > before and time.monotonic() < until:
        posted(desk, "/change", {"changes": [["title", "anything"]]})
        time.sleep(0.2)
    assert desk.resources()[1] <= before


@pytest.mark.parametrize("name", [name for name in HOSTILE if name])
def test_a_hostile_name_is_refused_or_shown_as_text(name: str, desk: Target) -> None:
    for path in ("title", "options/1/name", "tractor/own/name", "tractor/own/summary"):
        status, said = posted(desk, "/change", {"changes": [[path, name]]})
        assert status in (200, 422)
        assert not wrong(status, said)
    page = desk.ask("GET", "/")[1].decode()
    for told in (page, *desk.form()["parts"].values()):
        assert "<script>document" not in told
        assert "<img src=x" not in told
        assert "1591337" not in told  # of a template that was run
    for path in ("title", "options/1/name", "tractor/own/name", "tractor/own/summary"):
        posted(desk, "/change", {"changes": [[path, "plain" if path[0] == "o" else ""]]})
