"""What every test starts from, and what tests of several folders share."""

import signal
from collections.abc import Callable
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from hypothesis import settings
from together import scheduler

# a run in the background of a script is started deaf to interrupts, and its children inherit that
if signal.getsignal(signal.SIGINT) is signal.SIG_IGN:
    signal.signal(signal.SIGINT, signal.default_int_handler)

# Hypothesis draws the same cases on every run, whichever part of the tests is run
settings.register_profile("repeatable", derandomize=True, deadline=None)
settings.load_profile("repeatable")


@pytest.hookimpl(optionalhook=True)
def pytest_xdist_make_scheduler(config: Any, log: Any) -> Any:
    """Tests that share what is costly run in one worker."""
    return scheduler(config, log)


@pytest.fixture(scope="session")
def published() -> tuple[Any, ...]:
    """The results of every published value, as the page and the command have them."""
    from sidehill.crosscheck.published import run_checks  # not loaded where nobody asks for it

    return run_checks()


@pytest.fixture(scope="session")
def swept(tmp_path_factory: pytest.TempPathFactory) -> Callable[[str], Path]:
    """The folder with the results of a cut of a shipped study, by its name: to be read only."""
    from sweep.cut import cut

    from sidehill.study.study import load_study
    from sidehill.sweep.run_study import run_study

    @cache
    def folder(name: str) -> Path:
        out = tmp_path_factory.mktemp(name) / "results"
        return run_study(cut(load_study(name)), out, engine="compiled", workers=1).folder

    return folder
