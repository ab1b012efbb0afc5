"""The film of the shown runs: in the page, beside it, or not at all."""

from collections.abc import Callable
from dataclasses import dataclass
from io import BytesIO
from pathlib import Path
from tempfile import TemporaryDirectory
from urllib.parse import quote

from sidehill.files.errors import InputError
from sidehill.film import film, still
from sidehill.sheet.findings import Findings
from sidehill.sheet.pictures import endings, shown_words
from sidehill.sheet.svg import embedded

MOST_EMBEDDED = 6_000_000  # [bytes] of film; a larger one is linked
SIZE, QUICK_SIZE = (960, 540), (640, 360)  # [pixels]
FPS, QUICK_FPS = 15, 6
SLOW, QUICK_SLOW = 2.0, 1.0  # slow motion around events
_QUALITY = 82  # of the still

Say = Callable[[str], None]


@dataclass(frozen=True)
class Moving:
    """A film for the page; `source` is empty where there is none, and `note` says why."""

    source: str
    still: str  # data URI, for paper
    alt: str
    caption: str
    note: str
    file: Path | None  # beside the page


def moving(found: Findings, page: Path, say: Say) -> Moving:
    """Film and still of the shown runs.

    Args:
        page: the sheet's own file; a linked film stands beside it with the same stem.

    Raises:
        SidehillError: the film cannot be encoded or written.
    """
    if found.wish.film == "none":
        return _none("No film was asked for.")
    records, names = list(found.shown.records.values()), list(found.shown.records)
    size = QUICK_SIZE if found.wish.quick else SIZE
    try:
        picture = still(records, names, size=size)
    except InputError as error:  # none of them was driven
        return _none(f"No film: {error}.")
    paper = BytesIO()
    picture.save(paper, "JPEG", quality=_QUALITY)
    with TemporaryDirectory(dir=page.parent) as folder:
        made = Path(folder) / "film.mp4"
        film(
            records,
            names,
            made,
            size=size,
            fps=QUICK_FPS if found.wish.quick else FPS,
            slow=QUICK_SLOW if found.wish.quick else SLOW,
            progress=lambda done, of, left: say(f"film: frame {done} of {of}, {left:.0f} s left"),
        )
        source, note, file = _place(made, found.wish.film == "link", page)
    ended = "; ".join(f"{name}: {why}" for name, why in endings(found))
    return Moving(
        source,
        embedded("image/jpeg", paper.getvalue()),
        f"Film of the runs side by side. {ended}.",
        f"The runs side by side on {shown_words(found)}",
        note,
        file,
    )


def _place(made: Path, linked: bool, page: Path) -> tuple[str, str, Path | None]:
    """What the page refers to, what it says of it, and the file beside it."""
    size = made.stat().st_size
    if not linked and size <= MOST_EMBEDDED:
        return embedded("video/mp4", made.read_bytes()), "", None
    file = page.with_suffix(".mp4")
    made.replace(file)
    why = "" if linked else f", too large to be in the page ({size / 1e6:.0f} MB)"
    return (
        quote(file.name),
        f"The film is a file of its own, {file.name}{why}: keep it beside.",
        file,
    )


def _none(why: str) -> Moving:
    return Moving("", "", "", "", why, None)
