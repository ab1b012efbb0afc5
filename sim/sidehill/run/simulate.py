"""One case from start to end in one engine."""

from collections.abc import Callable
from time import perf_counter

from sidehill.case import Case
from sidehill.engines import choose, open_engine
from sidehill.flat import flatten
from sidehill.run.stages import drive, fall, launch, lay_on_table, settle
from sidehill.run.track import Track

COURSE = (settle, launch, drive)
TABLE = (settle, lay_on_table, drive)


def run(
    case: Case,
    engine: str = "auto",
    watch: Callable[[Track], None] | None = None,
    to_rest: bool = False,
) -> Track:
    """Run a case to its end.

    Args:
        engine: auto, or one of `engines.NAMES`.
        watch: called with the track every 2,000 steps.
        to_rest: follow a machine that overturns to the ground; else stop at 60 deg.

    Raises:
        InputError: the outfit does not suit the machine.
        EngineError: the engine is not installed here.
    """
    flat = flatten(case, falls=to_rest)
    name = choose(engine)
    started = perf_counter()
    with open_engine(name, flat) as opened:
        track = Track(flat, opened, opened.init(), flat.rows(), watch or (lambda _: None))
        for stage in TABLE if case.scenario.course.is_tilt_table else COURSE:
            if not stage(track):
                break
        if to_rest:
            fall(track)
        track.wall_s = perf_counter() - started
    return track
