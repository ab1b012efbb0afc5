"""From a case to the flat arrays that the kernels read."""

from sidehill.flat.flat import Flat, flatten

__all__ = ["Flat", "flatten"]
