"""Films and stills of recorded runs, side by side."""

from collections.abc import Callable, Sequence
from io import BytesIO
from itertools import groupby
from pathlib import Path
from time import monotonic

from PIL import Image

from sidehill.files.errors import InputError
from sidehill.files.whole import ready_file, ready_folder, replacing, write_file
from sidehill.film.clock import Moment, Tempo
from sidehill.film.crew import crew_size, drawn
from sidehill.film.encode import KINDS, encoder
from sidehill.film.frame import draw_frame
from sidehill.film.mark import read_mark
from sidehill.film.recorded import Recorded
from sidehill.film.render.compile import PICTURE_VERSION
from sidehill.film.show import Show, build_show
from sidehill.film.sights import sights
from sidehill.film.words import read_words

Progress = Callable[[int, int, float], None]  # frames done, of how many, seconds left

SIZE, FPS = (1280, 720), 30
TEMPO = Tempo()


def film(
    records: Sequence[Recorded],
    titles: Sequence[str],
    out: Path,
    *,
    size: tuple[int, int] = SIZE,
    fps: int = FPS,
    camera: str = "auto",
    slow: float = TEMPO.slow,
    quick: float = TEMPO.quick,
    caption: str | None = None,
    language: Path | None = None,
    mark: Path | None = None,
    most: int | None = None,
    workers: int | None = None,
    progress: Progress | None = None,
) -> Path:
    """Film of one to four runs side by side, same camera, same clock: `out`, .mp4 or .gif.

    The same arguments give the same pixels, whatever the number of threads.

    Args:
        records: of `sidehill.run.record`.
        titles: one for each, as an option's name.
        size: [pixels] even numbers.
        camera: downhill, uphill, low, above, or auto: the one that sees the first lift-off best.
        slow: factor of slow motion around lift-off and overturn; 1 for none.
        quick: factor by which stretches in which nothing happens run quicker; 1 for none.
        caption: words below the picture, before the slope and a caution.
        language: a TOML file of translated words.
        mark: a picture of whoever shows the film: on a card before it and those after it.
        most: [bytes] that a GIF may have: it is made coarser until it has no more.
        workers: threads that draw; None for one a core.

    Raises:
        InputError: a record or argument that cannot be used.
        SidehillError: the target cannot be written, or the encoder fails.
    """
    words, own = read_words(language), read_mark(mark)
    show = build_show(records, titles, size, fps, camera, Tempo(slow, quick), caption, words, own)
    ready_file(out, *KINDS)
    runs = [(moment, len(list(same))) for moment, same in groupby(show.moments)]
    started, done, total = monotonic(), 0, len(show.moments)
    with replacing(out) as part, encoder(part, size, fps, about(records, show), most) as writer:
        frames = drawn(show, [moment for moment, _ in runs], writer.pack, crew_size(workers))
        for (_, times), frame in zip(runs, frames, strict=True):
            writer.write(frame, times)
            done += times
            if progress is not None:
                progress(done, total, (monotonic() - started) * (total - done) / done)
    return out


def still(
    records: Sequence[Recorded],
    titles: Sequence[str],
    time: float | None = None,
    *,
    size: tuple[int, int] = SIZE,
    camera: str = "auto",
    caption: str | None = None,
    language: Path | None = None,
) -> Image.Image:
    """One picture of one to four runs at a time [s]; None: first daylight, else the end.

    Raises:
        InputError: a record or argument that cannot be used.
    """
    show = build_show(records, titles, size, FPS, camera, TEMPO, caption, read_words(language))
    return draw_frame(show, moment_of(show, time))


def stills(
    records: Sequence[Recorded],
    titles: Sequence[str],
    folder: Path,
    *,
    size: tuple[int, int] = SIZE,
    camera: str = "auto",
    caption: str | None = None,
    language: Path | None = None,
    mark: Path | None = None,
) -> list[Path]:
    """A picture of everything that a film of the runs would stop or slow down for.

    PNG files in a folder, numbered in order; their names say what is seen, and when.

    Raises:
        InputError: a record or argument that cannot be used.
        SidehillError: the folder cannot be written to.
    """
    words, own = read_words(language), read_mark(mark)
    show = build_show(records, titles, size, FPS, camera, TEMPO, caption, words, own)
    ready_folder(folder)
    written = []
    for number, (name, moment) in enumerate(sights(show), start=1):
        picture = BytesIO()
        draw_frame(show, moment).save(picture, "PNG")
        path = folder / f"{number:02d}-{name}-{moment.time:.2f}s.png"
        written.append(write_file(path, picture.getvalue()))
    return written


def moment_of(show: Show, time: float | None) -> Moment:
    """What a still shows.

    Raises:
        InputError: a time before or after the runs.
    """
    end = max(pane.end for pane in show.panes)
    if time is not None and not 0.0 <= time <= end:
        raise InputError(f"a still at {time:g} s; allowed: 0 s to {end:g} s, where the runs end")
    freezes = [moment for moment in show.moments if moment.stage == "freeze"]
    if time is not None:
        return Moment(time, 1.0, "run")
    if freezes:
        return freezes[0]
    return next(moment for moment in show.moments if moment.stage == "hold")


def about(records: Sequence[Recorded], show: Show) -> dict[str, str]:
    """Tags that say where a film comes from."""
    cases = ", ".join(str(record.meta.get("key", "unknown")) for record in records)
    origin = f"sidehill cases {cases}; pictures {PICTURE_VERSION}"
    return {
        "title": " | ".join(pane.title for pane in show.panes),
        "comment": f"{origin}; {show.words.say('caution')}",
    }
