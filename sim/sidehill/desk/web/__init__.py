"""The page's own scripts and style: plain ES modules, served as they stand."""

from functools import lru_cache
from pathlib import Path

FOLDER = Path(__file__).parent
SCRIPTS = frozenset(path.name for path in FOLDER.iterdir() if path.suffix in (".js", ".css"))


@lru_cache(maxsize=64)
def asset(name: str) -> tuple[str, str]:
    """Text and kind of one of them."""
    kind = "text/css" if name.endswith(".css") else "text/javascript"
    return (FOLDER / name).read_text(encoding="utf-8"), kind
