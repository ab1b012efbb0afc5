"""Everything that is looked for: the options by number, and what costs nothing beside the first."""

from sidehill.advice.free import Free, free_changes
from sidehill.case import Case
from sidehill.desk.question import Question
from sidehill.files.errors import InputError
from sidehill.machine.outfit import Outfit
from sidehill.study.study import Study

FREE = "free-"  # before the number of a change that costs nothing


def case_of(study: Study, outfit: Outfit) -> Case:
    """The case of an outfit on the study's bank."""
    return Case(study.machine, study.scenario, outfit)


def free_of(question: Question) -> tuple[Free, ...]:
    """What costs nothing, beside the first option."""
    return () if question.study is None else free_changes(question.study, question.us)


def ways_of(question: Question) -> dict[str, Case]:
    """The cases by number, "2" or "free-1"; none while something is not right yet."""
    study = question.study
    if study is None:
        return {}
    options = {
        str(number): case_of(study, way.outfit)
        for number, way in enumerate(question.ways, start=1)
        if way.outfit is not None
    }
    free = enumerate(free_of(question), start=1)
    return options | {f"{FREE}{n}": one.case for n, one in free if one.case is not None}


def way(question: Question, number: str) -> tuple[str, Case]:
    """Name and case of one.

    Raises:
        InputError: there is none now.
    """
    ways = ways_of(question)
    if number not in ways:
        raise InputError(f"{number[:12]!r}: nothing is computed under that number now")
    if number.startswith(FREE):
        return free_of(question)[int(number.removeprefix(FREE)) - 1].name, ways[number]
    return question.ways[int(number) - 1].name, ways[number]
