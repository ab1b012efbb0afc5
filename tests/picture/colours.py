"""How light a colour looks, to most people and to those who lack the middle cones."""

import numpy as np
from matplotlib.colors import to_rgb
from numpy.typing import NDArray

# Machado, Oliveira and Fernandes 2009 (IEEE TVCG 15(6)), deuteranopia, severity 1.0, on linear
# RGB: values from memory
DEUTERANOPIA = np.array(
    [
        [0.367322, 0.860646, -0.227968],
        [0.280085, 0.672501, 0.047413],
        [-0.011820, 0.042940, 0.968881],
    ]
)
LUMINANCE = np.array([0.2126, 0.7152, 0.0722])  # ITU-R BT.709, linear light


def linear(colour: str) -> NDArray[np.float64]:
    """(3,) linear light of an sRGB colour (IEC 61966-2-1)."""
    value = np.array(to_rgb(colour))
    return np.where(value <= 0.04045, value / 12.92, ((value + 0.055) / 1.055) ** 2.4)


def lightness(colour: str, *, deuteranopia: bool = False) -> float:
    """CIE 1976 L*, 0 black to 100 white."""
    seen = linear(colour)
    if deuteranopia:
        seen = np.clip(DEUTERANOPIA @ seen, 0.0, 1.0)
    y = float(LUMINANCE @ seen)
    return 116.0 * y ** (1 / 3) - 16.0 if y > 0.008856 else 903.3 * y
