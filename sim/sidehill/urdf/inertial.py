"""The inertial element: mass, CG and principal moments of one link."""

from xml.etree import ElementTree as ET

import numpy as np
from scipy.optimize import linear_sum_assignment
from scipy.spatial.transform import Rotation

from sidehill.files.errors import InputError
from sidehill.urdf.number import text
from sidehill.urdf.piece import Array


def principal(inertia: Array) -> tuple[Array, Rotation]:
    """Principal moments (3,) [kg m^2] and the right-handed frame they hold in.

    Of the 24 frames of an inertia ellipsoid it is the one nearest to the link's own, so that
    its roll, pitch and yaw stay far from gimbal lock.
    """
    moments, axes = np.linalg.eigh(inertia)
    _, order = linear_sum_assignment(-np.abs(axes))
    moments, axes = moments[order], axes[:, order]
    axes = axes * np.where(np.diag(axes) < 0.0, -1.0, 1.0)
    if np.linalg.det(axes) < 0.0:
        axes[:, np.argmin(np.diag(axes))] *= -1.0
    return moments, Rotation.from_matrix(axes)


def inertial_element(link: str, mass: float, com: Array, inertia: Array) -> ET.Element:
    """The element of a link whose inertia (3, 3) [kg m^2] is about its CG, link axes.

    Products of inertia are written as exact zeros: the frame carries them.

    Raises:
        InputError: no real body has such a mass or inertia.
    """
    if not mass > 0.0:
        raise InputError(f"link '{link}' has a mass of {mass} kg; a moving link needs more than 0")
    moments, frame = principal(inertia)
    low, middle, high = np.sort(moments)
    if not low > 0.0 or high > (low + middle) * (1.0 + 1e-9):
        raise InputError(
            f"link '{link}' has principal moments {moments} kg m^2; each must be above 0 "
            "and none above the sum of the other two"
        )
    element = ET.Element("inertial")
    ET.SubElement(element, "origin", xyz=text(com), rpy=text(frame.as_euler("xyz")))
    ET.SubElement(element, "mass", value=text(mass))
    moment = {f"i{a}{a}": text(m) for a, m in zip("xyz", moments, strict=True)}
    ET.SubElement(element, "inertia", moment | {"ixy": "0.0", "ixz": "0.0", "iyz": "0.0"})
    return element
