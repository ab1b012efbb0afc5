"""What a face looks like about a place of the picture: lit once for a block of pixels.

The colour of a pixel of the block is, channel by channel (rows of `tint`),
    (OWN + BY_BLADE * blade + BY_DRY * dry) * (SHADE + SUN * sun) + SENT + SPARK * sun
with blade and dry looked up in the grass of that pixel, and the share of the sun that reaches it.
"""

from math import sqrt

from sidehill.film.render.compile import kernel
from sidehill.film.render.finish import GLOSS, GRASSY, SHARPNESS
from sidehill.film.render.grass import DRY, LUSH, taps_of
from sidehill.film.render.light import CAMERA, EYE, NEARNESS
from sidehill.film.render.light import SUN as SUN_LOOK
from sidehill.film.render.mesh import Array, Block, Faces, Light, Mesh
from sidehill.film.render.plan import ALONG, BARE, NEAR_BY, NORMAL, UP, value
from sidehill.film.render.shadow import open_sky
from sidehill.film.render.sky import HAZE, dome, haze

SUNLIGHT = (2.9, 2.65, 2.25)
SKYLIGHT = (0.62, 0.78, 1.0)
BOUNCE = (0.20, 0.22, 0.11)  # what the ground throws back up
WET_DARKER, WET_GLOSS, WET_SHARPNESS = 0.32, 0.10, 12.0  # wet grass: a dark, broad shine
EARTH = (0.235, 0.165, 0.105)  # worn ground
GRAIN, GREEN_GRAIN = 0.35, 3.2  # of worn ground: what it has, and by the green of its grass

DULL = 0.5  # cosine to the sun's mirror image, under which there is no glint to be seen

TINT, LIE = 7, 10
OWN, BY_BLADE, BY_DRY, SHADE, SUN, SENT, SPARK = range(TINT)  # columns of a tint
# numbers of a lie: a place on the ground [m], how it goes on per sample to the right and down,
# the way between two looks [m], their level and count
U, V, U_RIGHT, V_RIGHT, U_DOWN, V_DOWN, U_STEP, V_STEP, LEVEL, TAPS = range(LIE)

Vector = tuple[float, float, float]


@kernel
def ray(light: Light, right: float, down: float) -> Vector:
    """The look along a place [samples from the middle], as long as brings it one metre ahead."""
    looks, r, d = light.looks, right / light.focal, down / light.focal
    return (
        r * looks[CAMERA, 0, 0] + d * looks[CAMERA, 1, 0] + looks[CAMERA, 2, 0],
        r * looks[CAMERA, 0, 1] + d * looks[CAMERA, 1, 1] + looks[CAMERA, 2, 1],
        r * looks[CAMERA, 0, 2] + d * looks[CAMERA, 1, 2] + looks[CAMERA, 2, 2],
    )


@kernel
def point_at(light: Light, ahead: Vector, distance: float) -> Vector:
    """[m] the point that is that far along a look."""
    looks = light.looks
    return (
        looks[CAMERA, EYE, 0] + distance * ahead[0],
        looks[CAMERA, EYE, 1] + distance * ahead[1],
        looks[CAMERA, EYE, 2] + distance * ahead[2],
    )


@kernel
def beside(light: Light, at: Vector, n: Vector, right: float, down: float) -> Vector:
    """[m] the point at a place of the picture, in the plane through a point near by."""
    looks, ahead = light.looks, ray(light, right, down)
    from_eye = (
        n[0] * (at[0] - looks[CAMERA, EYE, 0])
        + n[1] * (at[1] - looks[CAMERA, EYE, 1])
        + n[2] * (at[2] - looks[CAMERA, EYE, 2])
    )
    return point_at(light, ahead, from_eye / (n[0] * ahead[0] + n[1] * ahead[1] + n[2] * ahead[2]))


@kernel
def lie_on_ground(
    faces: Faces, lie: Array, name: int, right: float, down: float, distance: float
) -> float:
    """Where a place lies on the ground; returns its bareness."""
    plans = faces.plans
    lie[U] = distance * value(plans, name, ALONG, right, down)
    lie[V] = distance * value(plans, name, UP, right, down)
    for k in range(2):
        nearer = plans[name, NEAR_BY + k]
        lie[U_RIGHT + 2 * k] = distance * (plans[name, ALONG + k] - lie[U] * nearer)
        lie[V_RIGHT + 2 * k] = distance * (plans[name, UP + k] - lie[V] * nearer)
    return min(max(distance * value(plans, name, BARE, right, down), 0.0), 1.0)


