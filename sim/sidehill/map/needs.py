"""Which columns of a table the pictures of a sweep are drawn from: of a long one no others are
read."""

from collections.abc import Iterable

from sidehill.map.plan import Chances, Curves, Fragility, Map, Picture, Shares, Traces
from sidehill.sweep.columns import STATICS, of_limits
from sidehill.sweep.measure import COLUMN_OF, FACTS, TOLD_EVENTS
from sidehill.sweep.results import Results

# few words of what came of a row in each engine, and whether anything is known of it
WORDS = (
    "problem",
    "reference",
    *(f"{engine}{fact}" for engine in ("", "reference_") for fact in FACTS[:2]),
)
# beside them: which row it is
TOLD = (
    *("option", "draw", "replicate", *WORDS, "met", "reference_met"),
    *("reference_agrees", "strip_reference_agrees"),
)


def needed(results: Results, pictures: Iterable[Picture]) -> list[str] | None:
    """Columns that some pictures are drawn from, in the table's order; None: all, as a result
    that is asked for is none of them, and the message offers the nearest."""
    there = results.columns
    wanted = {*TOLD, *(field.column for field in results.fields)}
    for picture in pictures:
        match picture:
            case Map(of=of):
                wanted.add(COLUMN_OF.get(of, of))
            case Shares(of=several):
                wanted.update(COLUMN_OF.get(of, of) for of in several)
            case Curves() | Fragility():
                wanted.update(_limits(results))
            case Traces():
                wanted.update(("case", "physics", *_limits(results)))
            case Chances():
                pass
    if wanted.difference(TOLD, there, TOLD_EVENTS):
        return None
    return [name for name in there if name in wanted]


def _limits(results: Results) -> list[str]:
    """Columns of the strips, if any were taken, and of standing still beside them."""
    find = results.find
    told = () if find is None else (*STATICS, *of_limits(find.until, find.varied))
    return [column.name for column in told]
