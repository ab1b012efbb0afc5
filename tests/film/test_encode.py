"""The planes that are handed to the encoder, and what comes back out of the file."""

from pathlib import Path

import imageio_ffmpeg
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import Image

from sidehill.film.encode import Mp4, encoder
from sidehill.film.render.planes import planes

KR, KB = 0.2126, 0.0722  # ITU-R BT.709-6, item 3.2


def by_the_book(red: float, green: float, blue: float) -> tuple[float, float, float]:
    """Luma and chroma of a colour from 0 to 1, quantised as BT.709-6 item 3.4 says, 8 bit."""
    luma = KR * red + (1.0 - KR - KB) * green + KB * blue
    return (
        219.0 * luma + 16.0,
        224.0 * (blue - luma) / 1.8556 + 128.0,
        224.0 * (red - luma) / 1.5748 + 128.0,
    )


@given(st.tuples(*[st.integers(0, 255)] * 3))
@settings(deadline=None)  # the first call compiles
def test_a_colour_is_where_the_standard_puts_it(colour: tuple[int, int, int]) -> None:
    made = planes(np.full((4, 6, 3), colour, np.uint8))
    assert len(made) == 4 * 6 * 3 // 2
    got = made[0], made[4 * 6], made[4 * 6 + 2 * 3]
    assert got == pytest.approx(by_the_book(*(c / 255.0 for c in colour)), abs=0.51)


def test_chroma_is_the_mean_of_four_pixels() -> None:
    rgb = np.random.default_rng(3).integers(0, 256, (8, 10, 3), dtype=np.uint8)
    made = np.frombuffer(planes(rgb), np.uint8)
    mean = rgb.reshape(4, 2, 5, 2, 3).mean(axis=(1, 3)) / 255.0
    for k, start in ((1, 80), (2, 100)):
        wanted = np.apply_along_axis(lambda c, k=k: by_the_book(*c)[k], 2, mean)
        assert np.abs(made[start : start + 20].reshape(4, 5) - wanted).max() < 0.51


def test_a_film_comes_back_in_the_colours_it_was_drawn_in(tmp_path: Path) -> None:
    """Decoded by what the file says of itself; a matrix mixed up moves a plum by 10 and more."""
    size, colours = (320, 180), [(58, 30, 52), (255, 128, 48), (104, 196, 170), (96, 140, 60)]
    image = Image.new("RGB", size)
    for k, colour in enumerate(colours):
        image.paste(colour, (80 * k, 0, 80 * k + 80, 180))
    path = tmp_path / "a.mp4"
    with encoder(path, size, 10, {}) as writer:
        writer.write(Mp4.pack(image), 5)
    frames = imageio_ffmpeg.read_frames(str(path))
    next(frames)
    back = np.frombuffer(next(frames), np.uint8).reshape(180, 320, 3)
    for k, colour in enumerate(colours):
        middle = back[60:120, 80 * k + 30 : 80 * k + 50].reshape(-1, 3).mean(axis=0)
        assert np.abs(middle - colour).max() < 4.0
