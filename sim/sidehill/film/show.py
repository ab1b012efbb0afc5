"""A whole film before it is drawn: panes, camera, clock, words."""

from collections.abc import Sequence
from dataclasses import dataclass, field
from math import radians

from PIL import Image

from sidehill.files.errors import InputError
from sidehill.files.units import show_slope
from sidehill.film.bar import caption_room, fitted_lines
from sidehill.film.card import caution_card, laid_out, opening_card, outcome_card
from sidehill.film.choose import choose
from sidehill.film.clock import AFTER, BEFORE, Moment, Pace, Tempo, opened, schedule, spread
from sidehill.film.fitted import Mark, marks
from sidehill.film.gauge import goes_left
from sidehill.film.grid import TITLE, Size, pane_boxes, picture_box, strip_height, text_size
from sidehill.film.ink import SMALL, font, is_cut
from sidehill.film.overlay import title_room
from sidehill.film.pane import Pane, build_pane, extent_of
from sidehill.film.quiet import quiet
from sidehill.film.recorded import Recorded
from sidehill.film.render.camera import VIEWS, Stand, stand_of
from sidehill.film.same import differences
from sidehill.film.words import Words

MOST = 4  # panes
LONGEST = 120  # characters of a caption
SMALLEST, LARGEST = (480, 270), (3840, 2160)  # [pixels]
MOST_CHANGED = 20.0  # times slower or quicker than real
RATES = (5, 60)  # frames a second

Span = tuple[float, float]


@dataclass(frozen=True)
class Show:
    """What every frame is drawn from."""

    panes: tuple[Pane, ...]
    stand: Stand
    moments: tuple[Moment, ...]
    size: Size
    rows: int  # of a pane's title
    tempo: Tempo
    caption: str  # below the picture
    words: Words
    gauge_left: tuple[bool, ...]  # of each pane, once its machine is over
    marks: tuple[tuple[Mark, ...], ...]  # of each pane, what is different about its machine
    mark: Image.Image | None = None  # of whoever shows it, for the cards
    ended: dict[int, Image.Image] = field(default_factory=dict)  # last pictures, once drawn


def build_show(
    records: Sequence[Recorded], titles: Sequence[str], size: Size, fps: int,
    camera: str, tempo: Tempo, caption: str | None, words: Words,
    mark: Image.Image | None = None,
) -> Show:  # fmt: skip
    """Everything checked, and put together.

    Raises:
        InputError: what is wrong with the request or a record.
    """
    check(records, titles, size, fps, camera, tempo)
    panes = tuple(build_pane(r, title) for r, title in zip(records, titles, strict=True))
    drawn = [pane for pane in panes if pane.scene is not None]
    if not drawn:
        raise InputError("none of these runs got as far as driving, so there is nothing to film")
    said = caption_of(panes, caption, differences(records), words)
    rows = title_rows(panes, size, words)
    check_room(panes, size, rows, said, tempo, words, mark)
    boxes = [picture_box(b, strip_height(size, len(panes), rows))
             for b in pane_boxes(size, len(panes))]  # fmt: skip
    width, height, extent = boxes[0].width, boxes[0].height, extent_of(drawn)
    name = choose(drawn, extent, width, height) if camera == "auto" else camera
    stand = stand_of(VIEWS[name], extent, width, height)
    own = marks(records, panes, words)
    played = opened(moments(drawn, tempo, fps), fps, card=mark is not None, differ=any(own))
    return Show(
        panes, stand, played, size, rows, tempo, said, words,
        tuple(goes_left(size, box, pane, stand) for pane, box in zip(panes, boxes, strict=True)),
        own, mark,
    )  # fmt: skip


def caption_of(
    panes: Sequence[Pane], own: str | None, differing: Sequence[str], words: Words
) -> str:
    """What stands below a film: words of its own, the slope if it is one, a caution, and in what
    the panes differ.

    Raises:
        InputError: words of its own that are too long.
    """
    if own is not None and len(own) > LONGEST:
        raise InputError(f"a caption of {len(own)} characters; allowed: up to {LONGEST}")
    slopes = {show_slope(pane.slope) for pane in panes}
    one = len(slopes) == 1 and all(pane.table is None for pane in panes)
    usual = words.say("caption", slope=slopes.pop()) if one else words.say("caption_any")
    fields = ", ".join(differing).replace(".", " ").replace("_", " ")
    return "; ".join(filter(None, [own, usual, fields and words.say("differ", fields=fields)]))


