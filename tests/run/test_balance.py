"""Balance and lift-off angle of a standing machine against its parts, added up by the test."""

from math import atan2, degrees, radians

import numpy as np
import pytest
from population import MACHINES, RATED
from scipy.spatial.transform import Rotation

from sidehill.case import Case
from sidehill.kernels.balance import about, rank
from sidehill.kernels.layout import Vector
from sidehill.machine.build import fit
from sidehill.machine.file import load_machine
from sidehill.machine.outfit import Outfit
from sidehill.run.record import Record, simulate
from sidehill.scenario.file import load_scenario

CLOSE = 0.4  # [deg]: the test's contacts are the wheels' lowest points, without bristle or section
UP = np.array([0.0, 0.0, 1.0])
FRONT = ("front_axle", "knuckle", "wheel_front")


def standing(name: str, slope: float, downhill: str) -> tuple[Record, Case]:
    scenario = load_scenario("bank-plain").with_values(
        {"ground.slope": radians(slope), "ground.downhill": downhill, "drive.speed": 0.0}
    )
    outfit = Outfit(bucket_load=f"{0.6 * RATED[name]} kg", rear_spacer="50 mm")
    case = Case(load_machine(name), scenario, outfit)
    return simulate(case, "compiled"), case


def turned_by(line: Vector, r: Vector, g: Vector) -> float:
    """[deg] the angle between r and the vertical plane through a line, in the line's own plane."""
    a = line / np.linalg.norm(line)
    r, g = r - (r @ a) * a, g - (g @ a) * a
    up, out = -g / np.linalg.norm(g), np.cross(a, -g) / np.linalg.norm(g)
    return degrees(atan2(r @ out, r @ up))


def test_turned_by_its_angle_a_mass_stands_over_the_line() -> None:
    """Any line, mass and gravity; to the left of a line as seen along it, it has to turn right."""
    rng = np.random.default_rng(4)
    for _ in range(300):
        p, q, c, g = rng.normal(size=(4, 3))
        sine, cosine = about(p, q, c, g)
        angle = -atan2(sine, cosine)
        along = (q - p) / np.linalg.norm(q - p)
        r = Rotation.from_rotvec(angle * along).apply(c - p)
        r, down = r - (r @ along) * along, g - (g @ along) * along
        assert r @ down == pytest.approx(-np.linalg.norm(r) * np.linalg.norm(down))
    ahead, down = np.array([2.0, 0.0, 0.0]), np.array([0.0, 0.0, -9.81])
    for side in (1.0, -1.0):
        sine, cosine = about(np.zeros(3), ahead, np.array([0.5, -side, 1.0]), down)
        assert degrees(atan2(sine, cosine)) == pytest.approx(45.0 * side)


def test_angles_are_in_the_order_of_their_ranks() -> None:
    angles = np.sort(np.random.default_rng(6).uniform(-np.pi, np.pi, 200))
    sizes = np.random.default_rng(7).uniform(0.1, 9.0, 200)
    ranks = [
        rank(s, c) for s, c in zip(sizes * np.sin(angles), sizes * np.cos(angles), strict=True)
    ]
    assert ranks == sorted(ranks)


@pytest.mark.parametrize("downhill", ["right", "left"])
@pytest.mark.parametrize("name", MACHINES)
def test_angles_are_those_of_the_parts(name: str, downhill: str) -> None:
    record, case = standing(name, 8.0, downhill)
    fitted = fit(case.machine, case.outfit, downhill)
    mass = {True: 0.0, False: 0.0}
    moment = {True: np.zeros(3), False: np.zeros(3)}
    for part in fitted.parts:
        on_axle = part.link.startswith(FRONT) or part.name.startswith("liquid_front")
        mass[on_axle] += part.mass
        moment[on_axle] += part.mass * part.cg
    turn = Rotation.from_quat(record.quaternion("chassis")[-1]).as_matrix()
    base = record.place("chassis")[-1]
    body = base + turn @ (moment[False] / mass[False])
    whole = base + turn @ ((moment[False] + moment[True]) / (mass[False] + mass[True]))
    side = 1.0 if downhill == "right" else -1.0
    gravity = np.array([0.0, -np.tan(radians(8.0)) * side, -1.0])
    low, high = ("right", "left") if downhill == "right" else ("left", "right")

    def foot(wheel: str) -> Vector:
        tyre = case.machine.front_tyre if "front" in wheel else case.machine.rear_tyre
        axle = Rotation.from_quat(record.quaternion(f"wheel_{wheel}")[-1]).as_matrix()[:, 1]
        down = -UP + (UP @ axle) * axle
        return record.place(f"wheel_{wheel}")[-1] + tyre.radius * down / np.linalg.norm(down)

    ring = [f"front_{low}", f"front_{high}", f"rear_{high}", f"rear_{low}"]
    edges = zip(ring, [*ring[1:], ring[0]], strict=True)
    balance = min(abs(turned_by(foot(b) - foot(a), whole - foot(a), gravity)) for a, b in edges)
    rear = foot(f"rear_{low}")
    pin = record.place("front_axle")[-1]
    lift = abs(turned_by(pin - rear, body - rear, gravity))
    assert record.columns["balance_angle_deg"][-1] == pytest.approx(balance, abs=CLOSE)
    assert record.columns["lift_off_angle_deg"][-1] == pytest.approx(lift, abs=CLOSE)


def test_angles_mirror_each_other() -> None:
    right, left = (standing("bramble", 11.0, side)[0].outcome for side in ("right", "left"))
    assert right.least_balance_angle_deg == pytest.approx(left.least_balance_angle_deg, abs=1e-6)
    assert right.least_lift_off_angle_deg == pytest.approx(left.least_lift_off_angle_deg, abs=1e-6)
