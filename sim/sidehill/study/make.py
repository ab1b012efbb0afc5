"""A study from Python: machine, scenario, options and what varies."""

from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

from sidehill.files.errors import InputError
from sidehill.files.spec import build
from sidehill.files.toml import Document
from sidehill.machine.build import fit
from sidehill.machine.file import Machine, load_machine
from sidehill.machine.outfit import Outfit
from sidehill.scenario.file import Scenario, load_scenario
from sidehill.study.axes import Models
from sidehill.study.field import MACHINE
from sidehill.study.own import with_draws
from sidehill.study.plan import Find, Tables
from sidehill.study.sample import Sample
from sidehill.study.study import COMMON, Option, Study
from sidehill.study.varied import check_correlation, check_find, read_axes

_IN_PYTHON = "study"  # where a message says that the fault is


def make_study(
    machine: Machine | str | Sequence[Machine | str],
    scenario: Scenario | str,
    options: Mapping[str, Outfit] | Outfit | None = None,
    *,
    vary: Mapping[str, Any] | None = None,
    sample: Sample | Mapping[str, Any] | None = None,
    find: Find | Mapping[str, Any] | None = None,
    title: str = "study",
) -> Study:
    """A study, as a file of one would have it.

    Args:
        machine: or several, which are then varied; a name is a shipped one or a path.
        options: outfits by name; one, or none, is the only option.
        vary: dotted field -> a list of values, or a table as in a study file,
            `{"ground.slope": {"low": "4 deg", "high": "10 deg"}}`. Text carries its unit; a plain
            number is SI, as everywhere in Python (a slope in radians).
        sample, find: tables as in a study file; paths are seen from the working folder.

    Raises:
        InputError: nothing would be run, a field that cannot be varied, a value that is not
            allowed, an option that does not suit the machine.
    """
    known, machines = _machines(machine)
    ground = scenario if isinstance(scenario, Scenario) else load_scenario(scenario)
    chosen = _options(options)
    for each in machines.values() or (known,):
        for option in chosen:
            fit(each, option.outfit, ground.ground.downhill)
    asked = dict(vary or {})
    if machines:
        if MACHINE in asked:
            raise InputError('study: vary."machine": several machines are given already')
        asked = {MACHINE: list(machines)} | asked
    given = {"vary": asked, "sample": sample, "find": find}
    tables = build(Tables, Document(_IN_PYTHON, given), si=True)
    table, plan, wanted = tables.vary, tables.sample, tables.find
    models = Models(
        tuple(machines.values()) or (known,), ground, [option.outfit for option in chosen]
    )
    fields, axes = read_axes(table, models, si=True)
    if plan is not None and plan.table is not None:
        fields, axes = with_draws((fields, axes), Path(), plan.table, models, "sample.table: ")
    check_find(wanted, ground, fields)
    check_correlation(plan, axes)
    return Study(
        title, known, ground, chosen, table, plan, wanted, _IN_PYTHON, fields, axes, machines
    )


def _machines(given: Any) -> tuple[Machine, dict[str, Machine]]:
    """The first machine, and all by name if there are several."""
    several = not isinstance(given, Machine | str)
    found: dict[str, Machine] = {}
    for one in given if several else (given,):
        machine = load_machine(one) if isinstance(one, str) else one
        name = one if isinstance(one, str) else machine.name
        if name in found:
            raise InputError(
                f'study: two machines called "{name}"; name one otherwise, as '
                'load_machine(..., name="...") does'
            )
        found[name] = machine
    if not found:
        raise InputError("study: no machine; give one or more")
    return next(iter(found.values())), found if several else {}


def _options(given: Mapping[str, Outfit] | Outfit | None) -> tuple[Option, ...]:
    if given is None or isinstance(given, Outfit):
        return (Option(COMMON, given or Outfit()),)
    return tuple(Option(name, outfit) for name, outfit in given.items())
