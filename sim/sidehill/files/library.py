"""Where the shipped machines, scenarios and studies are."""

from difflib import get_close_matches
from pathlib import Path
from typing import Literal

from sidehill.files.errors import InputError

Kind = Literal["machine", "scenario", "study"]

_FOLDERS = {"machine": "models", "scenario": "scenarios", "study": "scenarios/studies"}


def folder(kind: Kind) -> Path:
    """The folder of the shipped files: inside an installed package, else in the checkout."""
    package = Path(__file__).resolve().parent.parent
    installed = package / "_data"
    root = installed if installed.is_dir() else package.parent.parent
    return root / _FOLDERS[kind]


def shipped(kind: Kind) -> tuple[str, ...]:
    """The names of the shipped files of that kind, sorted."""
    return tuple(sorted(path.stem for path in folder(kind).glob("*.toml")))


def find(kind: Kind, name_or_path: str | Path) -> Path:
    """The file of that name, if shipped, or at that path.

    Raises:
        InputError: a name that is not shipped; a path is not checked here.
    """
    text = str(name_or_path)
    if isinstance(name_or_path, Path) or text.endswith(".toml") or "/" in text or "\\" in text:
        return Path(text)
    names = shipped(kind)
    if text in names:
        return folder(kind) / f"{text}.toml"
    near = get_close_matches(text, names, n=1)
    hint = f'; did you mean "{near[0]}"?' if near else "."
    raise InputError(
        f'no {kind} called "{text[:60]}"{hint} Shipped: {", ".join(names)}. '
        "Your own file needs its path, ending in .toml."
    )
