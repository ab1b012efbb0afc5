"""The page: one self-contained HTML file."""

import re
from pathlib import Path

from jinja2 import Environment, FileSystemLoader, StrictUndefined

from sidehill.caution import CAUTION
from sidehill.sheet import answers, fitting, prices, ranks
from sidehill.sheet.findings import Findings
from sidehill.sheet.first import first
from sidehill.sheet.moving import Moving
from sidehill.sheet.pictures import pictures
from sidehill.sheet.repeat import repeat
from sidehill.sheet.trust import trust
from sidehill.sheet.turning import Turning

_FOLDER = Path(__file__).parent
_BEFORE_UNIT = re.compile(r"(?<=\d) (?=[^\s(\[])|(?<=ft|bf) (?=lbf|ft)")


def page(found: Findings, moving: Moving, replay: Turning, name: str) -> bytes:
    """HTML; the same bytes for the same arguments.

    Args:
        name: of the file, for the command that repeats it.
    """
    environment = Environment(
        loader=FileSystemLoader(_FOLDER),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    environment.filters["tight"] = _tight
    text = environment.get_template("page.html").render(
        style=(_FOLDER / "page.css").read_text(encoding="utf-8"),
        title=found.study.title,
        caution=CAUTION,
        first=first(found),
        facts=answers.facts(found),
        pair=answers.pair(found),
        rank_headings=ranks.HEADINGS,
        rank_rows=ranks.rank_rows(found),
        rank_notes=ranks.rank_notes(found),
        standing_words=answers.standing_words(found),
        standing_rows=answers.standing_rows(found),
        price_headings=prices.price_headings(found),
        price_rows=prices.price_rows(found),
        price_notes=prices.price_notes(found),
        fit=fitting.fit_table(found),
        trust=trust(found),
        repeat=repeat(found, name),
        pictures=pictures(found),
        moving=moving,
        replay=replay.markup,
    )
    return text.encode("utf-8")


def _tight(text: str) -> str:
    """Numbers kept on one line with their units."""
    return _BEFORE_UNIT.sub("\N{NO-BREAK SPACE}", text)
