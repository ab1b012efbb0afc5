"""Pairs over the path: a place, and what is wanted from there on."""

from collections.abc import Sequence
from itertools import pairwise
from typing import Annotated, Any

import numpy as np

from sidehill.files.fields import FieldError, Quantity

Path = Annotated[float, Quantity("length", "0 m", "200 m")]


def of_arrays(raw: Any) -> Any:
    """Nested lists of what may be arrays, which Python has: (n, 2), or pairs of numbers."""
    plain = raw.tolist() if isinstance(raw, np.ndarray) else raw
    if isinstance(plain, str) or not isinstance(plain, Sequence):
        return plain
    return [row.tolist() if isinstance(row, np.ndarray) else row for row in plain]


def refuse_disorder(
    key: str, pairs: Sequence[tuple[float, Any]], counts: tuple[int, int], example: str
) -> None:
    """Check that there are so many pairs, in the order of the path.

    Raises:
        FieldError: with the field's key and an example.
    """
    least, most = counts
    in_order = all(a < b for (a, _), (b, _) in pairwise(pairs))
    if not (least <= len(pairs) <= most and in_order):
        raise FieldError(key, f"allowed: {least} to {most} pairs as {example}, in path order")
