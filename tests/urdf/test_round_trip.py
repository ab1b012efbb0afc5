"""Masses, CGs and inertias survive the URDF: read back by three independent programs."""

from pathlib import Path

import numpy as np
import pytest
from scipy.spatial.transform import Rotation
from urdf.engines import ENGINES, Bullet, base_change, mujoco_mass_matrix

from sidehill.machine.fitted import Fitted
from sidehill.machine.inertia import compose
from sidehill.machine.linkage import build_linkage
from sidehill.urdf import generate

MASS, PLACE = 1e-6, 1e-6  # [kg], [m]
RELATIVE = 1e-9  # of two engines' mass matrices; each rounds at 1e-15


@pytest.mark.parametrize("engine", ENGINES)
@pytest.mark.parametrize("moving_loader", [False, True])
def test_mass_and_cg(fitted: Fitted, engine: str, moving_loader: bool, tmp_path: Path) -> None:
    """A moving loader starts level, so there only the mass is the fitted one's."""
    text = generate(fitted, build_linkage(fitted, moving_loader), visuals=False)
    lump = ENGINES[engine](text, tmp_path)
    assert lump.mass == pytest.approx(fitted.mass, abs=MASS)
    if not moving_loader:
        np.testing.assert_allclose(lump.cg, fitted.cg, rtol=0.0, atol=PLACE)


def test_composite_inertia(fitted: Fitted) -> None:
    """MuJoCo's inertia of the whole machine is that of the parts, moved to the chassis origin."""
    text = generate(fitted, build_linkage(fitted), visuals=False)
    mass, cg, inertia = compose(fitted.parts)
    about_origin = inertia + mass * (cg @ cg * np.eye(3) - np.outer(cg, cg))
    base = mujoco_mass_matrix(text, {})[:6, :6]
    np.testing.assert_allclose(base[3:, 3:], about_origin, rtol=0.0, atol=1e-9 * mass)


@pytest.mark.parametrize("moving_loader", [False, True])
@pytest.mark.parametrize("seed", [1, 2])
def test_engines_agree_in_any_pose(
    fitted: Fitted, moving_loader: bool, seed: int, tmp_path: Path
) -> None:
    text = generate(fitted, build_linkage(fitted, moving_loader), visuals=False)
    rng = np.random.default_rng(seed)
    with Bullet(text, tmp_path) as bullet:
        angles = {name: float(rng.uniform(-0.4, 0.4)) for name in bullet.moving()}
        theirs = bullet.mass_matrix(angles)
        cg, frame = bullet.dynamics(-1)[3:5]
    change = base_change(np.array(cg), Rotation.from_quat(frame), len(angles))
    ours = change.T @ mujoco_mass_matrix(text, angles) @ change
    assert len(angles) == (9 if moving_loader and fitted.machine.loader else 7)
    np.testing.assert_allclose(theirs, ours, rtol=0.0, atol=RELATIVE * np.abs(ours).max())


def test_driving_shows_no_contact_shapes(fitted: Fitted, tmp_path: Path) -> None:
    """PyBullet finds nothing to collide unless the fall's shapes are asked for."""
    counts = {}
    for fall in (False, True):
        text = generate(fitted, build_linkage(fitted), collisions=fall, visuals=False)
        counts[fall] = text.count("<collision")
        assert ENGINES["pybullet"](text, tmp_path).mass == pytest.approx(fitted.mass, abs=MASS)
    assert counts[False] == 0
    assert counts[True] >= 4 + 2
