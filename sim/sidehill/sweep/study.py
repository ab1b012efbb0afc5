"""A study: machine, scenario and the options to compare, loaded and checked."""

from dataclasses import dataclass
from pathlib import Path

from sidehill import toml
from sidehill.case import Case
from sidehill.errors import InputError
from sidehill.library import Kind, find, shipped
from sidehill.machine.build import fit
from sidehill.machine.file import Machine, load_machine
from sidehill.machine.outfit import Outfit
from sidehill.scenario.file import Scenario, load_scenario
from sidehill.spec import build
from sidehill.sweep.plan import Find, Sample, StudyFile, Vary

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

    def case(self, option: Option) -> Case:
        """The case of one option on the study's own scenario."""
        return Case(self.machine, self.scenario, option.outfit)

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


def load_study(name_or_path: str | Path) -> Study:
    """A shipped study by name, or the study file at a path.

    Machine and scenario are shipped names, or paths from the folder of the study file.

    Raises:
        InputError: file, line, field, value, what is allowed.
    """
    path = find("study", name_or_path)
    document = toml.read(path)
    plan = build(StudyFile, document).from_file(name_or_path)
    machine = load_machine(_beside("machine", plan.machine, path))
    study = Study(
        title=plan.title,
        machine=machine,
        scenario=load_scenario(_beside("scenario", plan.scenario, path)),
        options=_options(plan),
        vary=plan.vary,
        sample=plan.sample,
        find=plan.find,
        file=str(name_or_path),
    )
    _check_options(study, document)
    _check_varied(study, document)
    return study


def _beside(kind: Kind, name: str, study: Path) -> str | Path:
    """The shipped name itself, or the path as seen from the study's folder."""
    if name in shipped(kind) or not name.endswith(".toml"):
        return name
    return study.parent / name


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


def _check_varied(study: Study, document: toml.Document) -> None:
    """Every varied field must exist and take the values it is to have."""
    for field, vary in study.vary.items():
        table, _, rest = field.partition(".")
        for value in vary.tried:
            try:
                if table == "machine":
                    study.machine.with_values({rest: value})
                elif table == "outfit":
                    study.options[0].outfit.with_values({rest: value})
                else:
                    study.scenario.with_values({field: value})
            except InputError as error:
                place = document.where(("vary", field))
                raise InputError(f'{place}: vary."{field}": {error}') from None
