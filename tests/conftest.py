"""What every test starts from, and what tests of several folders share."""

import signal
from typing import Any

import pytest
from hypothesis import settings

# a run in the background of a script is started deaf to interrupts, and its children inherit that
if signal.getsignal(signal.SIGINT) is signal.SIG_IGN:
    signal.signal(signal.SIGINT, signal.default_int_handler)

# Hypothesis draws the same cases on every run, whichever part of the tests is run
settings.register_profile("repeatable", derandomize=True, deadline=None)
settings.load_profile("repeatable")


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Tests for which their file or folder makes something once run in one worker, in each of
    which it would be made again (`--dist loadgroup`)."""
    for item in items:
        homes = {home for home in map(_home, _fixtures(item)) if home}
        if homes:
            item.add_marker(pytest.mark.xdist_group(min(homes, key=len)))


def _fixtures(item: pytest.Item) -> list[pytest.FixtureDef[object]]:
    """The fixtures that a test uses, those of fixtures included."""
    info = getattr(item, "_fixtureinfo", None)
    return [found[-1] for found in info.name2fixturedefs.values()] if info else []


def _home(fixture: pytest.FixtureDef[object]) -> str:
    """The file or folder of our own that keeps a fixture over several tests, or nothing."""
    return fixture.baseid if fixture.scope in ("module", "session") else ""


@pytest.fixture(scope="session")
def published() -> tuple[Any, ...]:
    """The results of every published value, as the page and the command have them."""
    from sidehill.crosscheck.published import run_checks  # not loaded where nobody asks for it

    return run_checks()
