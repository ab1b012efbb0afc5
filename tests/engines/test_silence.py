"""What an engine's C++ side prints is kept from the program's own output, on any system."""

import ctypes
import sys

import pytest

from sidehill.engines import silence


def test_the_library_that_buffers_output_is_named_on_windows(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """There the process itself is no library that can be asked."""
    assert (silence.C_LIBRARY is None) == (sys.platform != "win32")
    asked = []

    class Library:
        def __init__(self, name: str | None) -> None:
            asked.append(name)

        def fflush(self, stream: None) -> int:
            asked.append(stream)
            return 0

    monkeypatch.setattr(ctypes, "CDLL", Library)
    monkeypatch.setattr(silence, "C_LIBRARY", "ucrtbase")
    with silence.silence():
        pass
    assert asked == ["ucrtbase", None] * 2


def test_nothing_of_it_is_seen(capfd: pytest.CaptureFixture[str]) -> None:
    printed = ctypes.CDLL(silence.C_LIBRARY).puts
    with silence.silence():
        printed(b"from a library")
    printed(b"after it")
    ctypes.CDLL(silence.C_LIBRARY).fflush(None)
    assert capfd.readouterr().out == "after it\n"
