"""Joint-space inertia matrix and the right-hand side of the equations of motion."""

from sidehill.dynamics.tree import cross, inertia_times, is_wheel, row_of
from sidehill.kernels.jit import kernel
from sidehill.kernels.layout import CHASSIS, Records


@kernel
def assemble(models: Records, works: Records, trees: Records) -> None:
    """Matrix and right-hand side, from the leaves to the chassis.

    The composite rigid body algorithm (Featherstone, ch. 6) together with the inward pass
    of Newton-Euler (ch. 5): a joint feels the inertia and the forces of all it carries.
    """
    model, work, tree = models[0], works[0], trees[0]
    for b in range(int(model.bodies) - 1, 0, -1):
        if is_wheel(b):
            continue
        p, row = int(model.parent[b]), tree.matrix[row_of(b)]
        d, s, n, f = work.axis[b], tree.sweep[b], tree.moment[b], tree.force[b]
        row[0], row[1], row[2], row[3], row[4], row[5] = inertia_times(
            tree.mass[b], tree.first[b], tree.second[b], d[0], d[1], d[2], s[0], s[1], s[2]
        )
        tree.right[row_of(b)] = work.joint_force[b - 1] - (
            d[0] * n[0] + d[1] * n[1] + d[2] * n[2] + s[0] * f[0] + s[1] * f[1] + s[2] * f[2]
        )
        a = b
        while a != CHASSIS:
            d, s = work.axis[a], tree.sweep[a]
            row[row_of(a)] = (
                d[0] * row[0] + d[1] * row[1] + d[2] * row[2]
                + s[0] * row[3] + s[1] * row[4] + s[2] * row[5]
            )  # fmt: skip
            a = int(model.parent[a])
        tree.mass[p] += tree.mass[b]
        for k in range(3):
            tree.first[p, k] += tree.first[b, k]
            tree.moment[p, k] += n[k]
            tree.force[p, k] += f[k]
        for k in range(6):
            tree.second[p, k] += tree.second[b, k]
    assemble_base(works, trees)


@kernel
def assemble_base(works: Records, trees: Records) -> None:
    """The chassis' own six rows: the whole machine as one rigid body (Featherstone, ch. 9)."""
    work, tree = works[0], trees[0]
    H, h, J, m = tree.matrix, tree.first[CHASSIS], tree.second[CHASSIS], tree.mass[CHASSIS]
    H[0, 0], H[1, 1], H[2, 2], H[1, 0], H[2, 0], H[2, 1] = J[0], J[1], J[2], J[3], J[4], J[5]
    H[3, 0], H[3, 1], H[3, 2] = 0.0, h[2], -h[1]
    H[4, 0], H[4, 1], H[4, 2] = -h[2], 0.0, h[0]
    H[5, 0], H[5, 1], H[5, 2] = h[1], -h[0], 0.0
    H[3, 3], H[4, 4], H[5, 5] = m, m, m
    H[4, 3], H[5, 3], H[5, 4] = 0.0, 0.0, 0.0
    F, c = work.base_force, tree.point
    mx, my, mz = cross(c[0], c[1], c[2], F[0], F[1], F[2])
    tree.right[0] = work.base_moment[0] - mx - tree.moment[CHASSIS, 0]
    tree.right[1] = work.base_moment[1] - my - tree.moment[CHASSIS, 1]
    tree.right[2] = work.base_moment[2] - mz - tree.moment[CHASSIS, 2]
    for k in range(3):
        tree.right[3 + k] = F[k] - tree.force[CHASSIS, k]
