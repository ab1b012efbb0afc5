"""What a study varies: its fields and their axes, every value tried on its models."""

from collections.abc import Callable, Mapping
from contextlib import suppress
from typing import Any

from sidehill.files.errors import InputError
from sidehill.machine.file import Machine
from sidehill.machine.outfit import Outfit
from sidehill.scenario.file import Scenario
from sidehill.study.axes import Models, find_axis
from sidehill.study.axis import Axis
from sidehill.study.field import VariedField
from sidehill.study.plan import Find
from sidehill.study.sample import Sample
from sidehill.study.together import matrix
from sidehill.study.vary import Vary

Where = Callable[[tuple[str, ...]], str]  # file and line of a key, with a colon; or nothing
Varied = tuple[tuple[VariedField, ...], tuple[Axis, ...]]


def read_axes(
    vary: Mapping[str, Vary], models: Models, where: Where = lambda _: "", *, si: bool = False
) -> Varied:
    """Fields and axes of a [vary] table.

    Args:
        where: what is said before a message; si: bare numbers are SI, as from Python.

    Raises:
        InputError: a field that cannot be varied, or a value that it does not take.
    """
    base = _with_constants(vary, models)
    found = []
    for name, how in vary.items():
        try:
            found.append(find_axis(name, how, base, si=si))
        except InputError as error:
            raise InputError(f'{where(("vary", name))}vary."{name}": {error}') from None
    return tuple(field for field, _ in found), tuple(axis for _, axis in found)


def _with_constants(vary: Mapping[str, Vary], models: Models) -> Models:
    """The models with every list of one value set, as others may need it beside theirs.

    What is wrong with one is found, and said, as it is tried by itself.
    """
    own: dict[str, dict[str, Any]] = {"machine": {}, "outfit": {}, "": {}}
    for name, how in vary.items():
        root, dot, rest = name.partition(".")
        if dot and root != "settings" and len(how.values) == 1:
            own[root if root in own else ""][rest if root in own else name] = how.values[0]
    machines: list[Machine] = list(models.machines)
    scenario: Scenario = models.scenario
    outfits: list[Outfit] = list(models.outfits)
    with suppress(InputError):
        machines = [machine.with_values(own["machine"]) for machine in machines]
        scenario = scenario.with_values(own[""])
        outfits = [outfit.with_values(own["outfit"]) for outfit in outfits]
    return Models(machines, scenario, outfits)


def check_find(
    find: Find | None, scenario: Scenario, fields: tuple[VariedField, ...], place: str = ""
) -> None:
    """What is looked for cannot be varied as well, and must be there.

    Raises:
        InputError: it is not, or it is.
    """
    if find is None:
        return
    count = len(scenario.feature)
    if find.varied.is_of_a_feature and find.feature > count:
        there = f"the scenario has {count}" if count else "the scenario has none"
        raise InputError(
            f'{place}find.of = "{find.of}" needs a [[feature]], number {find.feature}: {there}'
        )
    name = find.varied.field.format(n=find.feature)
    if name in {field.name for field in fields}:
        raise InputError(
            f'{place}find.of = "{find.of}" looks for what vary."{name}" sets; leave one out'
        )


def check_correlation(sample: Sample | None, axes: tuple[Axis, ...], place: str = "") -> None:
    """What is correlated must be drawn, and be able to go together.

    Raises:
        InputError: it is not.
    """
    if sample is not None and sample.correlation:
        try:
            matrix([axis.field for axis in axes if axis.is_drawn], sample.correlation)
        except InputError as error:
            raise InputError(f"{place}{error}") from None