def title_rows(panes: Sequence[Pane], size: Size, words: Words) -> int:
    """2 if any pane's name leaves no room for its slope beside it, so that all look alike."""
    text, width = text_size(size, len(panes), TITLE), pane_boxes(size, len(panes))[0].width
    room = title_room(width, widest_slope(words), text, 1)
    longest = max(font(round(SMALL * text), bold=True).getlength(pane.title) for pane in panes)
    return 1 if longest <= room else 2


def widest_slope(words: Words) -> str:
    """A slope that takes as much room as any."""
    return words.say("slope", slope=show_slope(radians(30.0)))


def check_room(
    panes: Sequence[Pane], size: Size, rows: int, caption: str, tempo: Tempo, words: Words,
    mark: Image.Image | None,
) -> None:  # fmt: skip
    """Refuse words that do not fit: nothing is cut off in silence.

    Raises:
        InputError: what does not fit, and what to do.
    """
    frame, width = f"size {size[0]}x{size[1]}", pane_boxes(size, len(panes))[0].width
    text = text_size(size, len(panes), TITLE)
    for pane in panes:
        if is_cut(pane.title, text, title_room(width, widest_slope(words), text, rows), bold=True):
            raise InputError(
                f'{frame}: the title "{pane.title}" does not fit over its pane; '
                "take a larger size, fewer panes, or a shorter title"
            )
    if not fitted_lines(caption, caption_room(size, tempo, words), size)[1]:
        raise InputError(
            f'{frame}: the caption "{caption}" does not fit; take a larger size or fewer words'
        )
    cards = [outcome_card(panes, caption, words), caution_card(panes, words)]
    for card in [opening_card(panes, caption), *cards] if mark else cards:
        laid_out(card, size, mark)


def moments(panes: Sequence[Pane], tempo: Tempo, fps: int) -> tuple[Moment, ...]:
    """The clock of a film of these panes."""
    spans = []
    for pane in panes:
        if pane.daylight is not None:
            spans.append((pane.daylight.since - BEFORE, pane.daylight.time + AFTER))
        if pane.over is not None:
            spans.append((pane.over[0] - BEFORE, pane.over[1] + BEFORE))
    end = max(pane.end for pane in panes)
    freezes = spread(pane.daylight.time for pane in panes if pane.daylight is not None)
    return schedule(end, freezes, Pace(tempo, _quick(panes, spans, end), tuple(spans)), fps)


def _quick(panes: Sequence[Pane], spans: Sequence[Span], end: float) -> tuple[Span, ...]:
    """[s] that run quickly: of a tilt table all before the first event, else what is quiet."""
    if any(pane.table is not None for pane in panes):
        return ((0.0, min((start for start, _ in spans), default=0.0)),)
    return quiet(panes, end)


def check(
    records: Sequence[Recorded], titles: Sequence[str], size: Size, fps: int,
    camera: str, tempo: Tempo,
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
    long, short = max(size), min(size)
    if not (least_w <= long <= most_w and least_h <= short <= most_h) or width % 2 or height % 2:
        raise InputError(
            f"size {width}x{height}; allowed: even numbers from {least_w}x{least_h} to "
            f"{most_w}x{most_h}, as 1280x720, or upright, as 720x1280"
        )
    if not RATES[0] <= fps <= RATES[1] or fps != int(fps):
        raise InputError(f"{fps} frames a second; allowed: whole numbers, {RATES[0]} to {RATES[1]}")
    if camera != "auto" and camera not in VIEWS:
        raise InputError(f'camera "{camera}"; allowed: auto, {", ".join(VIEWS)}')
    for what, factor in (("slow motion", tempo.slow), ("quick stretches", tempo.quick)):
        if not 1.0 <= factor <= MOST_CHANGED:
            raise InputError(f"{what} {factor:g}; allowed: 1 (none) to {MOST_CHANGED:g}")
