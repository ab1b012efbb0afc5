"""The search of a limit and its report for people."""

from collections.abc import Iterator
from concurrent.futures import Executor, ThreadPoolExecutor
from contextlib import contextmanager

from sidehill.cli import console
from sidehill.cli.job import Job
from sidehill.cli.progress import progress
from sidehill.engines import choose
from sidehill.files.spec import build
from sidehill.files.toml import Document
from sidehill.strip import words as limit_words
from sidehill.strip.limit import Limit, find_limit
from sidehill.study.plan import Find
from sidehill.workers import cores, pool


def read_find(given: dict[str, str | None]) -> Find:
    """What to look for, from the options that were given.

    Raises:
        InputError: option, value, what is allowed.
    """
    return build(Find, Document("command line", given))


def search(job: Job, find: Find, engine: str) -> Limit:
    """The limit in the engine asked for, with its progress told."""
    bounds = {key: find.si(key) for key in ("low", "high", "tolerance")}
    with progress(f"looking for the limit of {find.of}"), _side_by_side(engine) as executor:
        return find_limit(
            job.case, find.of, find.until[0], engine=engine, executor=executor, **bounds
        )


@contextmanager
def _side_by_side(engine: str) -> Iterator[Executor | None]:
    """Threads for the compiled engine, processes for the others, nothing on one core."""
    count = cores()
    if count == 1:
        yield None
        return
    is_compiled = choose(engine, many=True) == "compiled"
    with ThreadPoolExecutor(count) if is_compiled else pool(count) as executor:
        yield executor


def engine_words(found: Limit) -> str:
    """Which engine searched, and what the reference engine said of it."""
    if found.fell_back is not None:
        return f"engine {found.engine} alone ({found.fell_back})"
    if found.reference is None:
        return f"engine {found.engine}"
    says = "agrees" if found.reference_agrees else "DISAGREES: do not use this limit"
    return f"engine {found.engine}; run again at the limit, {found.reference} {says}"


def tell(job: Job, found: Limit, *, us: bool) -> None:
    """Print it; where there is no threshold, every band that was seen."""
    out, case = console.out(), job.case
    out.print(f"{case.machine.name}, {case.scenario.title}, {engine_words(found)}", style="bold")
    out.print(f"{found.quantity} until {found.until}: {limit_words.limit(found, us=us)}")
    if not found.is_threshold:
        for line in limit_words.bands(found.bands, found.unit, us=us):
            out.print(f"  {line}")
    out.print(f"{found.runs} runs")
    console.close(out, job.warnings, job.fitted.notes, job.defaults)
