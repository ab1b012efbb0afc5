"""Each kind of picture of a sweep, drawn from its table."""

from collections.abc import Callable
from dataclasses import asdict

import numpy as np
import pandas as pd

from sidehill.map.plan import OPTION, Chances, Curves, Fragility, Map, Picture, Shares, Traces
from sidehill.map.subject import Drawn, Subject, parts
from sidehill.map.traces import traced
from sidehill.map.uncertain import draw_chances, draw_fragility, draw_shares
from sidehill.picture.cells import cells
from sidehill.picture.curve import points, sides
from sidehill.picture.curves import curves_picture
from sidehill.picture.map import map_picture
from sidehill.picture.style import Kind
from sidehill.study.plan import Find

BINS = 10  # of what is drawn at random, on a map


def draw(subject: Subject, picture: Picture, kind: Kind, say: Callable[[str], None]) -> Drawn:
    """One picture.

    Raises:
        InputError: the table has no such result or case.
    """
    match picture:
        case Map():
            return _map(subject, picture, kind)
        case Curves():
            return _curves(subject, picture, kind)
        case Chances():
            return draw_chances(subject, picture, kind)
        case Fragility():
            return draw_fragility(subject, picture, kind)
        case Shares():
            return draw_shares(subject, picture, kind)
        case Traces():
            return traced(subject, picture, kind, say)


def _map(subject: Subject, picture: Map, kind: Kind) -> Drawn:
    table = subject.table.copy()
    for axis in (picture.x, picture.y):
        if axis in subject.varied.spreads and pd.api.types.is_numeric_dtype(table[axis]):
            table[axis] = _binned(table[axis])
    panes = parts(table, () if OPTION in (picture.x, picture.y) else (OPTION,))
    content = map_picture(panes, picture.x, picture.y, picture.of, subject.title, kind)
    return Drawn(picture.name, content, asdict(picture), tables={"": _cells(panes, picture)})


def _binned(column: pd.Series) -> pd.Series:
    """Values of a spread, each as the middle of its part of the range."""
    edges = np.linspace(column.min(), column.max(), BINS + 1)
    middles = np.array([float(f"{middle:.3g}") for middle in 0.5 * (edges[:-1] + edges[1:])])
    places = np.clip(np.digitize(column, edges) - 1, 0, BINS - 1)
    return pd.Series(middles[places], column.index, name=column.name)


def _curves(subject: Subject, picture: Curves, kind: Kind) -> Drawn:
    find = subject.results.find
    assert find is not None  # else there would be no curves in the plan
    panes = parts(subject.table, (OPTION, *picture.rest))
    content = curves_picture(panes, picture.x, picture.by, find, subject.title, kind)
    data = {"": _points(panes, picture, find)}
    return Drawn(picture.name, content, asdict(picture), tables=data)


def _points(panes: dict[str, pd.DataFrame], picture: Curves, find: Find) -> pd.DataFrame:
    """A row a point of every line."""
    asked = sides(next(iter(panes.values())), find.until, find.varied)
    rows = []
    for name, pane in panes.items():
        lines = {"": pane} if picture.by is None else dict(list(pane.groupby(picture.by)))
        for level, table in lines.items():
            for side in asked:
                for point in points(table, picture.x, side):
                    by = {} if picture.by is None else {picture.by: level}
                    rows.append(
                        {"of": name, "result": side.column, picture.x: point.x}
                        | by
                        | {"value": point.value, "answer": point.answer}
                    )
    return pd.DataFrame(rows)


def _cells(panes: dict[str, pd.DataFrame], picture: Map) -> pd.DataFrame:
    """A row a cell of every pane."""
    rows = []
    for name, pane in panes.items():
        part = cells(pane, picture.x, picture.y, picture.of)
        for cell in part.cells:
            place = {
                picture.x: part.x_levels[cell.column],
                picture.y: part.y_levels[cell.row],
            }
            rows.append({"of": name} | place | {"result": picture.of} | asdict(cell))
    return pd.DataFrame(rows).drop(columns=["column", "row"])
