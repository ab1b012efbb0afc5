"""Numbers as URDF attributes."""

from collections.abc import Iterable


def text(value: float | Iterable[float]) -> str:
    """One number or several, in the fewest digits that read back as the same doubles."""
    values = value if isinstance(value, Iterable) else (value,)
    return " ".join(repr(float(v) + 0.0) for v in values)  # + 0.0 turns -0.0 into 0.0