@kernel
def tint_grass(
    light: Light, block: Block, bare: float, view: Vector, across: float, away: float
) -> None:
    """Colour of grass by its blades; across: [m] of a pixel; away: cosine to the normal."""
    lie, tint = block.lie, block.tint
    taps, stride, level = taps_of(across, 1.0 / max(away, 0.02))
    one = stride / (sqrt(view[0] * view[0] + view[1] * view[1]) + 1e-9)
    lie[U_STEP], lie[V_STEP], lie[LEVEL], lie[TAPS] = one * view[0], one * view[1], level, taps
    dark = 1.0 - WET_DARKER * light.wet
    for c in range(3):
        earth, grass = dark * bare * EARTH[c], dark * (1.0 - bare)
        tint[c, OWN] = earth * GRAIN
        tint[c, BY_BLADE] = grass * LUSH[c] + earth * GREEN_GRAIN * LUSH[1]
        tint[c, BY_DRY] = grass * (DRY[c] - LUSH[c]) + earth * GREEN_GRAIN * (DRY[1] - LUSH[1])


@kernel
def light_up(
    light: Light, tint: Array, opening: float, n: Vector, view: Vector,
    gloss: float, sharpness: float, distance: float,
) -> bool:  # fmt: skip
    """The light that a face with normal n sends back along a unit view; returns whether it faces
    the sun."""
    looks = light.looks
    sx, sy, sz = (
        looks[SUN_LOOK, NEARNESS, 0],
        looks[SUN_LOOK, NEARNESS, 1],
        looks[SUN_LOOK, NEARNESS, 2],
    )
    facing = max(n[0] * sx + n[1] * sy + n[2] * sz, 0.0)
    above = (0.5 + 0.5 * n[2]) * opening
    below = (0.5 - 0.5 * n[2]) * (0.25 + 0.75 * opening)
    mirror = spark = 0.0
    sky = (0.0, 0.0, 0.0)
    if gloss > 0.0:
        away = -(n[0] * view[0] + n[1] * view[1] + n[2] * view[2])
        rx, ry, rz = view[0] + 2 * away * n[0], view[1] + 2 * away * n[1], view[2] + 2 * away * n[2]
        graze = (1.0 - max(away, 0.0)) ** 2
        # below the horizon there is no sky to mirror; faded, or a line would cross the ground
        skyward = min(max(2.5 * rz + 0.5, 0.0), 1.0)
        mirror = gloss * (0.25 + 0.75 * graze * graze) * (0.3 + 0.7 * opening) * skyward
        sky = dome(max(rz, 0.12))
        glint = rx * sx + ry * sy + rz * sz
        if glint > DULL and facing > 0.0:
            spark = 2.2 * gloss * glint**sharpness * facing
    veil = haze(distance)
    clear = 1.0 - veil
    for c in range(3):
        tint[c, SHADE] = clear * (SKYLIGHT[c] * above + BOUNCE[c] * below)
        tint[c, SUN] = clear * SUNLIGHT[c] * facing
        tint[c, SENT] = clear * mirror * sky[c] + veil * HAZE[c]
        tint[c, SPARK] = clear * spark
    return bool(facing > 0.0)


@kernel
def tint_face(
    mesh: Mesh, light: Light, faces: Faces, block: Block, name: int,
    right: float, down: float, near: float,
) -> tuple[bool, Vector, Vector]:  # fmt: skip
    """Fill the tint of a face about a place, and its lie if it is grass.

    Args:
        right, down: [samples] from the picture's middle; near: nearness there.

    Returns whether it faces the sun, the place [m], and the normal there.
    """
    plans, f, distance = faces.plans, mesh.finish_of[name], 1.0 / near
    ahead = ray(light, right, down)
    at = point_at(light, ahead, distance)
    nx = value(plans, name, NORMAL, right, down)
    ny = value(plans, name, NORMAL + 3, right, down)
    nz = value(plans, name, NORMAL + 6, right, down)
    one = 1.0 / sqrt(nx * nx + ny * ny + nz * nz)
    normal = (one * nx, one * ny, one * nz)
    one = 1.0 / sqrt(ahead[0] * ahead[0] + ahead[1] * ahead[1] + ahead[2] * ahead[2])
    view = (one * ahead[0], one * ahead[1], one * ahead[2])
    gloss, sharpness = mesh.finishes[f, GLOSS], mesh.finishes[f, SHARPNESS]
    if mesh.finishes[f, GRASSY] > 0.0:
        away = -(normal[0] * view[0] + normal[1] * view[1] + normal[2] * view[2])
        bare = lie_on_ground(faces, block.lie, name, right, down, distance)
        tint_grass(light, block, bare, view, 2.0 / light.focal * distance, away)
        gloss, sharpness = WET_GLOSS * light.wet * (1.0 - bare), WET_SHARPNESS
    else:
        for c in range(3):
            block.tint[c, OWN] = mesh.finishes[f, c]
    opening = open_sky(light.looks, light.ray_maps, at, normal)
    sunny = light_up(light, block.tint, opening, normal, view, gloss, sharpness, distance)
    return sunny, at, normal
