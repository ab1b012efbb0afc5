"""The shown runs as a replay: in the page, beside it, or not at all."""

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from urllib.parse import quote

from markupsafe import Markup

from sidehill.files.errors import InputError
from sidehill.files.whole import write_file
from sidehill.replay import replay
from sidehill.sheet.findings import Findings
from sidehill.sheet.pictures import shown_words
from sidehill.sheet.repeat import command

Say = Callable[[str], None]
# the frame has an origin of its own: it runs its own scripts and reaches nothing of the page
_FRAME = Markup(
    '<figure class="screen replay"><iframe title="{title}" sandbox="allow-scripts" '
    'loading="lazy" srcdoc="{page}"></iframe><figcaption>{title}. {note}</figcaption></figure>'
)
_LINK = Markup('<p class="screen">{title}: <a href="{place}">{name}</a>. {note}</p>')
_NONE = Markup('<p class="notes">{note}</p>')


@dataclass(frozen=True)
class Turning:
    """A replay for the page."""

    markup: Markup
    file: Path | None  # beside the page


def turning(found: Findings, page: Path, say: Say) -> Turning:
    """The shown runs to turn, scrub and slow down; paper shows the film's still.

    Args:
        page: the sheet's own file; a linked replay stands beside it, its stem and "-replay".

    Raises:
        SidehillError: the replay cannot be written.
    """
    mode, records = found.wish.replay, found.shown.records
    if mode == "none":
        return Turning(Markup(), None)
    say("replay of the shown runs")
    told = command(found.study, found.wish, page.name)
    try:
        text = replay(list(records.values()), list(records), command=told)
    except InputError as error:  # none of them was driven, or a name is too long
        return Turning(_NONE.format(note=f"No replay: {error}."), None)
    title = f"Replay, to be turned and slowed down: the runs on {shown_words(found)}"
    if mode == "embed":
        return Turning(_FRAME.format(title=title, page=text, note=""), None)
    file = page.with_name(f"{page.stem}-replay.html")
    write_file(file, text.encode("utf-8"))
    note = "A file of its own: keep it beside."
    return Turning(
        _LINK.format(title=title, place=quote(file.name), name=file.name, note=note), file
    )
