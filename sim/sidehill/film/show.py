"""A whole film before it is drawn: panes, camera, clock, words."""

from collections.abc import Sequence
from dataclasses import dataclass, field
from math import radians

from PIL import Image

from sidehill.files.errors import InputError
from sidehill.files.units import show_slope
from sidehill.film.choose import choose
from sidehill.film.clock import AFTER, BEFORE, Moment, Pace, schedule, spread
from sidehill.film.grid import TITLE, pane_boxes, picture_box, strip_height, text_size
from sidehill.film.ink import SMALL, font
from sidehill.film.pane import Pane, build_pane, extent_of
from sidehill.film.recorded import Recorded
from sidehill.film.render.camera import VIEWS, Stand, stand_of
from sidehill.film.same import differences
from sidehill.film.words import Words

MOST = 4  # panes
LONGEST = 120  # characters of a caption
SMALLEST, LARGEST = (480, 270), (3840, 2160)  # [pixels]
SLOWEST = 20.0
RATES = (5, 60)  # frames a second


@dataclass(frozen=True)
class Show:
    """What every frame is drawn from."""

    panes: tuple[Pane, ...]
    stand: Stand
    moments: tuple[Moment, ...]
    size: tuple[int, int]  # [pixels]
    rows: int  # of a pane's title
    slow: float  # factor of slow motion
    caption: str  # below the picture; may be empty
    words: Words
    ended: dict[int, Image.Image] = field(default_factory=dict)  # last pictures, once drawn


def build_show(
    records: Sequence[Recorded], titles: Sequence[str], size: tuple[int, int], fps: int,
    camera: str, slow: float, caption: str | None, words: Words,
) -> Show:  # fmt: skip
    """Everything checked, and put together.

    Raises:
        InputError: what is wrong with the request or a record.
    """
    check(records, titles, size, fps, camera, slow)
    if caption is not None and len(caption) > LONGEST:
        raise InputError(f"a caption of {len(caption)} characters; allowed: up to {LONGEST}")
    panes = tuple(build_pane(r, title) for r, title in zip(records, titles, strict=True))
    drawn = [pane for pane in panes if pane.scene is not None]
    if not drawn:
        raise InputError("none of these runs got as far as driving, so there is nothing to film")
    caption = usual_caption(panes, words) if caption is None else caption
    differing = differences(records)
    if differing:
        fields = ", ".join(differing).replace(".", " ").replace("_", " ")
        said = words.say("differ", fields=fields)
        caption = "; ".join(filter(None, [caption, said]))
    rows = title_rows(panes, size, words)
    box = picture_box(pane_boxes(size, len(panes))[0], strip_height(size, len(panes), rows))
    extent = extent_of(drawn)
    name = choose(drawn, extent, box.width, box.height) if camera == "auto" else camera
    stand = stand_of(VIEWS[name], extent, box.width, box.height)
    return Show(panes, stand, moments(drawn, slow, fps), size, rows, slow, caption, words)


def usual_caption(panes: Sequence[Pane], words: Words) -> str:
    """What stands below a film given no caption: the slope, if it is one, and a caution."""
    slopes = {show_slope(pane.slope) for pane in panes}
    if len(slopes) > 1 or any(pane.table is not None for pane in panes):
        return words.say("caption_any")
    return words.say("caption", slope=slopes.pop())


def title_rows(panes: Sequence[Pane], size: tuple[int, int], words: Words) -> int:
    """2 if any pane's name leaves no room for its slope beside it, so that all look alike."""
    text = text_size(size, len(panes), TITLE)
    slope = words.say("slope", slope=show_slope(radians(30.0)))
    beside = font(round(SMALL * text)).getlength(slope) + 2 * text
    room = pane_boxes(size, len(panes))[0].width - beside
    longest = max(font(round(SMALL * text), bold=True).getlength(pane.title) for pane in panes)
    return 1 if longest <= room else 2


def moments(panes: Sequence[Pane], slow: float, fps: int) -> tuple[Moment, ...]:
    """The clock of a film of these panes."""
    spans = []
    for pane in panes:
        if pane.daylight is not None:
            spans.append((pane.daylight.since - BEFORE, pane.daylight.time + AFTER))
        if pane.over is not None:
            spans.append((pane.over[0] - BEFORE, pane.over[1] + BEFORE))
    tables = any(pane.table is not None for pane in panes)
    first = min((start for start, _ in spans), default=0.0)
    freezes = spread(pane.daylight.time for pane in panes if pane.daylight is not None)
    pace = Pace(slow, first if tables else 0.0, tuple(spans))
    return schedule(max(pane.end for pane in panes), freezes, pace, fps)


def check(
    records: Sequence[Recorded], titles: Sequence[str], size: tuple[int, int], fps: int,
    camera: str, slow: float,
) -> None:  # fmt: skip
    """Refuse what cannot be filmed.

    Raises:
        InputError: which argument, its value, what is allowed.
    """
    if not 1 <= len(records) <= MOST:
        raise InputError(f"{len(records)} records; a film shows 1 to {MOST} side by side")
    if len(titles) != len(records):
        raise InputError(f"{len(titles)} titles for {len(records)} records; give one for each")
    width, height = size
    (least_w, least_h), (most_w, most_h) = SMALLEST, LARGEST
    if not (least_w <= width <= most_w and least_h <= height <= most_h) or width % 2 or height % 2:
        raise InputError(
            f"size {width}x{height}; allowed: even numbers from {least_w}x{least_h} to "
            f"{most_w}x{most_h}, as 1280x720"
        )
    if not RATES[0] <= fps <= RATES[1] or fps != int(fps):
        raise InputError(f"{fps} frames a second; allowed: whole numbers, {RATES[0]} to {RATES[1]}")
    if camera != "auto" and camera not in VIEWS:
        raise InputError(f'camera "{camera}"; allowed: auto, {", ".join(VIEWS)}')
    if not 1.0 <= slow <= SLOWEST:
        raise InputError(f"slow motion {slow:g}; allowed: 1 (none) to {SLOWEST:g}")
