"""What stands on the desk as files: machine, bank and study, as the commands read them."""

from collections.abc import Mapping
from pathlib import Path
from typing import Any

import tomlkit
from tomlkit.items import Item, Table

from sidehill.desk.bank import SAVED as BANK
from sidehill.desk.names import inside, plain
from sidehill.desk.question import SAVED as STUDY
from sidehill.desk.question import Question
from sidehill.desk.state import FILE, OWN, SHIPPED, State
from sidehill.files.errors import InputError
from sidehill.files.whole import write_file

MARK = "# Saved by the desk of Sidehill; change it there, or take the mark away and keep it.\n"
_OURS = ("bank", "study")  # stems that other files of the desk have


def save_all(question: Question, state: State, folder: Path) -> list[str]:
    """Write what is not shipped; the names of the files.

    Raises:
        InputError: something is not right yet, or a file of that name is not the desk's.
        SidehillError: the folder cannot be written to.
    """
    if question.study is None:
        raise InputError("not everything is right yet: see the fields that are marked")
    written = []
    if state["tractor"]["kind"] != SHIPPED:
        name = machine_name(question, state)
        _write(folder, name, _machine_text(question, state, folder), of_ours=_is_own(state))
        written.append(name)
    if state["bank"]["typed"]:
        _write(folder, BANK, MARK + _document(question.bank.data, {}))
        written.append(BANK)
    _write(folder, STUDY, MARK + _study_text(question, state))
    return [*written, STUDY]


def _is_own(state: State) -> bool:
    return bool(state["tractor"]["kind"] == OWN)


def _write(folder: Path, name: str, text: str, of_ours: bool = True) -> None:
    path = inside(folder, name)
    if of_ours and path.exists() and not _is_the_desks(path):
        raise InputError(f"{name}: there is such a file already, and the desk did not write it; "
                         "give another name")  # fmt: skip
    write_file(path, text.encode("utf-8"))


def _is_the_desks(path: Path) -> bool:
    with path.open("rb") as file:
        return file.read(len(MARK)) == MARK.encode("utf-8")


def machine_name(question: Question, state: State) -> str:
    """As the study and the commands name the machine: shipped, or its file."""
    tractor = state["tractor"]
    if tractor["kind"] == SHIPPED:
        return str(tractor["base"])
    if tractor["kind"] == FILE:
        return str(tractor["opened"])
    stem = plain(str(question.tractor.data.get("name", "")), "my-tractor")
    return f"{stem}-tractor.toml" if stem in _OURS else f"{stem}.toml"


def bank_name(state: State) -> str:
    """As the study and the commands name the bank."""
    return BANK if state["bank"]["typed"] else str(state["bank"]["base"])


def _machine_text(question: Question, state: State, folder: Path) -> str:
    """A new file with where each value comes from, or the opened one with its comments kept."""
    tractor = state["tractor"]
    if tractor["kind"] == OWN:
        remarks = dict(question.tractor.origins)
        return MARK + _document(question.tractor.data, remarks)
    path = inside(folder, tractor["opened"])
    document = tomlkit.parse(path.read_text(encoding="utf-8"))
    for field, text in tractor[FILE].items():
        _set(document, field.split("."), text)
    return tomlkit.dumps(document)


def _set(table: Any, keys: list[str], text: str) -> None:
    """A value in its place, the comment beside it kept."""
    for key in keys[:-1]:
        if key not in table:
            table[key] = tomlkit.table()
        table = table[key]
    value: Item = tomlkit.item(text)
    if keys[-1] in table:
        old = table[keys[-1]]
        value.trivia.comment_ws = old.trivia.comment_ws
        value.trivia.comment = old.trivia.comment
    table[keys[-1]] = value


def _document(data: Mapping[str, Any], remarks: Mapping[str, str]) -> str:
    """Tables of a file, each value with its remark."""
    document = tomlkit.document()
    for key, value in data.items():
        if isinstance(value, Mapping):
            document[key] = _table(value, key, remarks)
        elif isinstance(value, list) and value and isinstance(value[0], Mapping):
            tables = tomlkit.aot()
            for item in value:
                tables.append(_table(item, key, {}))
            document[key] = tables
        else:
            document[key] = _item(value, remarks.get(key, ""))
    return tomlkit.dumps(document)


def _table(values: Mapping[str, Any], name: str, remarks: Mapping[str, str]) -> Table:
    table = tomlkit.table()
    for key, value in values.items():
        table[key] = _item(value, remarks.get(f"{name}.{key}", ""))
    return table


def _item(value: Any, remark: str) -> Item:
    item: Item = tomlkit.item(value)
    if remark:
        item.comment(remark)
    return item


def _study_text(question: Question, state: State) -> str:
    """The options as typed, on that machine and bank."""
    options = [
        {"name": way.name, **option["typed"]}
        for way, option in zip(question.ways, state["options"], strict=True)
        if way.outfit is not None
    ]
    data = {
        "title": question.title,
        "machine": machine_name(question, state),
        "scenario": bank_name(state),
        "option": options,
    }
    return _document(data, {})
