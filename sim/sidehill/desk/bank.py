"""The bank on the desk: a shipped scenario, with what was typed over it."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from math import isfinite, tan
from typing import Any

from sidehill.desk.fields import LOADER_HEIGHT
from sidehill.desk.state import State
from sidehill.files import toml
from sidehill.files.errors import InputError
from sidehill.files.library import find, shipped
from sidehill.files.spec import checked
from sidehill.files.units import show_slope
from sidehill.scenario.file import Scenario, load_scenario
from sidehill.scenario.shapes import SHAPES

SAVED = "bank.toml"
AS_IT_IS, NOTHING = "", "none"
AS_FITTED = "as fitted"  # the bucket on the way, where the bank moves it
_SIZES = {"length": "0.8 m", "width": "0.6 m", "time": "1 s"}  # of a shape not yet there


@dataclass(frozen=True)
class Bank:
    """What was read: a scenario, or what is wrong, field by field."""

    scenario: Scenario | None
    problems: Mapping[str, str] = field(default_factory=dict)  # dotted field -> words
    data: Mapping[str, Any] = field(default_factory=dict)  # of the file that it would make


def choices() -> list[tuple[str, str]]:
    """Names and titles of the shipped scenarios that are driven."""
    found = [(name, load_scenario(name)) for name in shipped("scenario")]
    return [(name, s.title) for name, s in found if not s.course.is_tilt_table]


def read_bank(state: State) -> Bank:
    """The bank that a state describes."""
    bank = state["bank"]
    typed, base = dict(bank["typed"]), bank["base"]
    try:
        document = toml.read(find("scenario", base))
        data = toml.put(document, {}).data
        _lay(data, typed)
        if typed.get(LOADER_HEIGHT) == AS_FITTED:
            typed.pop(LOADER_HEIGHT)
            data.pop("loader", None)
        document = toml.put(toml.Document(SAVED, data), _in_file(typed))
    except InputError as error:
        return Bank(None, {"": str(error)})
    scenario, problems = checked(Scenario, document)
    told: dict[str, str] = {}
    for problem in problems:
        told.setdefault(_as_named(toml.dotted(problem.key)), problem.words)
    if scenario is None:
        return Bank(None, told, document.data)
    name = base if not bank["typed"] else SAVED
    return Bank(scenario.from_file(name), told, document.data)


def own_shape(state: State) -> str:
    """The shape of what lies on the bank to begin with; the first of several."""
    own = toml.read(find("scenario", state["bank"]["base"])).data.get("feature", [])
    return str(own[0]["shape"]) if own else NOTHING


def lifts(state: State) -> bool:
    """Whether the bank to begin with moves the bucket on the way."""
    return "loader" in toml.read(find("scenario", state["bank"]["base"])).data


def _lay(data: dict[str, Any], typed: dict[str, str]) -> None:
    """What lies there: as the scenario has it, nothing, or one thing of a shape."""
    shape = typed.pop("feature.shape", AS_IT_IS)
    sizes = {
        path.partition(".")[2]: typed.pop(path) for path in list(typed) if path[:8] == "feature."
    }
    own = data.get("feature", [])
    if shape == NOTHING:
        data.pop("feature", None)
        return
    if shape != AS_IT_IS and (not own or own[0]["shape"] != shape or len(own) > 1):
        data["feature"] = [{"shape": shape, "at": _middle(data), **_begin(shape)}]
    if data.get("feature"):
        data["feature"][0] |= sizes


def _begin(shape: str) -> dict[str, str]:
    """The sizes that a shape begins with, and its place under a wheel if it is narrow."""
    if shape not in SHAPES:
        return {}
    needs = SHAPES[shape].needs
    under = {"wheels": "downhill" if SHAPES[shape].sinks else "uphill"} if "width" in needs else {}
    return {"height": "100 mm", **{size: _SIZES[size] for size in needs}, **under}


def _middle(data: Mapping[str, Any]) -> str:
    return "5 m" if "length" in data.get("course", {}) else "1 m"


def _in_file(typed: Mapping[str, str]) -> dict[str, Any]:
    """Typed fields as the file has them."""
    words: dict[str, Any] = {"yes": True, "no": False}
    return {
        path: words.get(text, text) if path == "drive.four_wheel" else text
        for path, text in typed.items()
    }


def _as_named(path: str) -> str:
    return path.replace("feature.1.", "feature.", 1)


def slope_words(angle: float) -> str:
    """A slope [rad] in each way that people say it: "10.0 deg (18 %), 1 : 5.7"."""
    if not isfinite(angle) or angle <= 0.0:
        return show_slope(angle)
    return f"{show_slope(angle)}, 1 : {1.0 / tan(angle):.1f}"
