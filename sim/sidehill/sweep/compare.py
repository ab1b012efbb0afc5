"""The options of a study side by side: statics and the limits of their strips, a row each."""

from collections.abc import Callable, Mapping
from typing import Any

import pandas as pd

from sidehill.engines import choose
from sidehill.files.errors import SidehillError
from sidehill.strip.limits import ALL_EVENTS
from sidehill.strip.quantity import Varied, varied_by
from sidehill.strip.strip import Strip
from sidehill.study.strips import strips_of
from sidehill.study.study import Study
from sidehill.sweep.columns import IDENTITY, PROBLEM, STATICS, WARNINGS, Column, of_limits
from sidehill.sweep.limits import limit_columns
from sidehill.sweep.run_study import check_scenario
from sidehill.sweep.statics import statics_columns


def compare(
    study: Study,
    engine: str = "auto",
    of: str = "slope",
    say: Callable[[str], None] = lambda _: None,
    **how: Any,
) -> pd.DataFrame:
    """One row an option, in the study's order, its strip taken on the study's scenario.

    What the study varies is left as its machine, scenario and outfits have it.

    Args:
        engine: as of `take_strip`.
        of: a key of `quantity.VARIED`.
        say: told what is being run.
        how: as of `study.strips.strips_of`.

    Columns: see `kinds`; `problem` names what failed, and that option's numbers are missing.

    Raises:
        InputError: the scenario is a tilt table, the study has several machines, or nothing is
            known under that name.
        EngineError: the engine is not installed here.
    """
    check_scenario(study)
    _ = study.only_machine  # else it would be a problem of every row
    choose(engine, many=True)
    varied_by(of)
    strips: dict[str, Strip | str] = {}
    for option in study.options:
        try:
            strips |= strips_of(study, of, (option,), say, engine=engine, **how)
        except SidehillError as error:
            strips[option.name] = str(error)
    return side_by_side(study, strips, of)


def side_by_side(study: Study, strips: Mapping[str, Strip | str], of: str) -> pd.DataFrame:
    """The table of strips that were taken, by the option's name; or why there is none."""
    types = kinds(varied_by(of))
    rows = [_row(study, name, strip) for name, strip in strips.items()]
    return pd.DataFrame(rows, columns=list(types)).astype(types)


def kinds(varied: Varied) -> dict[str, str]:
    """Column -> type, the same whatever failed."""
    option = next(column for column in IDENTITY if column.name == "option")
    known: tuple[Column, ...] = (
        option,
        *STATICS,
        *of_limits(ALL_EVENTS, varied),
        WARNINGS,
        PROBLEM,
    )
    return {column.name: column.pandas for column in known}


def _row(study: Study, name: str, strip: Strip | str) -> dict[str, Any]:
    row: dict[str, Any] = {"option": name}
    if isinstance(strip, str):
        return row | {"problem": strip}
    try:
        row |= statics_columns(study.case(study.option(name)))
    except SidehillError as error:
        return row | {"problem": str(error)}
    fell_back = [] if strip.fell_back is None else [strip.fell_back]
    warnings = [text for text in (row["warnings"], *fell_back) if text]
    return row | limit_columns(strip, ALL_EVENTS) | {"warnings": " | ".join(warnings) or None}
