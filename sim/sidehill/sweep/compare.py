"""The options of a study side by side: statics and three dynamic limits, one row an option."""

from collections.abc import Callable
from concurrent.futures import Executor
from dataclasses import replace

import pandas as pd

from sidehill.files.errors import InputError
from sidehill.strip.trial import UNTIL
from sidehill.study.study import Study
from sidehill.sweep.dispatch import Spread, crew
from sidehill.sweep.row import Quest, Row, columns
from sidehill.sweep.run_study import check_scenario
from sidehill.sweep.task import Place, Task, ask
from sidehill.sweep.warm import warm


def compare(
    study: Study,
    engine: str = "auto",
    executor: Executor | None = None,
    untils: tuple[str, ...] = UNTIL,
    tolerance: float | None = None,
    scan: int = 9,
    watch: Callable[[int, int], None] | None = None,
) -> pd.DataFrame:
    """One row an option, in the study's order; limits are side slopes on its scenario.

    What the study varies is left as its machine, scenario and outfits have it.

    Args:
        engine: `auto` searches in the compiled engine and runs the ends of each bracket again
            in the reference engine; a name is used for all.
        executor: runs the options; else one process a core. (Processes are spawned: a script
            that calls this needs `if __name__ == "__main__":`.)
        untils: events to find the limit of;
        tolerance: [rad] of the limits; scan: values of the first grid;
        watch: called with options done and options in all.

    Columns: see `row.columns`; `problem` names what failed, and that option's numbers are missing.

    Raises:
        InputError: the scenario is a tilt table, or an event is unknown.
        EngineError: the engine is not installed here.
    """
    for until in untils:
        if until not in UNTIL:
            raise InputError(f"until '{until}' is not known; use {', '.join(UNTIL)}")
    check_scenario(study)
    asked = ask(engine, Quest("slope", untils, None, None, tolerance, scan), runs=False)
    plain = replace(study, vary={}, fields=(), axes=())
    count = len(plain.options)
    tasks = ((k, Task(plain, asked, (Place(k, 0, {}),))) for k in range(count))
    if executor is None:
        warm(plain, asked)
    rows: dict[int, Row] = {}
    for k, found in Spread(*crew(executor, None, count)).rows(tasks):
        rows[k] = found[0]
        if watch is not None:
            watch(len(rows), count)
    kinds = columns(untils)
    return pd.DataFrame([rows[k] for k in range(count)], columns=list(kinds)).astype(kinds)
