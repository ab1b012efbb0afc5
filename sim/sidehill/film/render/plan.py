"""How a face lies across the picture: what is asked of it at a pixel, linear over the screen.

What is linear on a triangle is, over the distance ahead, linear on the screen. A plan holds that
as rows of three, to be multiplied with a place (right, down, 1) [samples from the middle].
"""

from sidehill.film.render.compile import kernel
from sidehill.film.render.finish import GRASSY
from sidehill.film.render.mesh import Array, Faces, Mesh

# first columns of a plan: nearness, ground and bareness of grass, normal of level frame
NEAR_BY, ALONG, UP, BARE, NORMAL = 0, 3, 6, 9, 12
PLAN = 21
LEAST = 1e-12  # [m3] of eye and triangle: of one that is seen edge-on any place will do


@kernel
def value(plans: Array, name: int, column: int, right: float, down: float) -> float:
    """What a plan says at a place, over the distance there."""
    return float(
        plans[name, column] * right + plans[name, column + 1] * down + plans[name, column + 2]
    )


@kernel
def lay(mesh: Mesh, faces: Faces, name: int, focal: float) -> None:
    """Make the plan of a face."""
    i, j, k = mesh.triangles[name, 0], mesh.triangles[name, 1], mesh.triangles[name, 2]
    seen, plan, normals = mesh.seen, faces.plans[name], mesh.normals
    faces.known[name] = True
    if mesh.is_flat[name]:
        for axis in range(3):
            column = NORMAL + 3 * axis
            plan[column], plan[column + 1], plan[column + 2] = 0.0, 0.0, normals[i, axis]
    grassy = mesh.finishes[mesh.finish_of[name], GRASSY] > 0.0
    if mesh.is_flat[name] and not grassy:
        return
    ax, ay, az = seen[i, 0], seen[i, 1], seen[i, 2]
    bx, by, bz = seen[j, 0], seen[j, 1], seen[j, 2]
    cx, cy, cz = seen[k, 0], seen[k, 1], seen[k, 2]
    a0, a1, a2 = by * cz - bz * cy, bz * cx - bx * cz, bx * cy - by * cx
    b0, b1, b2 = cy * az - cz * ay, cz * ax - cx * az, cx * ay - cy * ax
    c0, c1, c2 = ay * bz - az * by, az * bx - ax * bz, ax * by - ay * bx
    one = 1.0 / min(a0 * ax + a1 * ay + a2 * az, -LEAST)  # negative: corners face the eye
    side = one / focal
    a0, a1, a2 = a0 * side, a1 * side, a2 * one
    b0, b1, b2 = b0 * side, b1 * side, b2 * one
    c0, c1, c2 = c0 * side, c1 * side, c2 * one
    if not mesh.is_flat[name]:
        for axis in range(3):
            p, q, r = normals[i, axis], normals[j, axis], normals[k, axis]
            column = NORMAL + 3 * axis
            plan[column] = p * a0 + q * b0 + r * c0
            plan[column + 1] = p * a1 + q * b1 + r * c1
            plan[column + 2] = p * a2 + q * b2 + r * c2
    if grassy:
        plan[NEAR_BY], plan[NEAR_BY + 1] = a0 + b0 + c0, a1 + b1 + c1
        for axis in range(3):
            p, q, r = mesh.ground[i, axis], mesh.ground[j, axis], mesh.ground[k, axis]
            column = ALONG + 3 * axis
            plan[column] = p * a0 + q * b0 + r * c0
            plan[column + 1] = p * a1 + q * b1 + r * c1
            plan[column + 2] = p * a2 + q * b2 + r * c2
