"""`sidehill list`: what is shipped."""

from sidehill.caution import CAUTION
from sidehill.cli import console
from sidehill.cli.options import AsJson
from sidehill.files.library import Kind, find, shipped
from sidehill.files.toml import read

EXAMPLES = ("sidehill list", "sidehill list --json")
_KINDS: dict[str, Kind] = {"machines": "machine", "scenarios": "scenario", "studies": "study"}


def command(as_json: AsJson = False) -> None:
    """Shipped machines, scenarios and studies."""
    found = {
        title: {name: _about(kind, name) for name in shipped(kind)}
        for title, kind in _KINDS.items()
    }
    if as_json:
        console.emit(found)
        return
    out = console.out()
    for title, items in found.items():
        out.print(title, style="bold")
        console.lines(out, items)
    out.print(CAUTION, style="bold")


def _about(kind: Kind, name: str) -> str:
    data = read(find(kind, name)).data
    return str(data["summary" if kind == "machine" else "title"])
