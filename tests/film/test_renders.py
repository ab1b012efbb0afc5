"""The pictures of the README: there, whitelisted, small."""

from pathlib import Path

import pytest
from PIL import Image

RENDERS = Path(__file__).parents[2] / "renders"
MOST = 3_000_000  # [bytes] together


def pictures() -> list[Path]:
    kept = (RENDERS / ".gitignore").read_text(encoding="utf-8").split()
    names = [line.removeprefix("!") for line in kept if line.startswith("!readme")]
    return [RENDERS / name for name in names]


@pytest.mark.parametrize("path", pictures(), ids=lambda path: path.name)
def test_a_kept_picture_can_be_opened(path: Path) -> None:
    with Image.open(path) as image:
        assert image.width >= 480


def test_they_are_small_together() -> None:
    assert {"readme-film.gif", "readme-strips.png"} <= {path.name for path in pictures()}
    assert sum(path.stat().st_size for path in pictures()) < MOST
