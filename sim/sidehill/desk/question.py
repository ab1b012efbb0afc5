"""All that was typed, read as a question: a study of options on a bank, or what is in its way."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path

from sidehill.desk.bank import Bank, read_bank
from sidehill.desk.state import State
from sidehill.desk.tractor import Tractor, read_tractor
from sidehill.files import toml
from sidehill.files.errors import InputError
from sidehill.files.spec import checked
from sidehill.machine.build import fit
from sidehill.machine.file import Machine
from sidehill.machine.outfit import Outfit
from sidehill.scenario.file import Scenario
from sidehill.study.plan import NamedOutfit
from sidehill.study.study import Option, Study

SAVED = "study.toml"
_WHOLE = ""


@dataclass(frozen=True)
class Way:
    """One option as typed: an outfit that suits the machine, or what is wrong with it."""

    name: str
    outfit: Outfit | None
    problems: Mapping[str, str] = field(default_factory=dict)  # field -> words


@dataclass(frozen=True)
class Question:
    """The whole of it."""

    tractor: Tractor
    bank: Bank
    ways: tuple[Way, ...]
    title: str
    us: bool

    @property
    def study(self) -> Study | None:
        """What can be computed; None while anything that all of it needs is wrong or missing."""
        machine, scenario = self.tractor.machine, self.bank.scenario
        if machine is None or scenario is None or not self.tractor.is_whole:
            return None
        options = tuple(Option(w.name, w.outfit) for w in self.ways if w.outfit is not None)
        if not options or self.ways[0].outfit is None:
            return None
        return Study(self.title, machine, scenario, options, {}, None, None, SAVED)


def read_question(state: State, folder: Path) -> Question:
    """The question that a state asks."""
    tractor, bank = read_tractor(state, folder), read_bank(state)
    ways: list[Way] = []
    for option in state["options"]:
        names = [way.name for way in ways]
        ways.append(_way(option, names, tractor.machine, bank.scenario))
    title = state["title"].strip() or "On this bank"
    return Question(tractor, bank, tuple(ways), title[:80], state["units"] == "us")


def _way(
    option: State, names: list[str], machine: Machine | None, scenario: Scenario | None
) -> Way:
    data = {**option["typed"], "name": option["name"]}
    read, problems = checked(NamedOutfit, toml.Document("option", data))
    told: dict[str, str] = {}
    for problem in problems:
        told.setdefault(toml.dotted(problem.key), problem.words)
    name = str(option["name"]).strip()
    if name in names:
        told["name"] = "allowed: a name no other one has"
    if read is None or told:
        return Way(name or f"option {len(names) + 1}", None, told)
    outfit = Outfit(**option["typed"])
    if machine is not None:
        downhill = "right" if scenario is None else scenario.ground.downhill
        try:
            fit(machine, outfit, downhill)
        except InputError as error:
            return Way(name, None, _placed(str(error)))
    return Way(name, outfit)


def _placed(message: str) -> dict[str, str]:
    """A misfit beside the field that it begins with."""
    first = message.split(" ", 1)[0].rstrip(":")
    return {first if first in Outfit.model_fields else _WHOLE: message}
