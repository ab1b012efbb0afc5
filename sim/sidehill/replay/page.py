"""The page: one self-contained HTML file that asks for nothing and runs nothing but its own."""

import base64
import hashlib
import json
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from jinja2 import Environment, StrictUndefined

from sidehill.caution import CAUTION, IN_SHORT, NOT_MODELLED
from sidehill.film.differs import Row
from sidehill.replay.block import deflated
from sidehill.replay.script import WEB, script

LIBRARY = Path(__file__).parent / "three"


@dataclass(frozen=True)
class Content:
    """What the page says and shows."""

    title: str
    names: list[str]
    note: str | None
    happened: list[Row]  # a row for each figure
    differing: list[Row]
    stills: list[dict[str, Any]]
    apart: str  # why no ghosts; empty if they can be
    foot: list[tuple[str, str]]
    data: dict[str, Any]  # plain values
    tables: str  # of the block, as text


def page(content: Content) -> str:
    """HTML; the same text for the same content."""
    environment = Environment(
        autoescape=True, undefined=StrictUndefined, trim_blocks=True, lstrip_blocks=True
    )
    style, own = read(WEB / "page.css"), script()
    library = read(LIBRARY / "three.min.js")
    return environment.from_string(read(WEB / "page.html")).render(
        content=content,
        style=style,
        script=own,
        policy=policy(style, (own, library)),
        library=deflated(library.encode("utf-8")),
        licence=read(LIBRARY / "LICENSE"),
        data=sealed(content.data),
        caution=CAUTION,
        in_short=IN_SHORT,
        not_modelled=", ".join(NOT_MODELLED),
    )


def sealed(data: dict[str, Any]) -> str:
    """Plain values as text that the page inflates: its checksum refuses what was damaged."""
    text = json.dumps(data, ensure_ascii=False, allow_nan=False, separators=(",", ":"))
    return deflated(text.encode("utf-8"))


def policy(style: str, scripts: tuple[str, ...]) -> str:
    """What a browser may load and run: nothing from elsewhere, only these texts."""
    runs = " ".join(hashed(text) for text in scripts)
    return (
        f"default-src 'none'; img-src data:; style-src {hashed(style)}; script-src {runs}; "
        "base-uri 'none'; form-action 'none'"
    )


def hashed(text: str) -> str:
    """A text as a policy names it."""
    digest = hashlib.sha256(text.encode("utf-8")).digest()
    return f"'sha256-{base64.b64encode(digest).decode('ascii')}'"


def read(path: Path) -> str:
    """The text of a file of this folder."""
    return path.read_text(encoding="utf-8")
