"""TOML files read with the line of every key kept, for messages that point at it."""

import re
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from sidehill.files.errors import InputError

Key = tuple[str | int, ...]  # where a value is: names of tables and keys, places in lists

_MAX_BYTES = 1_000_000
_MOST_DOTS = 200  # of one line
_DEEPEST = 20  # tables and lists inside each other; no file of ours needs a third of it
_PART = r"""(?:[A-Za-z0-9_-]+|"[^"]*"|'[^']*')"""
_DOTTED = rf"{_PART}(?:\s*\.\s*{_PART})*"
_HEADER = re.compile(rf"\s*\[(\[?)\s*({_DOTTED})\s*\]\]?\s*(?:#.*)?")
_PAIR = re.compile(rf"\s*({_DOTTED})\s*=(.*)")
_STRING = re.compile(r""""(?:\\.|[^"\\])*"|'[^']*\'""")


@dataclass(frozen=True)
class Document:
    """What was read, and where each piece of it was written."""

    name: str  # as people know it: a file, or "command line"
    data: dict[str, Any]
    lines: Mapping[Key, int] = field(default_factory=dict)
    overridden: frozenset[Key] = frozenset()  # written over the file, so no line of it
    set_by: str = ""  # what wrote them over, as people know it

    def where(self, key: Key) -> str:
        """File and line of a key, or of the nearest table around it that has one."""
        for end in range(len(key), 0, -1):
            if key[:end] in self.overridden:
                return f"{self.set_by} {dotted(key[:end])} (over {self.name})"
            if key[:end] in self.lines:
                return f"{self.name}, line {self.lines[key[:end]]}"
        return self.name


def dotted(key: Key) -> str:
    """The key as people write it: `feature.1.height`, places counted from 1."""
    return ".".join(str(part + 1) if isinstance(part, int) else _plain(part) for part in key)


def _plain(part: str) -> str:
    """A key as it may go to a terminal."""
    return part[:60] if part.isprintable() else ascii(part[:60])


def read(path: Path) -> Document:
    """The document at that path.

    Raises:
        InputError: missing, a directory, too large, too deep, not UTF-8, not TOML.
    """
    here = Path.cwd()
    name = str(path.relative_to(here) if path.is_relative_to(here) else path)
    if path.is_dir():
        raise InputError(f"{name}: a folder, not a file; name the .toml file inside it")
    if not path.is_file():
        raise InputError(f"{name}: no such file")
    try:
        with path.open("rb") as file:
            raw = file.read(_MAX_BYTES + 1)
    except OSError as error:
        raise InputError(f"{name}: cannot be read ({error.strerror})") from error
    if len(raw) > _MAX_BYTES:
        raise InputError(f"{name}: {path.stat().st_size} bytes; allowed up to {_MAX_BYTES}")
    try:
        text = raw.decode("utf-8-sig")
        _refuse_long_keys(name, text)
        data = tomllib.loads(text)
    except UnicodeDecodeError as error:
        line = raw[: error.start].count(b"\n") + 1
        raise InputError(f"{name}, line {line}: not UTF-8 text; save the file as UTF-8") from error
    except (ValueError, RecursionError) as error:  # tomllib lets a huge integer's ValueError out
        raise InputError(_not_toml(name, str(error))) from error
    return _shallow(Document(name, data, find_lines(text)))


def _refuse_long_keys(name: str, text: str) -> None:
    """A key of thousands of parts takes the parser minutes and all memory."""
    for number, line in enumerate(text.splitlines(), start=1):
        if line.count(".") > _MOST_DOTS:
            raise InputError(f"{name}, line {number}: over {_MOST_DOTS} dots in one line")


def _shallow(document: Document) -> Document:
    """The document, if nothing in it is nested beyond reason."""
    left: list[tuple[Key, Any]] = [((), document.data)]
    while left:
        key, value = left.pop()
        if len(key) > _DEEPEST:
            raise InputError(
                f"{document.where(key)}: {dotted(key[:1])}: tables and lists inside each other, "
                f"over {_DEEPEST} deep"
            )
        if isinstance(value, dict):
            left += [((*key, name), item) for name, item in value.items()]
        elif isinstance(value, list):
            left += [((*key, place), item) for place, item in enumerate(value)]
    return document


