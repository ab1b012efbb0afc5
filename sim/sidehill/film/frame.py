"""One frame of a film, whole: panes, overlays, bar."""

from PIL import Image, ImageDraw

from sidehill.film import overlay
from sidehill.film.bar import write_bar
from sidehill.film.card import Card, caution_card, draw_card, opening_card, outcome_card
from sidehill.film.clock import Moment
from sidehill.film.grid import (
    DIFFERS,
    STATUS,
    Box,
    pane_boxes,
    picture_box,
    scaled,
    strip_height,
    text_size,
)
from sidehill.film.ink import DUSK, UNKNOWN, fitted, font
from sidehill.film.loupe import show_daylight
from sidehill.film.pane import Pane, camera_at
from sidehill.film.pointing import point_out
from sidehill.film.render.camera import Camera
from sidehill.film.render.draw import picture
from sidehill.film.show import Show
from sidehill.film.speech import status
from sidehill.film.words import Words


def draw_frame(show: Show, moment: Moment) -> Image.Image:
    """The frame of a moment."""
    image, count = Image.new("RGB", show.size, DUSK), len(show.panes)
    high = strip_height(show.size, count, show.rows)
    panes = list(zip(show.panes, pane_boxes(show.size, count), strict=True))
    for k, (pane, box) in enumerate(panes):
        if pane.scene is not None:
            draw_scene(image, picture_box(box, high), k, moment, show)
        else:
            draw_absent(image, picture_box(box, high), show.words)
    card = card_of(moment, show)
    if card is not None:
        return draw_card(image, card, show.mark)
    for k, (pane, box) in enumerate(panes):
        write_over(image, picture_box(box, high), k, moment, show)
        strip = Box(box.x, box.y, box.width, high)
        overlay.write_title(image, strip, pane, moment.time, count, show.words)
    write_bar(image, moment, show.caption, show.tempo, show.words)
    return image


def card_of(moment: Moment, show: Show) -> Card | None:
    """The card that stands over a moment, if one does."""
    if moment.stage == "opening":
        return opening_card(show.panes, show.caption)
    if moment.stage == "card":
        return outcome_card(show.panes, show.caption, show.words)
    return caution_card(show.panes, show.words) if moment.stage == "caution" else None


def camera_now(pane: Pane, moment: Moment, show: Show) -> Camera:
    """Where a pane is seen from; its last picture holds."""
    return camera_at(pane, min(moment.time, pane.end), show.stand)


def draw_scene(image: Image.Image, box: Box, k: int, moment: Moment, show: Show) -> None:
    """The machine of a pane on its bank; of a run that has ended, as it was drawn before."""
    if k in show.ended and moment.time >= show.panes[k].end:
        seen = show.ended[k]
    else:
        seen = picture_of(show.panes[k], box, moment, show)
    if moment.time >= show.panes[k].end:
        show.ended[k] = seen
    image.paste(seen, (box.x, box.y))


def picture_of(pane: Pane, box: Box, moment: Moment, show: Show) -> Image.Image:
    """What a pane's camera sees."""
    assert pane.scene is not None
    camera, time = camera_now(pane, moment, show), min(moment.time, pane.end)
    return Image.fromarray(picture(pane.scene, time, camera, box.width, box.height))


def draw_absent(image: Image.Image, box: Box, words: Words) -> None:
    """A run that got nowhere: not drawn as anything that went well."""
    size = scaled(image.size, STATUS)
    draw = ImageDraw.Draw(image)
    draw.rectangle(box.corners, UNKNOWN)
    line, shown = fitted(words.say("nothing_known"), size, box.width - 2 * size)
    middle = (box.x + box.width / 2, box.y + box.height / 2)
    draw.text(middle, line, DUSK, font(shown), anchor="mm")


def write_over(image: Image.Image, box: Box, k: int, moment: Moment, show: Show) -> None:
    """Status, badges and the mark of daylight over the picture of pane k."""
    pane, words = show.panes[k], show.words
    if moment.stage == "differ" and pane.scene is not None:
        size = text_size(show.size, len(show.panes), DIFFERS)
        point_out(image, box, pane, show.marks[k], camera_now(pane, moment, show), size)
        return
    if pane.scene is not None:
        overlay.draw_badges(image, box, pane, moment.time, show.gauge_left[k], words)
    size = text_size(show.size, len(show.panes), STATUS)
    below = overlay.write_status(image, box, size, status(pane, moment, words))
    if moment.stage == "freeze" and pane.daylight and pane.daylight.time == moment.time:
        camera = camera_now(pane, moment, show)
        show_daylight(image, box, pane, moment.time, camera, below)
