"""A stop that comes while kernels are loaded is heeded a moment later: there it would be lost.
One that comes while the command leaves changes nothing."""

import os
import signal
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from types import FunctionType

import pytest
from cli.runner import SIM

from sidehill.cli import stop as module
from sidehill.cli.stop import AGAIN, LOADER, heeded_stops

STOPS = ("SIGINT", "SIGTERM", "SIGHUP")


@pytest.fixture(autouse=True)
def handlers() -> Iterator[None]:
    """Usual ones, whatever the tests were started under; those of before are put back."""
    numbers = [getattr(signal, name) for name in (*STOPS, "SIGALRM")]
    before = [signal.signal(number, signal.SIG_DFL) for number in numbers]
    yield
    for number, handler in zip(numbers, before, strict=True):
        signal.signal(number, handler)


def within_the_loader(do: Callable[[], None]) -> None:
    """Call it from a function of the loader's, where nothing may be raised."""
    callback = FunctionType((lambda do: do()).__code__, {"__name__": f"{LOADER}.binding"})
    try:
        callback(do)
    except (KeyboardInterrupt, SystemExit):
        pytest.fail("raised where it is lost")


@pytest.mark.parametrize(("name", "code"), [("SIGINT", 130), ("SIGTERM", 143), ("SIGHUP", 129)])
@pytest.mark.parametrize("loading", [False, True])
def test_a_stop_is_heeded(name: str, code: int, loading: bool) -> None:
    number = getattr(signal, name)
    with pytest.raises(SystemExit) as left, heeded_stops():
        if loading:
            within_the_loader(lambda: signal.raise_signal(number))
            time.sleep(20 * AGAIN)
        else:
            signal.raise_signal(number)
        pytest.fail("nothing stopped it")
    assert left.value.code == code


def test_what_is_ignored_stays_so() -> None:
    signal.signal(signal.SIGHUP, signal.SIG_IGN)
    with heeded_stops():
        signal.raise_signal(signal.SIGHUP)


def test_who_asks_again_does_not_disturb_the_leaving() -> None:
    tidied = 0
    with pytest.raises(SystemExit), heeded_stops():
        try:
            signal.raise_signal(signal.SIGINT)
        finally:
            for name in STOPS:
                signal.raise_signal(getattr(signal, name))
                tidied += 1
    assert tidied == len(STOPS)


def test_a_stop_that_was_lost_can_be_asked_for_again(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(module, "LEAVING", 0.1)
    with heeded_stops():
        for _ in range(2):
            with pytest.raises(SystemExit):
                signal.raise_signal(signal.SIGINT)
            time.sleep(0.2)


def test_once_the_command_has_left_nothing_stops_its_end() -> None:
    with heeded_stops():
        within_the_loader(lambda: signal.raise_signal(signal.SIGTERM))  # to be heeded later
    for name in STOPS:
        signal.raise_signal(getattr(signal, name))
    time.sleep(3 * AGAIN)


WINDOWS = {  # where Python itself would end the process as killed by the signal
    "while a dataclass is loaded": """
with heeded_stops():
    exec("signal.raise_signal(signal.SIGINT)")
""",
    "while the interpreter ends": """
class Late:
    def __del__(self, ask=signal.raise_signal, stop=signal.SIGINT):
        ask(stop)

sys.late = Late()
with heeded_stops():
    signal.raise_signal(signal.SIGINT)
""",
}


@pytest.mark.parametrize("window", WINDOWS)
def test_a_stop_is_never_told_as_a_kill(window: str, tmp_path: Path) -> None:
    start = "import signal, sys\nfrom sidehill.cli.stop import heeded_stops\n"
    (tmp_path / "stopped.py").write_text(start + WINDOWS[window], encoding="utf-8")
    done = subprocess.run(
        [sys.executable, "-m", "stopped"],
        env={**os.environ, "PYTHONPATH": os.pathsep.join((str(tmp_path), str(SIM)))},
        capture_output=True,
        text=True,
        timeout=60,
        check=False,
    )
    assert (done.returncode, done.stderr) == (130, "")
