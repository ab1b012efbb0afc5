"""A sweep in which one case kills the process that runs it: a script of its own.

Run: python poisoned.py STUDY FOLDER, with that case's key in POISONED_CASE.
"""

import os
import sys
from signal import SIGKILL
from typing import Any

from sidehill.study.study import load_study
from sidehill.sweep import task
from sidehill.sweep.run_row import run_row
from sidehill.sweep.run_study import run_study


def deadly(case: Any, engine: str, reference: str | None) -> Any:
    if case.key() == os.environ["POISONED_CASE"]:
        os.kill(os.getpid(), SIGKILL)
    return run_row(case, engine, reference)


task.run_row = deadly  # in the workers too: they import this file as the main module

if __name__ == "__main__":
    run_study(load_study(sys.argv[1]), sys.argv[2], engine="compiled", workers=2)
