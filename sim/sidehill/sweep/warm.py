"""Before many runs: the kernels compiled once, and how long the runs will take."""

from time import perf_counter

from sidehill.files.errors import SidehillError
from sidehill.run import run
from sidehill.study.study import Study
from sidehill.sweep.agenda import Agenda
from sidehill.sweep.task import Asked, Task, work


def warm(study: Study, asked: Asked) -> None:
    """Compile the kernels here, before processes start that would each do it."""
    case = study.cases(study.options[0])[0]
    try:
        for engine in filter(None, (asked.engine, asked.reference)):
            run(case, engine)
    except SidehillError:
        return  # it will be this option's problem, in its rows


def estimate(agenda: Agenda, workers: int) -> float:
    """[s] that all cases will take, from one in the middle of the design."""
    warm(agenda.study, agenda.asked)
    task = Task(agenda.study, agenda.asked, (agenda.place(agenda.count // 2),))
    began = perf_counter()
    work(task)
    return (perf_counter() - began) * agenda.count / workers
