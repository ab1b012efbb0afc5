"""A study: machine, scenario, options and what varies, loaded and checked."""

from collections.abc import Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from sidehill.case import Case
from sidehill.files import toml
from sidehill.files.errors import InputError
from sidehill.files.library import Kind, find, shipped
from sidehill.files.spec import Spec, build
from sidehill.machine.build import fit
from sidehill.machine.file import Machine, load_machine
from sidehill.machine.outfit import Outfit
from sidehill.scenario.file import Scenario, load_scenario
from sidehill.study.axes import find_axis
from sidehill.study.draw import Axis
from sidehill.study.field import VariedField
from sidehill.study.plan import Find, Sample, StudyFile, Vary

COMMON = "common outfit"  # the one option of a study that names none


@dataclass(frozen=True)
class Option:
    """One way to fit the machine, by name."""

    name: str
    outfit: Outfit


@dataclass(frozen=True)
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
    fields: tuple[VariedField, ...] = ()  # of `vary`, in its order
    axes: tuple[Axis, ...] = ()  # the values that they take

    def case(self, option: Option) -> Case:
        """The case of one option on the study's own scenario."""
        return Case(self.machine, self.scenario, option.outfit)

    def case_at(self, option: Option, values: Mapping[str, Any]) -> Case:
        """The case of one option with the varied fields set.

        Args:
            values: by column, in its unit.

        Raises:
            InputError: a value that the models do not take.
        """
        models: dict[str, Spec] = {
            "machine": self.machine, "outfit": option.outfit, "scenario": self.scenario
        }  # fmt: skip
        for root, model in models.items():
            own = [field for field in self.fields if field.root == root]
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
    machine = load_machine(_beside("machine", plan.machine, path, document))
    study = Study(
        title=plan.title,
        machine=machine,
        scenario=load_scenario(_beside("scenario", plan.scenario, path, document), changes),
        options=_options(plan),
        vary=plan.vary,
        sample=plan.sample,
        find=plan.find,
        file=str(name_or_path),
    )
    _check_options(study, document)
    return _read_axes(study, document)


def _beside(kind: Kind, name: str, study: Path, document: toml.Document) -> str | Path:
    """The shipped name itself, or the path as seen from the study's folder.

    Raises:
        InputError: neither a shipped name nor a path that ends in .toml; a path that leads out.
    """
    if name in shipped(kind):
        return name
    where = f'{document.where((kind,))}: {kind} = "{name[:60]}"'
    if name.endswith(".toml"):
        return _inside(study.parent, name, where)
    if "/" in name or "\\" in name:
        raise InputError(f"{where}: allowed: a shipped name, or a path that ends in .toml")
    try:
        return find(kind, name)
    except InputError as error:
        raise InputError(f"{where}: {error}") from None


def _inside(folder: Path, name: str, where: str) -> Path:
    """The path, if what it leads to is in that folder or the one that people work in: a study
    from elsewhere opens no other file of theirs."""
    path = folder / name
    if not any(path.resolve().is_relative_to(root.resolve()) for root in (folder, Path.cwd())):
        raise InputError(
            f"{where}: leads out of the study's folder and of the one you work in; copy the file "
            "to the study's folder"
        )
    return path


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


def _check_options(study: Study, document: toml.Document) -> None:
    """Every option must suit the machine."""
    for number, option in enumerate(study.options):
        try:
            fit(study.machine, option.outfit, study.scenario.ground.downhill)
        except InputError as error:
            where = document.where(("option", number))
            raise InputError(f'{where}: option "{option.name}": {error}') from None


def _read_axes(study: Study, document: toml.Document) -> Study:
    """The study with its varied fields found, every one of their values tried."""
    base = _with_constants(study)
    found = []
    for name, vary in study.vary.items():
        try:
            found.append(find_axis(name, vary, *base))
        except InputError as error:
            raise InputError(f'{document.where(("vary", name))}: vary."{name}": {error}') from None
    varied = {field.name for field, _ in found}
    _check_find(study, varied, document)
    return replace(
        study, fields=tuple(field for field, _ in found), axes=tuple(axis for _, axis in found)
    )


def _with_constants(study: Study) -> tuple[Machine, Scenario, list[Outfit]]:
    """The models with every list of one value set, as others may need it beside theirs.

    What is wrong with one is found, and said, as it is tried by itself.
    """
    constants = {name: v.values[0] for name, v in study.vary.items() if len(v.values) == 1}
    outfits = [option.outfit for option in study.options]
    machine, scenario = study.machine, study.scenario
    own: dict[str, dict[str, Any]] = {"machine": {}, "outfit": {}, "": {}}
    for name, value in constants.items():
        root, _, rest = name.partition(".")
        own[root if root in own else ""][rest if root in own else name] = value
    with suppress(InputError):
        machine = machine.with_values(own["machine"])
        scenario = scenario.with_values(own[""])
        outfits = [outfit.with_values(own["outfit"]) for outfit in outfits]
    return machine, scenario, outfits


def _check_find(study: Study, varied: set[str], document: toml.Document) -> None:
    """What is looked for cannot be varied as well, and must be there."""
    if study.find is None:
        return
    find, place = study.find, document.where(("find",))
    count = len(study.scenario.feature)
    if find.varied.is_of_a_feature and find.feature > count:
        there = f"the scenario has {count}" if count else "the scenario has none"
        raise InputError(
            f'{place}: find.of = "{find.of}" needs a [[feature]], number {find.feature}: {there}'
        )
    field = find.varied.field.format(n=find.feature)
    if field in varied:
        raise InputError(
            f'{place}: find.of = "{find.of}" looks for what vary."{field}" sets; leave one out'
        )
