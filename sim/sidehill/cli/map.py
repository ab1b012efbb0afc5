"""`sidehill map`: pictures of a sweep."""

from pathlib import Path
from typing import Annotated

import typer

from sidehill.cli import console
from sidehill.cli.options import AsJson, SearchEngine, TyreLaw, with_tyre

EXAMPLES = (
    "sidehill map spacers-and-ballast",
    "sidehill map sidehill-speed-and-stone --of margin -o margin.svg",
    "sidehill map bad-day --x ground.slope --y drive.speed --of stability",
)


def command(
    target: Annotated[
        str,
        typer.Argument(
            metavar="RESULTS|STUDY",
            help="A folder that `sweep` wrote; or a study: what is missing of it is run.",
        ),
    ],
    x: Annotated[
        str | None, typer.Option("--x", metavar="FIELD", help="A map's field across.")
    ] = None,
    y: Annotated[
        str | None, typer.Option("--y", metavar="FIELD", help="And up; or `option`.")
    ] = None,
    of: Annotated[
        str | None,
        typer.Option(
            "--of", metavar="RESULT", help="stability, margin, peak_roll_deg, or another column."
        ),
    ] = None,
    option: Annotated[
        str | None, typer.Option("--option", metavar="NAME", help="This option only.")
    ] = None,
    traces: Annotated[
        list[str] | None,
        typer.Option(
            "--trace", metavar="CASE", help="Roll over the path of this case; may be repeated."
        ),
    ] = None,
    output: Annotated[
        Path | None,
        typer.Option(
            "-o",
            "--output",
            metavar="DIR|FILE",
            help="A folder, or one picture's name ending in .png or .svg; else beside the table.",
        ),
    ] = None,
    tyre: TyreLaw = None,
    engine: SearchEngine = "auto",
    yes: Annotated[bool, typer.Option("--yes", help="Do not ask before a long sweep.")] = False,
    as_json: AsJson = False,
) -> None:
    """Pictures of a sweep: maps, limit curves, probabilities, what counts most, roll traces."""
    from sidehill.cli import map_report, map_run  # what runs engines is loaded once asked for

    changes = with_tyre(None, tyre)
    wanted = map_run.Wanted(
        target, x, y, of, option, tuple(traces or ()), output, engine, yes, changes
    )
    found = map_run.run(wanted)
    if as_json:
        console.emit(map_report.data(found), map_report.warnings(found))
        return
    map_report.tell(console.out(), found)
