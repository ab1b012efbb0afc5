"""Each kind of picture of a sweep, drawn from its table."""

from collections.abc import Callable
from dataclasses import asdict

import numpy as np
import pandas as pd

from sidehill.files.errors import InputError
from sidehill.map.plan import OPTION, Chances, Curves, Map, Picture, Shares, Traces
from sidehill.map.subject import Drawn, Subject, parts
from sidehill.map.traces import traced
from sidehill.picture import chances, shares
from sidehill.picture.curves import curves_picture
from sidehill.picture.map import map_picture
from sidehill.picture.style import Kind
from sidehill.sweep.measure import answers, measure
from sidehill.sweep.probability import TOLD, probability
from sidehill.sweep.sensitivity import Sensitivity, sensitivity

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
            return _chances(subject, picture, kind)
        case Shares():
            return _shares(subject, picture, kind)
        case Traces():
            return traced(subject, picture, kind, say)


def _map(subject: Subject, picture: Map, kind: Kind) -> Drawn:
    table = subject.table.copy()
    for axis in (picture.x, picture.y):
        if axis in subject.varied.spreads and pd.api.types.is_numeric_dtype(table[axis]):
            table[axis] = _binned(table[axis])
    panes = parts(table, () if OPTION in (picture.x, picture.y) else (OPTION,))
    content = map_picture(panes, picture.x, picture.y, picture.of, subject.title, kind)
    return Drawn(picture.name, content, asdict(picture))


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
    return Drawn(picture.name, content, asdict(picture))


def _chances(subject: Subject, picture: Chances, kind: Kind) -> Drawn:
    """Of a saltelli design only A and B: the other draws are mixed from them."""
    table, sample = subject.table, subject.results.meta["sample"]
    if sample["method"] == "saltelli":
        table = table[table["draw"] < 2 * sample["n"]]
    rows = {
        name: [probability(answers(part, event), event) for event in TOLD]
        for name, part in parts(table, (OPTION, *picture.at)).items()
    }
    lines = tuple(
        f"{name}, {found.event}: {chances.in_words(found)}"
        for name, row in rows.items()
        for found in row
    )
    plain = {name: [asdict(found) for found in row] for name, row in rows.items()}
    content = chances.chances_picture(rows, subject.title, kind)
    return Drawn(picture.name, content, {"probabilities": plain}, lines)


def _shares(subject: Subject, picture: Shares, kind: Kind) -> Drawn:
    fields = [field.column for field in subject.results.fields]
    panes: dict[tuple[str, str], Sensitivity | str] = {}
    for name, part in parts(subject.table, (OPTION,)).items():
        in_order = part.sort_values("draw")
        for of in picture.of:
            try:
                panes[name, of] = sensitivity(measure(in_order, of), fields)
            except InputError as error:
                panes[name, of] = str(error)
    plain = [
        {"option": name, "of": of}
        | ({"problem": found} if isinstance(found, str) else asdict(found))
        for (name, of), found in panes.items()
    ]
    lines = tuple(
        f"{name}, {of}: {found if isinstance(found, str) else shares.in_words(found)}"
        for (name, of), found in panes.items()
    )
    content = shares.shares_picture(panes, subject.title, kind)
    return Drawn(picture.name, content, {"sensitivity": plain}, lines)
