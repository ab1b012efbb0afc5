"""Driven over the scenario: the intervals of critical slopes, or why there are none."""

from collections.abc import Callable

from sidehill.sheet.looks import Looks
from sidehill.spread.critical import UNTILS, critical_name, critical_spread
from sidehill.spread.inputs import GRIP, inputs
from sidehill.spread.interval import Interval
from sidehill.spread.subject import Subject
from sidehill.strip.words import EVENT_WORDS
from sidehill.study.study import Study

_QUICK = "not asked for: --quick leaves out what takes hundreds of runs"

Say = Callable[[str], None]


def driven(
    study: Study, names: tuple[str, ...], looks: Looks, engine: str, quick: bool, say: Say
) -> dict[str, dict[str, Interval | str]]:
    """By option, by quantity.

    Args:
        names: options that are asked.
    """
    return {
        name: {
            critical_name(study.scenario, until): _QUICK
            if quick
            else _spread(study, name, looks, until, engine, say)
            for until in UNTILS
        }
        for name in names
    }


def _spread(
    study: Study, name: str, looks: Looks, until: str, engine: str, say: Say
) -> Interval | str:
    look = looks.options[name]
    if look.strip is None:
        return look.problem
    limit = look.strip.limit(until)
    if limit.good_up_to is None:
        return f"no limit, as low as was tried: {EVENT_WORDS[until]}, or nothing is proved"
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
