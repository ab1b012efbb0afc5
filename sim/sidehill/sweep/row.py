"""Statics and a strip's limits of a case, as the columns of a row."""

from typing import Any

from sidehill.case import Case
from sidehill.strip.strip import take_strip
from sidehill.study.plan import Find
from sidehill.sweep.limits import limit_columns
from sidehill.sweep.statics import statics_columns

Row = dict[str, Any]


def strip_row(case: Case, engine: str, find: Find) -> Row:
    """Statics of a case and the limits read off its strip.

    Args:
        engine: as of `take_strip`.
    """
    strip = take_strip(
        case, find.of, feature=find.feature, until=find.until, engine=engine, **find.bounds
    )
    row = statics_columns(case)
    if strip.fell_back is not None:
        row["warnings"] = " | ".join(filter(None, (row["warnings"], strip.fell_back)))
    return row | limit_columns(strip, find.until) | {"engine": strip.engine}
