"""What was typed on the desk, as it was typed: kept, restored, never corrected.

Places of it are named by paths with slashes, as "tractor/own/weighed.front_axle" or
"options/2/typed/rear_spacer"; options count from 1.
"""

import re
import unicodedata
from collections.abc import Sequence
from copy import deepcopy
from typing import Any

from sidehill.desk import fields
from sidehill.files.errors import InputError
from sidehill.files.library import shipped

MOST_OPTIONS = 6
LONGEST = 200  # characters of one field
OWN, FILE, SHIPPED = "own", "file", "shipped"  # kinds of tractor
_KNOWN = {
    "units": re.compile("metric|us"),
    "tractor/kind": re.compile("|".join((OWN, FILE, SHIPPED))),
    "tractor/base": re.compile(r"[a-z][a-z0-9-]{0,40}"),
    "tractor/opened": re.compile(r"(?:[A-Za-z0-9][A-Za-z0-9 _-]{0,39}\.toml)?"),
    "bank/base": re.compile(r"[a-z][a-z0-9-]{0,40}"),
    "title": re.compile(r".{0,200}"),
}

State = dict[str, Any]


def first_state() -> State:
    """What a desk opens with: a shipped tractor as it stands on a bank with a stone, wider beside
    it, and with a raised load."""
    load = {"bucket_load": "250 kg", "bucket_height": "full"}
    return {
        "units": "metric",
        "title": "Which change helps on this bank?",
        "tractor": {"kind": SHIPPED, "base": "bramble", "opened": "", OWN: {}, FILE: {}},
        "bank": {"base": "bank-stone", "typed": {}},
        "options": [
            {"name": "as it stands", "typed": {}},
            {"name": "rear spacers", "typed": {"rear_spacer": "76 mm"}},
            {"name": "a load, raised", "typed": load},
        ],
    }


def put(state: State, path: str, text: str) -> None:
    """Write one field, as typed; empty text takes it away.

    Raises:
        InputError: no such field, or a text that no field can hold.
    """
    if len(text) > LONGEST or any(ord(letter) < 32 for letter in text):
        raise InputError(f"a field holds one line of up to {LONGEST} characters")
    parts = path.split("/")
    if path in _KNOWN:
        _put_known(state, parts, path, text)
    elif parts[:1] == ["tractor"] and len(parts) == 3 and parts[1] in (OWN, FILE):
        asked = fields.OF_A_TRACTOR - (fields.NOT_IN_A_FILE if parts[1] == FILE else set())
        _put_typed(state["tractor"][parts[1]], parts[2], text, asked)
    elif parts[:2] == ["bank", "typed"] and len(parts) == 3:
        _put_typed(state["bank"]["typed"], parts[2], text, fields.OF_A_BANK)
    elif parts[:1] == ["options"] and len(parts) in (3, 4):
        _put_option(_option(state, parts[1]), parts[2:], text)
    else:
        raise _unknown(path)


def _put_known(state: State, parts: list[str], path: str, text: str) -> None:
    if not _KNOWN[path].fullmatch(text):
        raise InputError(f"{path}: {text[:40]!r} is none of what can be chosen")
    if any(unicodedata.category(letter).startswith("C") for letter in text):
        raise InputError(f"{path}: has control characters, which turn what stands beside them")
    table = state
    for part in parts[:-1]:
        table = table[part]
    table[parts[-1]] = text


def _put_typed(table: dict[str, str], name: str, text: str, known: frozenset[str]) -> None:
    if name not in known:
        raise _unknown(name)
    if text.strip():
        table[name] = text
    else:
        table.pop(name, None)


def _put_option(option: State, parts: list[str], text: str) -> None:
    if parts == ["name"]:
        option["name"] = text
    elif len(parts) == 2 and parts[0] == "typed":
        _put_typed(option["typed"], parts[1], text, fields.OF_AN_OPTION)
    else:
        raise _unknown("/".join(parts))


def _option(state: State, number: str) -> State:
    options = state["options"]
    if not number.isdecimal() or not 1 <= int(number) <= len(options):
        raise InputError(f"option {number[:10]}: there are {len(options)}")
    found: State = options[int(number) - 1]
    return found


def _unknown(path: str) -> InputError:
    return InputError(f"no such field: {path[:60]}")


def option_of(changes: Sequence[tuple[str, str]]) -> int:
    """The option that the changes are of; 0: of no single one."""
    found = {path.split("/")[1] for path, _ in changes if path.startswith("options/")}
    return (
        int(next(iter(found)))
        if len(found) == 1 and len(found) == len({path.split("/")[0] for path, _ in changes})
        else 0
    )


def add_option(state: State, like: int) -> None:
    """One more option, like the one of that number.

    Raises:
        InputError: there is no room, or no such option.
    """
    if len(state["options"]) >= MOST_OPTIONS:
        raise InputError(f"up to {MOST_OPTIONS} options stand side by side; remove one first")
    new = deepcopy(_option(state, str(like)))
    new["name"] = f"option {len(state['options']) + 1}"
    state["options"].append(new)


def remove_option(state: State, number: int) -> None:
    """Take an option away; one stays.

    Raises:
        InputError: it is the last one, or there is no such option.
    """
    gone = _option(state, str(number))
    if len(state["options"]) == 1:
        raise InputError("one option stays: the tractor as it stands")
    state["options"].remove(gone)


def restored(kept: Any) -> State:
    """The state that a kept one describes, field by field, whatever else is in it.

    Raises:
        InputError: it is none.
    """
    if not isinstance(kept, dict) or not isinstance(kept.get("options"), list):
        raise InputError("not what a desk keeps")
    state = first_state()
    state["options"] = [{"name": "", "typed": {}} for _ in kept["options"][:MOST_OPTIONS]] or [
        {"name": "as it stands", "typed": {}}
    ]
    for path, text in _leaves(kept):
        put(state, path, text)
    _must_be_shipped(state)
    return state


def _must_be_shipped(state: State) -> None:
    bases = (("machine", state["tractor"]["base"]), ("scenario", state["bank"]["base"]))
    for kind, name in bases:
        if name not in shipped(kind):  # type: ignore[arg-type]
            raise InputError(f"no {kind} called {name} is shipped")


def _leaves(value: Any, path: str = "") -> list[tuple[str, str]]:
    if isinstance(value, str):
        return [(path, value)]
    if isinstance(value, dict):
        pairs = [(str(key), item) for key, item in value.items()]
    elif isinstance(value, list):
        pairs = [(str(place), item) for place, item in enumerate(value, start=1)]
    else:
        raise InputError(f"{path[:60]}: not text")
    return [leaf for key, item in pairs for leaf in _leaves(item, f"{path}/{key}".lstrip("/"))]
