"""Half a machine in the roll plane, driven over an obstacle: in plain numpy, with any tyre.

Rear axle and body as one rigid body on two tyres; the uphill one meets the obstacle, the downhill
one runs on even ground. It heaves and rolls; the wheels do not slip sideways. What a tyre pushes
with is looked up in a table over the hub's place, so that laws of any cost can be driven.
"""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from tyre.belt import Profile, Push

from sidehill.kernels.layout import Vector

GRAVITY = 9.81
STEP = 5e-4  # [s]
ALONG, DEEP = 0.01, 0.005  # [m] spacing of a table
DEEPEST = 0.09  # [m] that a table goes
SPELL = 0.05  # [s] shorter ones are not counted

Law = Callable[[float, float], Push | None]  # at the hub's place [m]


@dataclass(frozen=True)
class Half:
    """Masses and sizes, SI; a compact tractor's rear half."""

    mass: float = 700.0
    inertia: float = 200.0  # [kg m^2] roll, about the CG
    height: float = 0.68  # of the CG
    track: float = 1.0
    radius: float = 0.49
    stiffness: float = 220e3
    damping: float = 2.0 * 0.05 * (220e3 * 350.0) ** 0.5


@dataclass(frozen=True)
class Table:
    """Depth and direction of a law's push, over the hub's place."""

    start: float  # [m] first place along the path
    hull: Vector  # (n,) [m] height of the hub where the rim just touches
    depth: Vector  # (n, m) [m] of an equal push on flat ground, by how far the hub is below that
    ahead: Vector  # (n, m) of the push's unit vector

    def at(self, x: float, z: float) -> tuple[float, float, float]:
        """Depth [m], ahead and daylight [m] (negative: none)."""
        share = (x - self.start) / ALONG
        i = int(np.clip(share, 0, len(self.hull) - 2))
        a = min(max(share - i, 0.0), 1.0)
        gap = z - ((1.0 - a) * self.hull[i] + a * self.hull[i + 1])
        if gap >= 0.0:
            return 0.0, 0.0, gap
        down = -gap / DEEP
        j = min(int(down), self.depth.shape[1] - 2)
        b = down - j
        near = (1.0 - a) * (1.0 - b), (1.0 - a) * b, a * (1.0 - b), a * b
        cells = ((i, j), (i, j + 1), (i + 1, j), (i + 1, j + 1))
        depth = sum(w * self.depth[c] for w, c in zip(near, cells, strict=True))
        ahead = sum(w * self.ahead[c] for w, c in zip(near, cells, strict=True))
        return float(depth), float(ahead), gap


def tabulate(law: Law, ground: Profile, radius: float, reach: float) -> Table:
    """A law's table from `reach` [m] before the obstacle to as far past it."""
    places = np.arange(-reach, reach + ALONG, ALONG)
    rim = np.linspace(-0.9999, 0.9999, 8001) * radius
    hull = np.array([(ground(x + rim) + np.sqrt(radius**2 - rim**2)).max() for x in places])
    deep = np.arange(0.0, DEEPEST, DEEP)
    depth, ahead = np.zeros((len(places), len(deep))), np.zeros((len(places), len(deep)))
    for i, x in enumerate(places):
        for j, sink in enumerate(deep):
            push = law(x, hull[i] - sink)
            if push is not None:
                depth[i, j], ahead[i, j] = push.depth, push.ahead
        ahead[i, 0] = ahead[i, 1]
    return Table(float(places[0]), hull, depth, ahead)


@dataclass(frozen=True)
class Crossing:
    """What came of it."""

    roll: float  # [deg] peak, downhill
    spell: float  # [s] longest with the uphill wheel in the air, spells under 50 ms aside
    daylight: float  # [m] most under it
    went_over: bool


def cross(half: Half, table: Table, slope: float, speed: float) -> Crossing:
    """Drive it over, on a side slope [rad] at a held speed [m/s]."""
    m, h, arm = half.mass, half.height, 0.5 * half.track
    whole = half.inertia + m * h * h
    g_down, g_in = GRAVITY * np.sin(slope), GRAVITY * np.cos(slope)
    lean = m * g_down * h / (2.0 * half.stiffness * arm * arm - m * g_in * h)
    heave = half.radius - m * g_in / (2.0 * half.stiffness)
    rise = turn = 0.0
    peak = spell = longest = daylight = 0.0
    start = lean
    for k in range(int((1.2 - table.start) / (speed * STEP))):
        x = table.start + speed * STEP * k
        up, down = heave + arm * lean, heave - arm * lean
        depth, ahead, gap = table.at(x, up)
        upright = np.sqrt(1.0 - ahead * ahead)
        away = ahead * speed + upright * (rise + arm * turn)
        push_up = max(0.0, half.stiffness * depth - half.damping * away) * (depth > 0.0)
        low = half.radius - down
        push_down = max(0.0, half.stiffness * low - half.damping * (rise - arm * turn)) * (low > 0)
        lift = push_up * upright
        rise += STEP * ((lift + push_down) / m - g_in)
        turn += STEP * (m * h * (g_down + g_in * lean) + (lift - push_down) * arm) / whole
        heave, lean = heave + STEP * rise, lean + STEP * turn
        peak, daylight = max(peak, lean - start), max(daylight, gap)
        spell = spell + STEP if push_up == 0.0 else 0.0
        longest = max(longest, spell)
        if lean > np.radians(60.0):
            return Crossing(60.0, longest, daylight, True)
    return Crossing(float(np.degrees(peak)), longest if longest >= SPELL else 0.0, daylight, False)