def _not_toml(name: str, reason: str) -> str:
    """The parser's own words, with the line in front."""
    said = re.fullmatch(
        r"(.*) \(at (?:line (\d+), column (\d+)|end of document)\)", reason, re.DOTALL
    )
    if said is None or said[2] is None:
        return f"{name}: not valid TOML: {reason}"
    return f"{name}, line {said[2]}: not valid TOML: {said[1]}, at column {said[3]}"


def override(document: Document, settings: tuple[str, ...]) -> Document:
    """The document with `table.key=value` settings written over it.

    A value is TOML, or the bare text of a quantity: both `ground.slope="18 deg"`
    and `ground.slope=18 deg` are taken.

    Raises:
        InputError: not of that form, or a path through something that is no table.
    """
    values = {}
    for setting in settings:
        path, equals, text = setting.partition("=")
        if not equals or not re.fullmatch(_DOTTED, path.strip()):
            raise InputError(f'--set {setting}: write it as field=value, as ground.slope="18 deg"')
        values[path.strip()] = _value(text.strip())
    return put(document, values, "--set")


def put(document: Document, values: Mapping[str, Any], by: str = "changed") -> Document:
    """The document with values written over dotted fields; items of a list count from 1.

    Args:
        by: what writes them over, for messages.

    Raises:
        InputError: a path through something that is no table, or no such item.
    """
    data = _copy(document.data)
    keys = {_put(data, _split(path), value) for path, value in values.items()}
    return Document(document.name, data, document.lines, document.overridden | keys, by)


def find_lines(text: str) -> dict[Key, int]:
    """The line, from 1, of every table header and key of a TOML text."""
    lines: dict[Key, int] = {}
    counts: dict[Key, int] = {}
    table: Key = ()
    open_lists, in_text = 0, False
    for number, line in enumerate(text.splitlines(), start=1):
        inside = in_text or open_lists > 0
        in_text ^= (line.count('"""') + line.count("'''")) % 2 == 1
        bare = _STRING.sub("", line).split("#")[0]
        header, pair = _HEADER.fullmatch(line), _PAIR.fullmatch(line)
        if not inside and header:
            table = _table_key(_split(header[2]), bool(header[1]), counts)
            lines.setdefault(table, number)
            continue
        if not inside and pair:
            lines.setdefault(table + _split(pair[1]), number)
        open_lists += bare.count("[") - bare.count("]")
    return lines


def _table_key(parts: Key, is_item: bool, counts: dict[Key, int]) -> Key:
    """The key of a header; `[[x]]` is the next item of x, `[x.y]` belongs to the last x."""
    key: Key = ()
    for part in parts[:-1] if is_item else parts:
        key += (part,)
        if key in counts:
            key += (counts[key] - 1,)
    if is_item:
        key += (parts[-1],)
        counts[key] = counts.get(key, 0) + 1
        key += (counts[key] - 1,)
    return key


def _split(text: str) -> Key:
    return tuple(part.strip("\"'") for part in re.findall(_PART, text))


def _value(text: str) -> Any:
    try:
        found = tomllib.loads(f"value = {text}")
    except (ValueError, RecursionError):
        return text
    return found["value"] if len(found) == 1 else text


def _copy(value: Any) -> Any:
    if isinstance(value, dict):
        return {key: _copy(item) for key, item in value.items()}
    return [_copy(item) for item in value] if isinstance(value, list | tuple) else value


def _put(data: Any, path: Key, value: Any) -> Key:
    """Write the value at the path, making tables on the way; the key it went to."""
    key: Key = ()
    for part in path:
        step = _step(data, part, key)
        last = len(key) + 1 == len(path)
        if last:
            data[step] = value
        elif isinstance(data, dict):
            data.setdefault(step, {})
        key += (step,)
        data = data[step]
    return key


def _step(data: Any, part: str | int, so_far: Key) -> str | int:
    if isinstance(data, dict):
        return part
    if not isinstance(data, list):
        raise InputError(f"--set {dotted((*so_far, part))}: {dotted(so_far)} is not a table")
    if not str(part).isdecimal() or not 1 <= int(part) <= len(data):
        raise InputError(
            f"--set {dotted(so_far)}.{part}: no such item; {dotted(so_far)} has {len(data)}, "
            "counted from 1"
        )
    return int(part) - 1
