"""Attacks on a desk that runs as a process of its own, over bare sockets.

By hand: `PYTHONPATH=sim:tests python tests/desk/attack.py 2000 1` (requests, seed); a small part
of it is `test_attack.py`.
What may not come: a 5xx, no answer, a refusal without a sentence, a changed form after a refusal
of what has no right to change it, a file that is not the desk's.
"""

import json
import os
import random
import re
import socket
import subprocess
import sys
import tempfile
from collections import Counter
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from desk.conftest import quiet_folder

PATIENCE = 60.0  # [s] for one answer
HOSTILE = (
    "<script>document.title='ran'</script>", '"><img src=x onerror=document.title="ran">',
    "{{ 7 * 227333 + 6 }}", "{% raw %}", "[/bold]", "\u202edeg 9\u202c", "\u200f", "\x1b[31m",
    "a\nb",
    "../../x", "%00", "\ud83d\ude9c", "'; drop", "&lt;", "javascript:1", "=1+1", "con", "",
)  # fmt: skip
PATHS = ("/", "/everything", "/bank.svg", "/strip/1", "/files/study.toml", "/files/desk.json",
         "/replays/1", "/web/main.js", "/change", "/option", "/open", "/save", "/make", "/stop",
         "/replay", "/files/../desk.json", "/files/%2e%2e/desk.json", "/files//etc/passwd",
         "/web/..%5cdesk.py", "//evil.example/", "/files/.lock", "*", "/\u00e9")  # fmt: skip
BODIES: tuple[Any, ...] = (
    {"changes": [["title", "x"]]}, {"changes": [["tractor/own/body.wheelbase", "1 m"]]},
    {"changes": [["options/1/typed/rear_spacer", "1 in"]], "live": True},
    {"do": "add", "number": 1}, {"do": "remove", "number": 2}, {"kind": "sheet"},
    {"name": "x.toml", "text": "a = 1"}, {"way": "1", "value": "10.0", "beside": "2"}, {},
)  # fmt: skip
OURS = re.compile(r"desk\.json|\.lock|[A-Za-z0-9][A-Za-z0-9 _-]{0,39}\.(toml|html|mp4|png)|records")


@dataclass(frozen=True)
class Target:
    """A desk that runs."""

    process: "subprocess.Popen[str]"
    port: int
    cookie: str
    folder: Path

    @property
    def own(self) -> dict[str, str]:
        """Headers of its own page."""
        return {"host": f"127.0.0.1:{self.port}", "cookie": self.cookie,
                "content-type": "application/json"}  # fmt: skip

    def raw(self, sent: bytes) -> tuple[int, bytes]:
        """Status (0: closed without a word) and body of what answers to those bytes."""
        with socket.create_connection(("127.0.0.1", self.port), PATIENCE) as line:
            line.sendall(sent)
            got = b""
            while chunk := line.recv(65536):
                got += chunk
        if got.startswith(b"HTTP/1.1 100 "):  # go on, it says first
            got = got.partition(b"\r\n\r\n")[2]
        head, _, body = got.partition(b"\r\n\r\n")
        status = re.match(rb"HTTP/1\.1 (\d+)", head)
        return (int(status[1]) if status else 0), body

    def ask(
        self, method: str, path: str, body: bytes = b"", headers: dict[str, str] | None = None
    ) -> tuple[int, bytes]:
        """One request with the headers given, the page's own if none are."""
        told = {"content-length": str(len(body)), "connection": "close"}
        told |= self.own if headers is None else headers
        lines = [f"{method} {path} HTTP/1.1", *(f"{k}: {v}" for k, v in told.items()), "", ""]
        return self.raw("\r\n".join(lines).encode("utf-8", "surrogatepass") + body)

    def form(self) -> Any:
        """Everything that its page shows now."""
        status, body = self.ask("GET", "/everything")
        assert status == 200, (status, body[:300])
        return json.loads(body)

    def resources(self) -> tuple[float, int]:
        """[MB] in memory, and open files."""
        status = Path(f"/proc/{self.process.pid}/status").read_text("utf-8")
        found = re.search(r"VmRSS:\s+(\d+) kB", status)
        assert found is not None
        return int(found[1]) / 1e3, len(list(Path(f"/proc/{self.process.pid}/fd").iterdir()))


@contextmanager
def target(folder: Path, is_quiet: bool = True) -> Iterator[Target]:
    """A desk on a folder, a quiet one: what is attacked is the server, not the engines."""
    if is_quiet:
        quiet_folder(folder)
    process = subprocess.Popen(
        [sys.executable, "-m", "sidehill", "desk", "--no-open", "--folder", folder],
        stdout=subprocess.PIPE, text=True,
        env={**os.environ, "PYTHONPATH": str(Path(__file__).parents[2] / "sim")},
    )  # fmt: skip
    try:
        assert process.stdout is not None
        found = re.search(r":(\d+)/\?token=(\S+)", process.stdout.readline())
        assert found is not None
        yield Target(process, int(found[1]), f"sidehill-desk-{found[1]}={found[2]}", folder)
    finally:
        process.terminate()
        process.communicate()


