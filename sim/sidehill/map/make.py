"""Pictures of a sweep, as `sidehill map` draws them."""

from collections.abc import Callable, Sequence
from typing import Any

from sidehill.files.errors import InputError
from sidehill.map.draw import draw
from sidehill.map.needs import WORDS, needed
from sidehill.map.plan import plan, varied
from sidehill.map.subject import Drawn, Subject
from sidehill.picture.style import Kind
from sidehill.sweep.results import Results


def draw_map(
    results: Results,
    x: str | None = None,
    y: str | None = None,
    of: str | None = None,
    *,
    option: str | None = None,
    traces: Sequence[str] = (),
    kind: Kind = "png",
    say: Callable[[str], None] = lambda _: None,
) -> list[Drawn]:
    """The pictures that suit a sweep, or the map, or the roll traces, that are asked for.

    `Drawn.content` is the picture's file, `data` what it shows as plain values, `lines` the same
    in words. Nothing is written.

    Args:
        results: as `run_study` or `load_results` gives them.
        x, y: varied fields, by their names in the study or their columns, or "option".
        of: stability, margin, peak_roll_deg, or another column.
        option: of this option only; all of them if left out.
        traces: cases whose roll is drawn over the path, in place of any other picture; they are
            driven again.
        kind: png or svg.
        say: told what is being driven.

    Raises:
        InputError: no such field, result, option or case, or nothing that could be drawn.
    """
    check_option(results.meta, option)
    pictures = plan(results.meta, x, y, of, tuple(traces))
    table = results.to_pandas(option, needed(results, pictures), WORDS)
    subject = Subject(results, table, varied(results.meta))
    return [draw(subject, picture, kind, say) for picture in pictures]


def check_option(meta: dict[str, Any], option: str | None) -> None:
    """That the study has the option.

    Raises:
        InputError: it has not.
    """
    if option is not None and option not in meta["options"]:
        known = ", ".join(f'"{name}"' for name in meta["options"])
        raise InputError(f'option "{option}": the study has {known}')
