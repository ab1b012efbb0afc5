"""A replay of recorded runs: everything checked, put together, written."""

from collections.abc import Sequence
from pathlib import Path
from typing import Any, Literal

from sidehill.advice.told import records_warnings
from sidehill.files.errors import InputError
from sidehill.files.units import NOT_COMPUTED
from sidehill.files.whole import ready_file, write_file
from sidehill.film.differs import Row, differences
from sidehill.film.pane import Pane, build_pane, extent_of
from sidehill.film.recorded import Recorded, look_up
from sidehill.film.render.camera import FIELD, SUN_HEIGHT, VIEWS, View
from sidehill.film.render.grass import BROAD, LUSH, MOWN, TILE
from sidehill.film.render.light import SUN_REACH
from sidehill.film.render.shade import BOUNCE, EARTH, SKYLIGHT, SUNLIGHT
from sidehill.film.render.sky import HAZE, ZENITH
from sidehill.film.same import differences as differing_scenarios
from sidehill.replay import telling
from sidehill.replay.block import Block
from sidehill.replay.differs import apart, refuse_ghosts
from sidehill.replay.page import Content, page
from sidehill.replay.run import Run, packed, read_run
from sidehill.replay.stills import best_view, grass_tile, still

MOST = 4  # runs
LONGEST_NOTE, LONGEST_TITLE = 400, 80  # characters
ENDING = ".html"
Layout = Literal["side", "ghosts"]
HILLS = ((0.17, 0.27, 0.20), (0.38, 0.50, 0.54))  # near and far, as the film's backdrop
# the film's views, and one from dead astern
BEHIND = View(0.0, VIEWS["downhill"].elevation, 0.86, 0.80, 0.46, VIEWS["downhill"].sun)
LOOKS = {"downhill": VIEWS["downhill"], "uphill": VIEWS["uphill"], "behind": BEHIND,
         "low at the wheels": VIEWS["low"], "above": VIEWS["above"]}  # fmt: skip


def replay(
    records: Sequence[Recorded],
    titles: Sequence[str],
    *,
    note: str | None = None,
    layout: Layout = "side",
    command: str = "",
) -> str:
    """One to four runs as the text of one HTML file. Same arguments, same text.

    Args:
        records: of `sidehill.run.record`; titles: one for each, as an option's name.
        note: a sentence that stands beside the pictures, as a trainer would say it.
        layout: how it opens: side by side, or over each other as ghosts.
        command: the command line that makes it again, told at its foot.

    Raises:
        InputError: a record or argument that cannot be used.
    """
    check(records, titles, note)
    differing_scenarios(records)
    if layout == "ghosts":
        refuse_ghosts(records)
    panes = [build_pane(r, title) for r, title in zip(records, titles, strict=True)]
    drawn = [pane for pane in panes if pane.scene is not None]
    if not drawn:
        raise InputError("none of these runs got as far as driving, so there is nothing to replay")
    runs = [read_run(record, pane) for record, pane in zip(records, panes, strict=True)]
    block, why, view = Block(), apart(records), best_view(drawn)
    data = {
        "runs": [packed(run, block) for run in runs],
        "tables": block.tables,
        "layout": layout,
        "looks": looks(drawn, view),
        "grass": grass_tile(),
        "apart": why,
    }
    scenario = str(look_up(records[0], "case", "scenario", "title"))
    return page(
        Content(
            title=scenario,
            names=list(titles),
            note=note,
            happened=happened(runs),
            differing=differences(records),
            stills=stills(runs, drawn, view),
            apart=why,
            foot=foot(records, titles, command),
            data=data,
            tables=block.text(),
        )
    )


def write_replay(
    out: Path, records: Sequence[Recorded], titles: Sequence[str], **wishes: Any
) -> Path:
    """The same as a file, `out`, whole or not at all.

    Raises:
        InputError: a record, argument or place that cannot be used.
    """
    ready_file(out, ENDING)
    return write_file(out, replay(records, titles, **wishes).encode("utf-8"))


