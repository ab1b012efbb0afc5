"""A study: machine, scenario, options and what varies, loaded and checked."""

import dataclasses
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from sidehill.case import Case, Settings
from sidehill.files import toml
from sidehill.files.errors import InputError
from sidehill.files.inside import inside
from sidehill.files.library import Kind, find, shipped
from sidehill.files.spec import Spec, build
from sidehill.machine.build import fit
from sidehill.machine.file import Machine, load_machine
from sidehill.machine.outfit import Outfit
from sidehill.scenario.file import Scenario, load_scenario
from sidehill.study.axes import Models
from sidehill.study.axis import Axis
from sidehill.study.draw import size
from sidehill.study.field import MACHINE, VariedField
from sidehill.study.own import with_draws
from sidehill.study.plan import Find, StudyFile
from sidehill.study.sample import Sample
from sidehill.study.varied import check_correlation, check_find, read_axes
from sidehill.study.vary import Vary

COMMON = "common outfit"  # the one option of a study that names none


@dataclass(frozen=True)
class Option:
    """One way to fit the machine, by name."""

    name: str
    outfit: Outfit


@dataclass(frozen=True, repr=False)
class Study:
    """A study file with everything it points at."""

    title: str
    machine: Machine
    scenario: Scenario
    options: tuple[Option, ...]
    vary: dict[str, Vary]
    sample: Sample | None
    find: Find | None
    file: str  # as people gave it
    fields: tuple[VariedField, ...] = ()  # of what varies, in its order
    axes: tuple[Axis, ...] = ()  # the values that they take
    machines: Mapping[str, Machine] = dataclasses.field(default_factory=dict)  # that vary, by name

    def __post_init__(self) -> None:
        """A study that would run nothing, or leave out what it varies, is none."""
        names = [option.name for option in self.options]
        if not names or len(set(names)) < len(names):
            raise InputError(
                f"{self.title}: {len(names)} options {', '.join(names)}: allowed: one or more, "
                "each with a name that no other one has"
            )
        if self.vary and not self.fields:
            raise InputError(f"{self.title}: what it varies was not looked up; use make_study")

    def __repr__(self) -> str:
        count = size(self.axes, self.sample or Sample()) * len(self.options)
        what = f"{self.title}: {self.machine_words}, {self.scenario.title}"
        return f"Study({what}, {len(self.options)} options, {count:,} cases)"

    @property
    def machine_words(self) -> str:
        """The machine, or those that vary, by name."""
        return ", ".join(machine.name for machine in self.all_machines)

    @property
    def all_machines(self) -> tuple[Machine, ...]:
        """The machines that are run."""
        return tuple(self.machines.values()) or (self.machine,)

    @property
    def only_machine(self) -> Machine:
        """The one machine of a study that is shown or compared option by option.

        Raises:
            InputError: it has several, of which none may stand for the others.
        """
        one, *others = self.all_machines
        if others:
            raise InputError(
                f"{self.file}: is of {len(others) + 1} machines ({self.machine_words}), and what "
                "is asked for shows one; make it a study of one machine, or run all of them with "
                "`sidehill sweep`"
            )
        return one

    def case(self, option: Option) -> Case:
        """The case of one option on the study's own scenario.

        Raises:
            InputError: it has several machines.
        """
        return Case(self.only_machine, self.scenario, option.outfit)

    def cases(self, option: Option) -> list[Case]:
        """The same of every machine."""
        return [Case(machine, self.scenario, option.outfit) for machine in self.all_machines]

    def case_at(self, option: Option, values: Mapping[str, Any]) -> Case:
        """The case of one option with the varied fields set.

        Args:
            values: by column, in its unit.

        Raises:
            InputError: a value that the models do not take.
        """
        machine = self.machines.get(str(values.get(MACHINE)), self.machine)
        models: dict[str, Spec] = {
            "machine": machine, "outfit": option.outfit, "scenario": self.scenario,
            "settings": Settings(),
        }  # fmt: skip
        for root, model in models.items():
            own = [field for field in self.fields if field.root == root and field.path]
            if own:
                changed = {field.path: field.si(values[field.column]) for field in own}
                models[root] = model.with_values(changed)
        return Case(**models)  # type: ignore[arg-type]

    def option(self, name: str) -> Option:
        """The option of that name.

        Raises:
            InputError: the study has none.
        """
        for option in self.options:
            if option.name == name:
                return option
        known = ", ".join(option.name for option in self.options)
        raise InputError(f'{self.file}: no option "{name}"; it has: {known}')


