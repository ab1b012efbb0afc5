"""The options of a study side by side: statics and three dynamic limits, one row an option."""

from collections.abc import Callable
from concurrent.futures import Executor, Future, as_completed

import pandas as pd

from sidehill.engines import choose
from sidehill.errors import InputError
from sidehill.limit import UNTIL
from sidehill.sweep.row import Row, Task, columns, compare_one
from sidehill.sweep.study import Study
from sidehill.sweep.workers import cores, pool


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

    Args:
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
    name = choose(engine)
    _check(study, untils)
    tasks = [
        Task(option.name, study.case(option), name, untils, tolerance, scan)
        for option in study.options
    ]
    seen = watch or (lambda done, of: None)
    if executor is not None:
        rows = _spread(tasks, executor, seen)
    elif min(cores(), len(tasks)) == 1:
        rows = _in_turn(tasks, seen)
    else:
        with pool(len(tasks)) as workers:
            rows = _spread(tasks, workers, seen)
    kinds = columns(untils)
    return pd.DataFrame(rows, columns=list(kinds)).astype(kinds)


def _check(study: Study, untils: tuple[str, ...]) -> None:
    if study.scenario.course.is_tilt_table:
        raise InputError(f"{study.file}: a tilt table has no limits to compare; use a course")
    for until in untils:
        if until not in UNTIL:
            raise InputError(f"until '{until}' is not known; use {', '.join(UNTIL)}")


def _in_turn(tasks: list[Task], seen: Callable[[int, int], None]) -> list[Row]:
    rows = []
    for task in tasks:
        rows.append(compare_one(task))
        seen(len(rows), len(tasks))
    return rows


def _spread(tasks: list[Task], executor: Executor, seen: Callable[[int, int], None]) -> list[Row]:
    futures = [executor.submit(compare_one, task) for task in tasks]
    for done, _ in enumerate(as_completed(futures), start=1):
        seen(done, len(tasks))
    return [_row(task, future) for task, future in zip(tasks, futures, strict=True)]


def _row(task: Task, future: "Future[Row]") -> Row:
    """The option's row; a process that died is that option's problem, not the study's end."""
    error = future.exception()
    if error is None:
        return future.result()
    problem = f"its process failed: {type(error).__name__}: {error}"
    return {"option": task.name, "engine": task.engine, "problem": problem}
