"""The page's modules as one script: imports and exports taken out, in the order they are needed."""

import re
from functools import lru_cache
from pathlib import Path

WEB = Path(__file__).parent / "web"
FIRST = "main.js"
_IMPORT = re.compile(r'^import \{[^}]*\} from "\./([a-z_]+\.js)";\n', re.MULTILINE)
_EXPORT = re.compile(r"^export ", re.MULTILINE)


@lru_cache(maxsize=1)
def script() -> str:
    """All modules that `main.js` needs, in one strict scope of their own.

    A name that two modules define at their top is refused by the browser as the page is read.
    """
    parts = "\n".join(plain(name) for name in needed(FIRST))
    return f'(() => {{\n"use strict";\n{parts}\n}})();\n'


def needed(name: str, found: tuple[str, ...] = ()) -> tuple[str, ...]:
    """Modules that a module needs, each after those it needs itself, the module last."""
    if name in found:
        return found
    for other in _IMPORT.findall(source(name)):
        found = needed(other, found)
    return (*found, name)


def plain(name: str) -> str:
    """A module's text without its imports and exports."""
    return _EXPORT.sub("", _IMPORT.sub("", source(name)))


def source(name: str) -> str:
    """A module as it stands in its file."""
    return (WEB / name).read_text(encoding="utf-8")
