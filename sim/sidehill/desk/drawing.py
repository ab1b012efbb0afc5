"""The bank as `picture` draws it; the last one is kept."""

from functools import lru_cache
from threading import Lock

from sidehill.case import Case
from sidehill.desk.question import Question
from sidehill.files.errors import InputError
from sidehill.picture.course import course_picture
from sidehill.picture.survey import survey

_ONE_AT_A_TIME = Lock()  # the drawing library keeps its look in one place for all threads


def bank_svg(question: Question) -> bytes:
    """The page of the scenario with the first option's machine on it.

    Raises:
        InputError: something is not right yet.
    """
    study = question.study
    if study is None:
        raise InputError("not everything is right yet, so there is nothing to draw")
    with _ONE_AT_A_TIME:
        return _drawn(_Key(study.case(study.options[0])), question.us)


class _Key:
    """A case, told apart by its own hash."""

    def __init__(self, case: Case) -> None:
        self.case, self.key = case, case.key()

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Key) and self.key == other.key

    def __hash__(self) -> int:
        return hash(self.key)


@lru_cache(maxsize=4)
def _drawn(key: _Key, us: bool) -> bytes:
    return course_picture(survey(key.case), "svg", us=us)
