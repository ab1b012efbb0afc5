"""Driven over the scenario: the intervals of critical slopes, or why there are none."""

from collections.abc import Callable

import pandas as pd

from sidehill.spread.critical import UNTILS, critical_name, critical_spread
from sidehill.spread.inputs import GRIP, inputs
from sidehill.spread.interval import Interval
from sidehill.spread.subject import Subject
from sidehill.study.study import Study

_QUICK = "not asked for: --quick leaves out what takes hundreds of runs"

Say = Callable[[str], None]


def driven(
    study: Study, names: tuple[str, ...], table: pd.DataFrame, engine: str, quick: bool, say: Say
) -> dict[str, dict[str, Interval | str]]:
    """By option, by quantity.

    Args:
        names: options that are asked; table: of `compare`, which knows where there is none.
    """
    rows = table.set_index("option")
    return {
        name: {
            critical_name(study.scenario, until): _QUICK
            if quick
            else _spread(study, name, rows.loc[name], until, engine, say)
            for until in UNTILS
        }
        for name in names
    }


def _spread(
    study: Study, name: str, row: "pd.Series[object]", until: str, engine: str, say: Say
) -> Interval | str:
    if not pd.isna(row["problem"]):
        return str(row["problem"])
    if pd.isna(row[f"{until}_highest_good_deg"]):
        return f"none is good, as low as was tried: {row[f'{until}_verdict_at_limit']}"
    subject = Subject(study.machine, study.option(name).outfit, gaps={})
    friction = inputs(subject)[GRIP].best
    if study.scenario.ground.friction != friction:
        return (
            f"the spread of friction is that of {friction:g}, and this ground has "
            f"{study.scenario.ground.friction:g}"
        )
    return critical_spread(
        subject,
        study.scenario,
        until,
        engine,
        lambda done, of: say(f"spread of {name} until {until}: {done} of {of} searches done"),
    )