def check(records: Sequence[Recorded], titles: Sequence[str], note: str | None) -> None:
    """Refuse what cannot be shown.

    Raises:
        InputError: which argument, its value, what is allowed.
    """
    if not 1 <= len(records) <= MOST:
        raise InputError(f"{len(records)} runs; a replay shows 1 to {MOST}")
    if len(titles) != len(records):
        raise InputError(f"{len(titles)} titles for {len(records)} runs; give one for each")
    for title in titles:
        if not 1 <= len(title.strip()) <= LONGEST_TITLE or not title.isprintable():
            raise InputError(
                f"title {ascii(title)[:60]}; allowed: 1 to {LONGEST_TITLE} characters on one line"
            )
    if note is not None and not 1 <= len(note.strip()) <= LONGEST_NOTE:
        raise InputError(f"a note of {len(note)} characters; allowed: 1 to {LONGEST_NOTE}")


def looks(drawn: Sequence[Pane], first: str) -> dict[str, Any]:
    """Views, the one to begin with, and the size of the largest machine they have to hold."""
    extent = extent_of(drawn)
    return {
        "radius": extent.radius,
        "top": extent.top,
        "field": FIELD,
        "sky": [HAZE, ZENITH],
        "hills": HILLS,
        "light": {
            "sun": SUNLIGHT, "sky": SKYLIGHT, "bounce": BOUNCE, "reach": SUN_REACH,
            "height": SUN_HEIGHT,
        },
        "lawn": {"tile": TILE, "broad": BROAD, "mown": MOWN, "earth": EARTH, "lush": LUSH[1]},
        "views": [
            {"name": name, "bearing": v.bearing, "elevation": v.elevation, "wide": v.wide,
             "high": v.high, "aim": v.aim, "sun": v.sun}
            for name, v in LOOKS.items()
        ],
"first": list(LOOKS.values()).index(VIEWS[first]),
    }  # fmt: skip


def happened(runs: Sequence[Run]) -> list[Row]:
    """What happened in every run, a row for each figure that any of them has."""
    told = [
        telling.figures(run.pane)
        if run.pane.table or run.pane.outcome.stability
        else {"stability": "could not be computed", "progress": "could not be computed"}
        for run in runs
    ]
    names = dict.fromkeys(name for figures in told for name in figures)
    return [(name, [figures.get(name, NOT_COMPUTED) for figures in told]) for name in names]


def stills(runs: Sequence[Run], drawn: Sequence[Pane], view: str) -> list[dict[str, Any]]:
    """A picture of every moment of every run."""
    return [
        {
            "title": run.pane.title,
            "name": moment.name,
            "time": f"{moment.time:.2f} s",
            "source": still(run.pane, moment.time, view, drawn),
        }
        for run in runs
        for moment in run.moments
    ]


def foot(records: Sequence[Recorded], titles: Sequence[str], command: str) -> list[tuple[str, str]]:
    """Where it comes from."""
    rows = [("to make it again", command)] if command else []
    for record, title in zip(records, titles, strict=True):
        versions = ", ".join(f"{k} {v}" for k, v in look_up(record, "versions").items())
        rows.append(
            (title, f"case {look_up(record, 'key')}, computed in {look_up(record, 'engine')}; "
                    f"physics {look_up(record, 'kernels')}; {versions}")
        )  # fmt: skip
    machines = dict.fromkeys(
        (str(look_up(r, "case", "machine", "name")), str(look_up(r, "case", "machine", "source")))
        for r in records
    )
    rows += [(f"numbers of {name}", source) for name, source in machines]
    warned = records_warnings([look_up(record, "case") for record in records], titles)
    rows += [("warning", text) for text in warned]
    notes = dict.fromkeys(text for record in records for text in record.meta.get("notes", ()))
    return rows + [("note", text) for text in notes]
