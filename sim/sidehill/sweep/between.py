"""How much of a result's spread is between the levels of one field, as seeds of rough ground, and
how much between everything else: a random effect."""

from dataclasses import dataclass

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from sidehill.files.errors import InputError
from sidehill.sweep.measure import measure

FEWEST = 3  # levels, and draws at each, of which something is said


@dataclass(frozen=True)
class Between:
    """Components of variance of a result, in the square of its unit.

    Attributes:
        by: the field whose levels are a random effect.
        levels: how many.
        draws: at each level, of which all are known.
        unknown: draws left out, as the result is not known at some level.
        mean: of the result.
        of_levels: variance between levels, whatever else is drawn.
        of_draws: variance between draws, whatever the level.
        together: variance of what levels do to one draw and not to another.
        low: the lowest of the means of the levels.
        high: the highest.
    """

    by: str
    levels: int
    draws: int
    unknown: int
    mean: float
    of_levels: float
    of_draws: float
    together: float
    low: float
    high: float

    @property
    def share(self) -> float:
        """Of the whole variance, what would go if the level were known: its own part and that
        which it has together with the draws."""
        whole = self.of_levels + self.of_draws + self.together
        return (self.of_levels + self.together) / whole if whole > 0.0 else 0.0


def between(table: pd.DataFrame, of: str, by: str) -> Between:
    """Components of variance of a result between the levels of a field and between draws.

    The levels must be crossed with the draws: a list in [vary] and method "grid" or "table", so
    that the same machines meet each ground. Two-way random effects without replication, estimated
    from the mean squares, none below 0 (Searle, Casella and McCulloch, Variance Components, ch. 4;
    from memory). Few levels say little of how they spread: read `low` and `high` beside it.

    Args:
        table: rows of one option.
        of: as of `measure`.
        by: a column, as "ground.seed".

    Raises:
        InputError: not such a table, too few levels or draws, or no such result.
    """
    values = _crossed(table, measure(table, of), by)
    known = values[:, ~np.isnan(values).any(axis=0)]
    levels, draws = known.shape
    if min(levels, draws) < FEWEST:
        raise InputError(
            f"{of} by {by}: {levels} levels, known at all of them for {draws} draws; needed: "
            f"{FEWEST} of each"
        )
    rows, columns, mean = known.mean(axis=1), known.mean(axis=0), known.mean()
    rest = known - rows[:, None] - columns + mean
    together = float((rest**2).sum()) / ((levels - 1) * (draws - 1))
    return Between(
        by=by,
        levels=levels,
        draws=draws,
        unknown=values.shape[1] - draws,
        mean=float(mean),
        of_levels=max(0.0, float(rows.var(ddof=1)) - together / draws),
        of_draws=max(0.0, float(columns.var(ddof=1)) - together / levels),
        together=together,
        low=float(rows.min()),
        high=float(rows.max()),
    )


def _crossed(table: pd.DataFrame, values: NDArray[np.float64], by: str) -> NDArray[np.float64]:
    """(levels, draws) of the values, each draw the same at every level."""
    if by not in table or table["option"].nunique() > 1:
        raise InputError(f'by "{by}": needed: a column of the table, and the rows of one option')
    inputs = list(table.columns[: list(table.columns).index("stability")])
    same = [name for name in inputs if "." in name and name != by]
    ordered = table.assign(value=values).sort_values([by, "draw"], kind="stable")
    parts = [part for _, part in ordered.groupby(by)]
    first = parts[0][same].reset_index(drop=True)
    if any(not part[same].reset_index(drop=True).equals(first) for part in parts):
        raise InputError(
            f'by "{by}": its levels are not crossed with the draws; needed: a list in [vary] and '
            'method "grid" or "table"'
        )
    return np.array([part["value"].to_numpy() for part in parts])
