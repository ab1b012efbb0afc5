"""Where things go on wide and upright frames, and words that do not fit: refused, never cut."""

from itertools import combinations
from pathlib import Path

import numpy as np
import pytest
from film.posed import case_of, posed
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image

from sidehill.files.errors import InputError
from sidehill.film.clock import Moment, Tempo
from sidehill.film.frame import draw_frame
from sidehill.film.grid import Box, bar_box, pane_boxes, text_size
from sidehill.film.mark import read_mark
from sidehill.film.show import Show, build_show
from sidehill.film.words import built_in

SIDES = st.integers(135, 1080).map(lambda half: 2 * half)
UPRIGHT, WIDE = (720, 1280), (1280, 720)
LEGIBLE = 1 / 40  # height of the smallest line of a card over the frame's shorter side


def overlap(a: Box, b: Box) -> bool:
    return (
        a.x < b.x + b.width
        and b.x < a.x + a.width
        and a.y < b.y + b.height
        and b.y < a.y + a.height
    )


@given(SIDES, SIDES, st.integers(1, 4))
def test_panes_and_bar_are_inside_and_apart(width: int, height: int, count: int) -> None:
    boxes = [*pane_boxes((width, height), count), bar_box((width, height))]
    assert not any(overlap(a, b) for a, b in combinations(boxes, 2))
    for box in boxes:
        assert box.x >= 0 and box.y >= 0 and box.width % 2 == 0
        assert box.x + box.width <= width and box.y + box.height <= height


@pytest.mark.parametrize("count", [2, 3])
def test_an_upright_frame_stacks_its_panes(count: int) -> None:
    boxes = pane_boxes(UPRIGHT, count)
    assert len({box.x for box in boxes}) == 1 and len({box.y for box in boxes}) == count
    beside = pane_boxes(WIDE, count)
    assert len({box.y for box in beside}) == 1


def test_words_are_as_large_upright_as_wide() -> None:
    assert text_size(UPRIGHT, 2, 32.0) == text_size(WIDE, 2, 32.0)


def show_of(
    size: tuple[int, int], count: int = 2, title: str = "as delivered", caption: str | None = None,
    mark: Path | None = None,
) -> Show:  # fmt: skip
    records = [posed(case_of("bramble", "bank-stone"), [0.0] * 4) for _ in range(count)]
    return build_show(
        records, [title] * count, size, 10, "low", Tempo(), caption, built_in(), read_mark(mark)
    )


@pytest.mark.parametrize(
    ("size", "count", "title", "caption", "told"),
    [
        ((480, 270), 2, "bucket high, spacers of 76 mm on each side, half filled", None, "title"),
        ((270, 480), 2, "a", "words " * 19, "caption"),
        ((480, 270), 4, "bucket high, wider", "WORDS " * 19, "caption"),
    ],
)
def test_what_does_not_fit_is_refused(
    size: tuple[int, int], count: int, title: str, caption: str | None, told: str
) -> None:
    with pytest.raises(InputError, match=f"size {size[0]}x{size[1]}") as error:
        show_of(size, count, title, caption)
    assert told in str(error.value)


FRAMES = [(size, n) for size in (WIDE, UPRIGHT, (480, 270), (270, 480)) for n in (1, 2, 4)]
FRAMES += [((720, 720), 1), ((720, 720), 2)]  # the cards of four are refused there


@pytest.mark.parametrize(("size", "count"), FRAMES)
def test_every_usual_frame_has_room(size: tuple[int, int], count: int) -> None:
    show = show_of(size, count)
    assert draw_frame(show, show.moments[0]).size == size


def letters(image: Image.Image) -> list[int]:
    """[pixels] heights of the lines of bright text on a card, top to bottom."""
    bright = (np.asarray(image.convert("L")) > 150).any(axis=1)
    edges = np.flatnonzero(np.diff(np.concatenate([[False], bright, [False]]).astype(int)))
    return [int(end - start) for start, end in edges.reshape(-1, 2)]


@pytest.mark.parametrize("size", [WIDE, UPRIGHT])
@pytest.mark.parametrize("stage", ["card", "caution"])
def test_cards_are_large_and_nothing_runs_over_the_edge(size: tuple[int, int], stage: str) -> None:
    """Legible from the back of a room: letters of a fortieth of the picture and more."""
    show = show_of(size)
    image = draw_frame(show, Moment(0.03, 0.0, stage))  # type: ignore[arg-type]
    heights = letters(image)
    assert len(heights) >= 4
    assert np.median(heights) > LEGIBLE * min(size)
    edge = np.asarray(image.convert("L"))[:, -20:]
    assert edge.max() < 150


def test_a_mark_is_on_the_cards_and_on_no_other_frame(tmp_path: Path) -> None:
    pink = (255, 0, 255)
    Image.new("RGBA", (300, 100), (*pink, 255)).save(tmp_path / "mark.png")
    show = show_of(WIDE, mark=tmp_path / "mark.png")
    assert show.moments[0].stage == "opening"
    by_stage = {moment.stage: moment for moment in show.moments}
    has = {
        stage: bool((np.asarray(draw_frame(show, moment)) == pink).all(axis=2).sum() > 5000)
        for stage, moment in by_stage.items()
    }
    assert has == {"opening": True, "run": False, "hold": False, "card": True, "caution": True}
    assert show_of(WIDE).moments[0].stage == "run"


@pytest.mark.parametrize("name", ["none.png", "text.png", "mark.gif", "tiny.png"])
def test_a_mark_that_is_none_is_refused(tmp_path: Path, name: str) -> None:
    (tmp_path / "text.png").write_text("not a picture")
    Image.new("RGB", (4, 4)).save(tmp_path / "tiny.png")
    Image.new("RGB", (40, 40)).save(tmp_path / "mark.gif")
    with pytest.raises(InputError, match=name):
        read_mark(tmp_path / name)
