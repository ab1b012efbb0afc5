"""Sparse factors of the joint-space inertia: H = L^T D L (Featherstone, ch. 6).

Taken from the leaves inward the factors fill in nothing: a joint only ever meets those
between it and the base. The base's six meet every joint, so they are a block.
"""

from sidehill.dynamics.tree import BASE, Above
from sidehill.kernels.jit import kernel
from sidehill.kernels.layout import Vector


@kernel
def factor(H: Vector, above: Above) -> None:
    """Factors of the lower triangle of H, in its place: L, and 1 / D."""
    for k in range(above.size - 1, BASE - 1, -1):
        H[k, k] = 1.0 / H[k, k]
        i = above[k]
        while i >= BASE:
            share = H[k, i] * H[k, k]
            j = i
            while j >= BASE:
                H[i, j] -= share * H[k, j]
                j = above[j]
            for j in range(BASE):
                H[i, j] -= share * H[k, j]
            H[k, i] = share
            i = above[i]
        for i in range(BASE - 1, -1, -1):
            share = H[k, i] * H[k, k]
            for j in range(i + 1):
                H[i, j] -= share * H[k, j]
            H[k, i] = share
    factor_base(H)


@kernel
def factor_base(H: Vector) -> None:
    """The same for what is left of the base's own block."""
    for k in range(BASE - 1, -1, -1):
        H[k, k] = 1.0 / H[k, k]
        for i in range(k - 1, -1, -1):
            share = H[k, i] * H[k, k]
            for j in range(i + 1):
                H[i, j] -= share * H[k, j]
            H[k, i] = share


@kernel
def solve(H: Vector, above: Above, x: Vector) -> None:
    """x -> H^-1 x in its place, H being its factors: L^T first, then D and L."""
    for k in range(above.size - 1, BASE - 1, -1):
        i = above[k]
        while i >= BASE:
            x[i] -= H[k, i] * x[k]
            i = above[i]
        for i in range(BASE):
            x[i] -= H[k, i] * x[k]
    solve_base(H, x)
    for k in range(BASE, above.size):
        x[k] *= H[k, k]
        for i in range(BASE):
            x[k] -= H[k, i] * x[i]
        i = above[k]
        while i >= BASE:
            x[k] -= H[k, i] * x[i]
            i = above[i]


@kernel
def solve_base(H: Vector, x: Vector) -> None:
    """The same for the base's own block."""
    for k in range(BASE - 1, -1, -1):
        for i in range(k):
            x[i] -= H[k, i] * x[k]
    for k in range(BASE):
        x[k] *= H[k, k]
        for i in range(k):
            x[k] -= H[k, i] * x[i]
