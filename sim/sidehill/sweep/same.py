"""Whether results that are there are of a study, engine and physics; if not, what differs."""

from pathlib import Path
from typing import Any

from sidehill.files.errors import InputError
from sidehill.sweep.agenda import Agenda, fingerprint
from sidehill.sweep.version import ROW_SOURCES, ROW_VERSION

ADVICE = "nothing was changed; give another --out, or remove the folder to run it again"
_MOST_NAMED = 6  # sources


def check(path: Path, found: dict[str, Any], agenda: Agenda) -> None:
    """That results are of this study, engine and physics.

    Args:
        path: of their folder; found: what they say of themselves.

    Raises:
        InputError: they are not.
    """
    if fingerprint(found) != agenda.fingerprint:
        raise InputError(another_study(path, found))
    check_engine(path, found, agenda)


def another_study(path: Path, found: dict[str, Any]) -> str:
    """What is said of results that have nothing in common with a study."""
    return (
        f'{path}: holds another study, "{found.get("title")}" ({found.get("file")}), or this one '
        f"before it was changed, and no case of it is in this one; {ADVICE}"
    )


def check_engine(path: Path, found: dict[str, Any], agenda: Agenda) -> None:
    """That results are of this engine and physics.

    Raises:
        InputError: they are not; what changed, and what must be run again, is named.
    """
    asked, now = found["asked"], agenda.asked
    engines = (asked.get("engine"), asked.get("reference"))
    if engines != (now.engine, now.reference):
        raise InputError(
            f"{path}: was computed in {_engines(*engines)}, not in "
            f"{_engines(now.engine, now.reference)}; {ADVICE}"
        )
    if found.get("physics") != ROW_VERSION:
        raise InputError(
            f"{path}: was computed with version {found.get('physics')} of the physics; this is "
            f"{ROW_VERSION}, and the two are not mixed: all of its {found.get('count', 0):,} cases "
            f"must be run again, for {changed(found.get('sources', {}))}; {ADVICE}"
        )


def changed(before: dict[str, str]) -> str:
    """What of the physics is not what it was: sources by name."""
    if not before:
        return "they do not say with what they were run"
    sources = before.keys() | ROW_SOURCES.keys()
    differ = sorted(name for name in sources if before.get(name) != ROW_SOURCES.get(name))
    if not differ:
        return "numba or its compiler is another"
    more = len(differ) - _MOST_NAMED
    return f"changed: {', '.join(differ[:_MOST_NAMED])}" + (f" and {more} more" if more > 0 else "")


def names(meta: dict[str, Any]) -> tuple[Any, Any]:
    """What a study is called, which decides nothing."""
    return meta["title"], meta["file"]


def _engines(engine: str | None, reference: str | None) -> str:
    return f"{engine}, checked in {reference}" if reference else f"{engine}"
