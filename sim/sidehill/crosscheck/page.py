"""The page: one self-contained HTML file."""

from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

from jinja2 import Environment, StrictUndefined

from sidehill.caution import CAUTION, NOT_MODELLED

_TEMPLATE = Path(__file__).with_name("page.html")


def page(
    title: str,
    ladder: Mapping[str, Any] | None = None,
    published: Mapping[str, Any] | None = None,
    notes: Sequence[str] = (),
    convergence: Mapping[str, Any] | None = None,
) -> bytes:
    """HTML of a ladder, of the published values, or of both.

    Args:
        ladder: as `page_words` gives it.
        published: as `published_words` gives it.
        convergence: as `convergence_words` gives it.
    """
    environment = Environment(
        autoescape=True, undefined=StrictUndefined, trim_blocks=True, lstrip_blocks=True
    )
    text = environment.from_string(_TEMPLATE.read_text(encoding="utf-8")).render(
        title=title,
        ladder=ladder,
        published=published,
        notes=list(notes),
        convergence=convergence,
        caution=CAUTION,
        not_modelled=", ".join(NOT_MODELLED),
    )
    return text.encode("utf-8")
