"""Packed RGB to the planes that films are encoded from: Y'CbCr 4:2:0, ITU-R BT.709, studio range.

Luma 0.2126 R + 0.7152 G + 0.0722 B; chroma over 1.8556 and 1.5748; 219 and 224 steps. The
weights are whole numbers over 65536: the same bytes anywhere.
"""

import numpy as np
from numpy.typing import NDArray

from sidehill.film.render.compile import kernel

Pixels = NDArray[np.uint8]

HALF, OFFSET = 1 << 15, 16 << 16  # rounding, and the darkest luma
LUMA = (11966, 40254, 4064)  # 65536 * 219 / 255 of red, green, blue
BLUE = (-6596, -22189, 28784)  # 65536 * 224 / 255, likewise; each sums to 0 or less
RED = (28784, -26145, -2639)


@kernel
def weighed(weights: tuple[int, int, int], red: int, green: int, blue: int) -> int:
    """Sum of three channels, each times its weight."""
    return weights[0] * red + weights[1] * green + weights[2] * blue


@kernel
def fill_planes(rgb: Pixels, luma: Pixels, blue: Pixels, red: Pixels) -> None:
    """From rgb (h, w, 3), both even: luma (h, w); blue and red (h / 2, w / 2), over four pixels."""
    for i in range(blue.shape[0]):
        for j in range(blue.shape[1]):
            r = g = b = 0
            for y in range(2 * i, 2 * i + 2):
                for x in range(2 * j, 2 * j + 2):
                    p, q, s = int(rgb[y, x, 0]), int(rgb[y, x, 1]), int(rgb[y, x, 2])
                    luma[y, x] = (weighed(LUMA, p, q, s) + OFFSET + HALF) >> 16
                    r, g, b = r + p, g + q, b + s
            blue[i, j] = (weighed(BLUE, r, g, b) + (128 << 18) + (1 << 17)) >> 18
            red[i, j] = (weighed(RED, r, g, b) + (128 << 18) + (1 << 17)) >> 18


def planes(rgb: Pixels) -> bytes:
    """All three planes of a picture (h, w, 3), one after the other."""
    height, width = rgb.shape[:2]
    half = height // 2, width // 2
    luma = np.empty((height, width), np.uint8)
    blue, red = np.empty(half, np.uint8), np.empty(half, np.uint8)
    fill_planes(rgb, luma, blue, red)
    return luma.tobytes() + blue.tobytes() + red.tobytes()