def load_study(name_or_path: str | Path, changes: Sequence[str] = ()) -> Study:
    """A shipped study by name, or the study file at a path.

    Machine and scenario are shipped names, or paths from the folder of the study file.

    Args:
        changes: of its scenario, as `load_scenario` takes them.

    Raises:
        InputError: file, line, field, value, what is allowed.
    """
    path = find("study", name_or_path)
    document = toml.read(path)
    plan = build(StudyFile, document).from_file(name_or_path)
    scenario = load_scenario(_beside("scenario", plan.scenario, path, document), changes)
    machine = load_machine(_beside("machine", plan.machine, path, document))
    machines = _machines(plan, path, document)
    machine = next(iter(machines.values())) if len(machines) == 1 else machine
    options = _options(plan)
    _check_options(options, machines.values() or (machine,), scenario, document)
    models = Models(
        tuple(machines.values()) or (machine,), scenario, [option.outfit for option in options]
    )
    fields, axes = read_axes(plan.vary, models, lambda key: f"{document.where(key)}: ")
    if plan.sample is not None and plan.sample.table is not None:
        where = f"{document.where(('sample',))}: sample.table: "
        fields, axes = with_draws((fields, axes), path.parent, plan.sample.table, models, where)
    check_find(plan.find, scenario, fields, f"{document.where(('find',))}: ")
    check_correlation(plan.sample, axes, f"{document.where(('sample',))}: ")
    return Study(
        plan.title, machine, scenario, options, plan.vary, plan.sample, plan.find,
        str(name_or_path), fields, axes, machines,
    )  # fmt: skip


def _machines(plan: StudyFile, path: Path, document: toml.Document) -> dict[str, Machine]:
    """The machines that vary, by the names that the study gives them."""
    named = plan.vary[MACHINE].values if MACHINE in plan.vary else ()
    found = {}
    for name in map(str, named):
        try:
            found[name] = load_machine(_beside("machine", name, path, document))
        except InputError as error:
            where = document.where(("vary", MACHINE))
            raise InputError(f'{where}: vary."{MACHINE}": {error}') from None
    return found


def _beside(kind: Kind, name: str, study: Path, document: toml.Document) -> str | Path:
    """The shipped name itself, or the path as seen from the study's folder.

    Raises:
        InputError: neither a shipped name nor a path that ends in .toml; a path that leads out.
    """
    if name in shipped(kind):
        return name
    where = f'{document.where((kind,))}: {kind} = "{name[:60]}"'
    if name.endswith(".toml"):
        return inside(study.parent, name, where)
    if "/" in name or "\\" in name:
        raise InputError(f"{where}: allowed: a shipped name, or a path that ends in .toml")
    try:
        return find(kind, name)
    except InputError as error:
        raise InputError(f"{where}: {error}") from None


def _options(plan: StudyFile) -> tuple[Option, ...]:
    common = plan.outfit.model_dump(exclude_unset=True)
    if not plan.option:
        return (Option(COMMON, plan.outfit),)
    found = []
    for option in plan.option:
        own = option.model_dump(exclude_unset=True, exclude={"name"})
        document = toml.Document(f'option "{option.name}"', common | own)
        found.append(Option(option.name, build(Outfit, document, si=True)))
    return tuple(found)


def _check_options(
    options: Sequence[Option],
    machines: Iterable[Machine],
    scenario: Scenario,
    document: toml.Document,
) -> None:
    """Every option must suit every machine."""
    for machine in machines:
        for number, option in enumerate(options):
            try:
                fit(machine, option.outfit, scenario.ground.downhill)
            except InputError as error:
                where = document.where(("option", number))
                raise InputError(f'{where}: option "{option.name}": {error}') from None
