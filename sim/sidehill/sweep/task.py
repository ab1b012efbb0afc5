"""What one process is asked to do, and how it does it: cases of a study, one row each."""

from dataclasses import dataclass
from typing import Any

from sidehill.case import Case
from sidehill.engines import REFERENCE, choose
from sidehill.files.errors import SidehillError
from sidehill.study.study import Study
from sidehill.sweep.row import Row, strip_row
from sidehill.sweep.run_row import run_row
from sidehill.sweep.version import ROW_VERSION


@dataclass(frozen=True)
class Asked:
    """In which engines each case is computed."""

    engine: str  # as `choose` returns it for many runs
    reference: str | None  # engine of runs near a decision and of both sides of a strip's changes


@dataclass(frozen=True)
class Place:
    """One case of a study: an option and a draw."""

    option: int
    draw: int
    replicate: int
    values: dict[str, Any]  # of the varied fields, by column


@dataclass(frozen=True)
class Task:
    """Cases that are computed together; plain data, so that it can be sent anywhere."""

    study: Study
    asked: Asked
    places: tuple[Place, ...]


def ask(engine: str) -> Asked:
    """What an engine's name stands for: auto checks what the compiled engine says.

    Raises:
        EngineError: unknown, or not installed here.
    """
    return Asked(choose(engine, many=True), REFERENCE if engine == "auto" else None)


def work(task: Task) -> list[Row]:
    """The rows of a task. What fails is named in `problem`; its numbers are missing.

    Raises:
        MemoryError: there is not enough of it, with what else is at work.
    """
    return [_row(task, place) for place in task.places]


def dead_row(task: Task, place: Place, problem: str) -> Row:
    """The row of a case that nothing came back from."""
    row = _identity(task, place) | {"problem": problem}
    try:
        return row | {"case": _case(task, place).key()}
    except SidehillError:
        return row


def _row(task: Task, place: Place) -> Row:
    row = _identity(task, place)
    asked = task.asked
    try:
        case = _case(task, place)
        row["case"] = case.key()
        row |= measured(task.study, case)
        if task.study.find is not None:
            name = "auto" if asked.reference else asked.engine
            row |= strip_row(case, name, task.study.find)
        row |= run_row(case, asked.engine, asked.reference)
    except SidehillError as error:
        return row | {"problem": str(error)}
    except MemoryError:  # the machine's trouble, not the case's: it is tried again, alone
        raise
    except Exception as error:  # whatever it is, it must not lose the other cases' work
        return row | {"problem": f"{type(error).__name__}: {error}"}
    return row


def measured(study: Study, case: Case) -> Row:
    """What the words of varied fields stand for in a case, by column."""
    fields = {field.measured_column: field for field in study.fields}
    return {name: field.measured(case) for name, field in fields.items() if name is not None}


def _identity(task: Task, place: Place) -> Row:
    return {
        "physics": ROW_VERSION,
        "engine": task.asked.engine,
        "option": task.study.options[place.option].name,
        "draw": place.draw,
        "replicate": place.replicate,
        **place.values,
    }


def _case(task: Task, place: Place) -> Case:
    return task.study.case_at(task.study.options[place.option], place.values)
