"""A stop that comes while kernels are loaded is heeded a moment later: there it would be lost."""

import signal
import time
from collections.abc import Callable, Iterator
from types import FunctionType

import pytest

from sidehill.cli.stop import AGAIN, LOADER, heed_stops

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


@pytest.mark.parametrize(
    ("name", "stop", "code"),
    [
        ("SIGINT", KeyboardInterrupt, None),
        ("SIGTERM", SystemExit, 143),
        ("SIGHUP", SystemExit, 129),
    ],
)
@pytest.mark.parametrize("loading", [False, True])
def test_a_stop_is_heeded(
    name: str, stop: type[BaseException], code: int | None, loading: bool
) -> None:
    heed_stops()
    number = getattr(signal, name)
    with pytest.raises(stop) as left:
        if loading:
            within_the_loader(lambda: signal.raise_signal(number))
            time.sleep(20 * AGAIN)
        else:
            signal.raise_signal(number)
        pytest.fail("nothing stopped it")
    assert getattr(left.value, "code", None) == code


def test_what_is_ignored_stays_so() -> None:
    signal.signal(signal.SIGHUP, signal.SIG_IGN)
    heed_stops()
    signal.raise_signal(signal.SIGHUP)
