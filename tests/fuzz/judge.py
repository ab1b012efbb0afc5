"""Runs one command line in this process and says what is wrong with how it ended."""

import json
import re
import signal
import warnings
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from math import isfinite
from types import FrameType
from typing import Any

from typer.testing import CliRunner

from sidehill.cli.main import app
from sidehill.run.facts import PROGRESS, STABILITY

LIMIT = 30  # [s] of one command; far over what any of these takes
# what the message may name where nothing inside the file can be: it is no TOML, no text
_WHOLE_FILE = re.compile(r"not valid TOML|not UTF-8|no such|a folder|bytes; allowed|not a record")
_FIELD = re.compile(r"[a-z_]+|\"[^\"]+\"|'[^']+'")


class Hang(BaseException):
    """No answer in time; not an Exception, so that no command can swallow it."""


@contextmanager
def time_limit(seconds: int) -> Iterator[None]:
    """Raise `Hang` once the time is over."""

    def over(_: int, __: FrameType | None) -> None:
        raise Hang

    before = signal.signal(signal.SIGALRM, over)
    signal.alarm(seconds)
    try:
        yield
    finally:
        signal.alarm(0)
        signal.signal(signal.SIGALRM, before)


def judge(line: Sequence[str], file: str) -> tuple[int | None, str]:
    """Exit code of a command line, and what is wrong with it; nothing if nothing is.

    Args:
        file: the name that a refusal must give.
    """
    try:
        with time_limit(LIMIT), warnings.catch_warnings(record=True) as seen:
            warnings.simplefilter("always")
            result = CliRunner().invoke(app, list(line))
    except Hang:
        return None, f"no answer within {LIMIT} s"
    if seen:
        return result.exit_code, f"{seen[0].category.__name__}: {seen[0].message}"
    if result.exception is not None and not isinstance(result.exception, SystemExit):
        return result.exit_code, f"traceback: {result.exception!r}"
    if result.exit_code == 0:
        return 0, answered(result.stdout) if "--json" in line else ""
    if result.exit_code != 2:
        return result.exit_code, f"exit {result.exit_code}: {result.stderr.strip()}"
    return 2, refused(result.stdout, result.stderr, file)


def refused(stdout: str, stderr: str, file: str) -> str:
    """What is wrong with a refusal."""
    message = stderr.removeprefix("sidehill: ").strip()
    if message == stderr.strip() or stdout:
        return f"a refusal that is none: {stderr!r}"
    if file not in message:
        return f"names no file: {message}"
    told = message.replace(file, "")
    if not _WHOLE_FILE.search(told) and not _FIELD.search(told):
        return f"names no field: {message}"
    if any(not char.isprintable() for char in message.replace("\n", "")):
        return f"control characters: {message!r}"
    return ""


def answered(stdout: str) -> str:
    """What is wrong with an answer in JSON."""
    data = json.loads(stdout)
    if not all(isfinite(number) for number in numbers(data)):
        return "a number that is not finite"
    if "stability" not in data or isinstance(data["stability"], list):  # of a strip
        return ""
    stability, progress = data["stability"], data["progress"]
    if stability is None and data["peak_roll_deg"] is not None:
        return "nothing known, with a peak roll"
    if stability is not None and (stability not in STABILITY or progress not in PROGRESS):
        return f"facts {stability!r}, {progress!r}"
    if (progress == "over") != (stability == "overturned" and progress != "not_started"):
        return f"facts that do not go together: {stability}, {progress}"
    return ""


def numbers(data: Any) -> Iterator[float]:
    """Every number of an answer."""
    if isinstance(data, dict | list):
        for item in data.values() if isinstance(data, dict) else data:
            yield from numbers(item)
    elif isinstance(data, int | float) and not isinstance(data, bool):
        yield float(data)
