"""`sidehill film`: recorded runs side by side, as a film or one picture."""

from pathlib import Path
from typing import Annotated

import typer

from sidehill.cli import console
from sidehill.cli.options import (
    AsJson,
    Changes,
    Chosen,
    EngineName,
    Runs,
    Titles,
    TyreLaw,
    with_tyre,
)

EXAMPLES = (
    'sidehill film demo --option "bucket high, as delivered" --option "bucket low, as delivered"',
    "sidehill film high.parquet low.parquet --title high --title low --out both.mp4",
    "sidehill film sidehill-drive/record.parquet --still daylight --out lifted.png",
    'sidehill film high.parquet low.parquet --size 720x1280 --gif --most "4 MB"',
    "sidehill film high.parquet low.parquet --stills events",
)


def command(
    what: Runs,
    out: Annotated[
        Path | None,
        typer.Option("--out", metavar="FILE", help="Ends in .mp4, .gif or, for a still, .png."),
    ] = None,
    titles: Titles = None,
    options: Chosen = None,
    changes: Changes = None,
    tyre: TyreLaw = None,
    still: Annotated[
        str | None,
        typer.Option("--still", metavar="TIME", help='One picture: "3.2 s", "daylight" or "end".'),
    ] = None,
    stills: Annotated[
        Path | None,
        typer.Option("--stills", metavar="DIR", help="Pictures of every event, and no film."),
    ] = None,
    gif: Annotated[bool, typer.Option("--gif", help="A GIF instead of an MP4.")] = False,
    most: Annotated[
        str | None, typer.Option("--most", metavar="SIZE", help='Of a GIF; else "4 MB".')
    ] = None,
    size: Annotated[
        str, typer.Option("--size", help="Width x height in pixels; upright as 720x1280.")
    ] = "1280x720",
    fps: Annotated[int | None, typer.Option("--fps", help="Frames a second; 30, GIF 10.")] = None,
    camera: Annotated[
        str, typer.Option("--camera", help="auto, downhill, uphill, low or above.")
    ] = "auto",
    slow: Annotated[
        float, typer.Option("--slow", help="Slow motion around events; 1 for none.")
    ] = 4.0,
    quick: Annotated[
        float,
        typer.Option("--quick", help="Where nothing happens; 1 for real time."),
    ] = 4.0,
    caption: Annotated[
        str | None,
        typer.Option("--caption", help="Words below the picture, before slope and caution."),
    ] = None,
    language: Annotated[
        Path | None, typer.Option("--captions", metavar="FILE", help="Words in another language.")
    ] = None,
    mark: Annotated[
        Path | None,
        typer.Option("--mark", metavar="FILE.png", help="Your own, on the first and last cards."),
    ] = None,
    workers: Annotated[
        int | None, typer.Option("--workers", help="Threads that draw; else one a core.")
    ] = None,
    engine: EngineName = "auto",
    as_json: AsJson = False,
) -> None:
    """One to four runs side by side: same bank, same camera, same clock."""
    from sidehill.cli import film_run  # what runs engines is loaded once it is asked for

    pixels = film_run.read_size(size)
    target = film_run.target_of(what, out, still, stills, gif)
    wish = film_run.Wish(
        size=pixels,
        fps=fps or film_run.usual_rate(target),
        camera=camera,
        slow=slow,
        quick=quick,
        caption=caption,
        language=language,
        mark=mark,
        most=film_run.read_most(most, target),
        workers=workers,
    )
    records, names = film_run.gather(
        what, titles, options, with_tyre(changes, tyre), engine, target.parent
    )
    if stills is not None:
        data = film_run.draw_stills(records, names, stills, wish)
    else:
        data = film_run.draw(records, names, target, still, wish)
    if as_json:
        console.emit(data, data["warnings"])
        return
    screen = console.out()
    for title, why in zip(data["titles"], data["why"], strict=True):
        screen.print(f"{title}: {why}")
    for file in data.get("files") or [data["file"]]:
        screen.print(f"wrote {file}")
    console.close(screen, data["warnings"], (), ())
