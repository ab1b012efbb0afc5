"""Strips of a study's options: each over the same quantity, on the study's scenario."""

from collections.abc import Callable
from typing import Any

from sidehill.strip.strip import Strip, take_strip
from sidehill.study.study import Option, Study

Say = Callable[[str], None]


def strips_of(
    study: Study,
    of: str = "slope",
    options: tuple[Option, ...] | None = None,
    say: Say = lambda _: None,
    **how: Any,
) -> dict[str, Strip]:
    """The strip of every option, by name, in the study's order.

    What the study varies is left as its machine, scenario and outfits have it.

    Args:
        options: those to look at, else all.
        say: told what is being run.
        how: scan, tolerance, until, engine, check, as of `take_strip`.

    Raises:
        InputError: as of `take_strip`.
    """
    found = {}
    asked = study.options if options is None else options
    for number, option in enumerate(asked, start=1):
        say(f"{option.name} ({number} of {len(asked)})")
        found[option.name] = take_strip(study.case(option), of, **how)
    return found
