"""GIFs are as small as is asked for, last as long as they should, and give up words last."""

from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from sidehill.files.errors import InputError
from sidehill.film.encode import encoder
from sidehill.film.gif import LADDER

SIZE, FPS, COUNT = (320, 180), 10, 30


def noise(k: int) -> bytes:
    """A frame that hardly packs: grass in the wind."""
    low = np.random.default_rng(k).integers(60, 160, (SIZE[1], SIZE[0], 3), dtype=np.uint8)
    return low.tobytes()


def made(path: Path, most: int | None) -> Image.Image:
    with encoder(path, SIZE, FPS, {"title": "noise"}, most) as writer:
        for k in range(COUNT):
            writer.write(noise(k), 1)
        writer.write(noise(COUNT), 20)
    return Image.open(path)


def length(image: Image.Image) -> int:
    """[ms]"""
    total = 0
    for k in range(getattr(image, "n_frames", 1)):
        image.seek(k)
        total += image.info["duration"]
    return total


@pytest.mark.parametrize("share", [0.7, 0.4, 0.2])
def test_a_gif_keeps_under_its_size_and_lasts_as_long(tmp_path: Path, share: float) -> None:
    whole = made(tmp_path / "whole.gif", None)
    size = (tmp_path / "whole.gif").stat().st_size
    most = round(share * size)
    image = made(tmp_path / "small.gif", most)
    assert 0.1 * most < (tmp_path / "small.gif").stat().st_size <= most
    assert length(image) == length(whole) == 100 * (COUNT + 20)


def test_a_size_that_is_no_limit_changes_nothing(tmp_path: Path) -> None:
    made(tmp_path / "whole.gif", None)
    made(tmp_path / "same.gif", 100_000_000)
    assert (tmp_path / "whole.gif").read_bytes() == (tmp_path / "same.gif").read_bytes()


def test_a_size_that_cannot_be_kept_is_refused_and_leaves_no_file(tmp_path: Path) -> None:
    with pytest.raises(InputError, match=r"0\.01 MB"):
        made(tmp_path / "none.gif", 10_000)
    assert not (tmp_path / "none.gif").exists()


def test_each_rung_gives_up_more() -> None:
    costs = [rung.colours * rung.scale**2 / rung.every for rung in LADDER]
    assert costs == sorted(costs, reverse=True)
