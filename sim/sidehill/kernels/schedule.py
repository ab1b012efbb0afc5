"""What is wanted at a place of the path: linear between the places that were given."""

from sidehill.kernels.jit import kernel
from sidehill.kernels.layout import Vector


@kernel
def scheduled(places: Vector, values: Vector, count: int, path: float) -> float:
    """The value at a path length [m]; before the first and after the last place it stays.

    places: (n,) [m] rising; values: (n,) what is wanted there; of both `count` are given.
    """
    low, high = 0, count - 1
    if path <= places[low]:
        return float(values[low])
    if path >= places[high]:
        return float(values[high])
    while high - low > 1:
        middle = (low + high) // 2
        if path < places[middle]:
            high = middle
        else:
            low = middle
    share = (path - places[low]) / (places[high] - places[low])
    return float(values[low] + share * (values[high] - values[low]))
