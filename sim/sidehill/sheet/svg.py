"""A figure as an element of a page: text kept as text, named for those who cannot see it."""

import re
from base64 import b64encode
from collections.abc import Iterator
from contextlib import contextmanager
from io import StringIO

import matplotlib as mpl
from markupsafe import Markup, escape
from matplotlib.figure import Figure

from sidehill.picture.style import look

# groups that matplotlib numbers anew in every file: nothing refers to them
_NUMBERED = re.compile(r' id="[A-Za-z]\w*_\d+"')
_METADATA = re.compile(r"\s*<metadata>.*?</metadata>", re.DOTALL)


@contextmanager
def drawing(salt: str) -> Iterator[None]:
    """Draw in Sidehill's look; ids are the same on every run, and others in another picture."""
    with look(), mpl.rc_context({"svg.fonttype": "none", "svg.hashsalt": salt}):
        yield


def svg(figure: Figure, alt: str) -> Markup:
    """The element; call it within `drawing`."""
    found = StringIO()
    figure.savefig(found, format="svg", metadata={"Date": None, "Creator": None})
    text = found.getvalue()
    element = _NUMBERED.sub("", _METADATA.sub("", text[text.index("<svg") :]))
    # matplotlib has escaped every text of the figure
    return Markup(element.replace("<svg", f'<svg role="img" aria-label="{escape(alt)}"', 1))


def embedded(kind: str, content: bytes) -> str:
    """A data URI."""
    return f"data:{kind};base64,{b64encode(content).decode()}"
