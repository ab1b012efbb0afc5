"""Numbers on their way into the page: whole steps, differences, byte planes, one deflated text."""

import base64
import zlib
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

MOST = 2**30  # steps from zero that a number may be: differences still fit 32 bits


class Block:
    """Tables of numbers, packed. What `web/block.js` reads again.

    Every table is kept once: two machines that share a wheel share its mesh.
    """

    def __init__(self) -> None:
        self._parts: list[bytes] = []
        self._known: dict[tuple[bytes, float, int], int] = {}
        self.tables: list[dict[str, Any]] = []  # rows, columns and step of each

    def add(self, values: ArrayLike, step: float) -> int:
        """The number of a table (n,) or (n, k), whose values are kept in whole steps."""
        whole = steps_of(values, step)
        packed = planes(whole)
        kept = (packed, step, whole.shape[1])
        if kept not in self._known:
            self._known[kept] = len(self.tables)
            self._parts.append(packed)
            self.tables.append({"rows": whole.shape[0], "columns": whole.shape[1], "step": step})
        return self._known[kept]

    def text(self) -> str:
        """All tables in order, deflated, in letters."""
        return deflated(b"".join(self._parts))


def deflated(data: bytes) -> str:
    """Bytes as text that the page inflates. Same bytes, same text."""
    return base64.b64encode(zlib.compress(data, 9)).decode("ascii")


def steps_of(values: ArrayLike, step: float) -> np.ndarray:
    """(n, k) nearest whole steps."""
    table = np.asarray(values, dtype=float)
    whole = np.rint((table if table.ndim == 2 else table[:, None]) / step)
    assert whole.size and np.isfinite(whole).all() and np.abs(whole).max() < MOST
    return np.asarray(whole, dtype=np.int64)


def planes(whole: np.ndarray) -> bytes:
    """Differences down each column, folded so that small ones of either sign have zero high bytes,
    column after column, the low byte of all first."""
    change = np.diff(whole, axis=0, prepend=0).T
    folded = np.where(change < 0, -2 * change - 1, 2 * change).astype("<u4")
    return np.ascontiguousarray(folded.reshape(-1).view(np.uint8).reshape(-1, 4).T).tobytes()