def wrong(status: int, body: bytes) -> str:
    """What is wrong with an answer; empty: nothing."""
    if status == 0 or 200 <= status < 400:
        return ""  # closed as no HTTP, or a request that is one
    if status >= 500:
        return f"{status}: {body[:200]!r}"
    if b"Invalid HTTP request received." in body:
        return ""  # the server below, of bytes that are no request
    try:
        said = json.loads(body)["error"]
    except (ValueError, KeyError, TypeError):
        return f"{status} without a sentence: {body[:200]!r}"
    return "" if len(said) > 8 and "Traceback" not in said else f"{status}: {said!r}"


def fuzzed(dice: random.Random) -> tuple[str, str, bytes, dict[str, str]]:
    """A request with some of it wrong: method, path, body, headers beside its own."""
    path = dice.choice(PATHS)
    method = "POST" if path.strip("/").isalpha() and path != "/everything" else "GET"
    if dice.random() < 0.2:
        method = dice.choice(("GET", "POST", "PUT", "HEAD", "OPTIONS", "BREW", ""))
    if dice.random() < 0.2:
        path += dice.choice(("?token=x", "?" + "q" * 2500, "/%ff", "#x", "/" * 50, "?a=%0d%0ab:1"))
    body = json.dumps(_bent(dice, dice.choice(BODIES))).encode("utf-8", "surrogatepass")
    if dice.random() < 0.3:
        cut = dice.randrange(len(body) + 1)
        body = body[:cut] + dice.randbytes(dice.randrange(8)) + body[cut:][dice.randrange(3) :]
    headers = dict(dice.sample([
        ("content-type", "text/plain"), ("content-type", "application/json; charset=\u00ff"),
        ("content-length", "-1"), ("content-length", "99999999999"), ("expect", "100-continue"),
        ("transfer-encoding", "chunked"), ("cookie", "a=" + "b" * 3000), ("cookie", "=;;=\x01"),
        ("accept-encoding", "gzip"), ("content-encoding", "gzip"), ("range", "bytes=0-,-5"),
        ("upgrade", "websocket"), ("x-forwarded-host", "evil.example"),
    ], dice.choice((0, 0, 1, 2))))  # fmt: skip
    return method, path, body, headers


def _bent(dice: random.Random, value: Any) -> Any:
    """The value with one leaf of it exchanged."""
    leaf = dice.choice((*HOSTILE, None, True, -1, 10**40, 1e308, [], {}, "x" * 3000, ["x"] * 100))
    if isinstance(value, dict) and value:
        key = dice.choice(list(value))
        return value | {key: _bent(dice, value[key])}
    if isinstance(value, list) and value:
        place = dice.randrange(len(value))
        return [*value[:place], _bent(dice, value[place]), *value[place + 1 :]]
    return leaf if dice.random() < 0.7 else value


def fuzz(desk: Target, count: int, seed: int) -> Counter[str]:
    """What was answered how often; finds begin with "!"."""
    dice, ends = random.Random(seed), Counter[str]()
    for number in range(count):
        method, path, body, headers = fuzzed(dice)
        if "transfer-encoding" in headers:  # whole, or no chunk at all; an open end is not asked
            body = dice.choice((b"%x\r\n%b\r\n0" % (len(body), body), body)) + b"\r\n\r\n"
        try:
            status, said = desk.ask(method, path, body, desk.own | headers)
        except (TimeoutError, ConnectionError) as error:
            status, said = 0, str(error).encode()
            if isinstance(error, TimeoutError):
                ends[f"! no answer: {method} {path} {headers} {body[:80]!r}"] += 1
        if method != "HEAD" and (found := wrong(status, said)):
            ends[f"! {method} {path}: {found}"] += 1
        ends[str(status)] += 1
        if number % 100 == 99:
            desk.form()
    strange = [path.name for path in desk.folder.iterdir() if not OURS.fullmatch(path.name)]
    ends.update(f"! a file of its own: {name}" for name in strange)
    return ends


def main(count: int, seed: int) -> int:
    """Print the counts; the number of finds."""
    with tempfile.TemporaryDirectory() as folder, target(Path(folder) / "desk") as desk:
        before = desk.resources()
        ends = fuzz(desk, count, seed)
        desk.form()
        after = desk.resources()
    for what, number in sorted(ends.items()):
        print(f"{number:6d} {what}")
    print(f"memory {before[0]:.0f} to {after[0]:.0f} MB, open files {before[1]} to {after[1]}")
    return sum(number for what, number in ends.items() if what.startswith("!"))


if __name__ == "__main__":
    sys.exit(min(1, main(int(sys.argv[1]), int(sys.argv[2]))))
