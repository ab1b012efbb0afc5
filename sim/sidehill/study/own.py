"""Draws of one's own: a table with a row a draw, CSV or Parquet, its units in the head."""

import re
from pathlib import Path
from typing import TYPE_CHECKING, Any

from sidehill.files.errors import InputError
from sidehill.study.axes import Models, find_axis
from sidehill.study.axis import Axis
from sidehill.study.field import VariedField
from sidehill.study.varied import Varied
from sidehill.study.vary import Vary

if TYPE_CHECKING:
    import pandas as pd

ENDINGS = (".csv", ".parquet")
MOST_ROWS = 10_000_000
_HEAD = re.compile(r"\s*(.+?)\s*(?:\[\s*(.*?)\s*\])?\s*")
_MOST_WORDS = 100  # different ones of a column


def read_draws(path: Path, models: Models) -> Varied:
    """Fields and axes of a table: its heads are fields, as "machine.weighed.cg_height [mm]".

    Raises:
        InputError: unreadable, empty, a head that is no field, a value that it does not take.
    """
    table = _read(path)
    if table.empty or not len(table.columns):
        raise InputError(f"{path}: no draws in it; needed: a head and a row a draw")
    fields, axes = [], []
    for head in table.columns:
        try:
            field, axis = _column(str(head), table[head], models)
        except InputError as error:
            raise InputError(f'{path}: column "{head}": {error}') from None
        fields.append(field)
        axes.append(axis)
    names = [field.name for field in fields]
    if len(set(names)) < len(names):
        raise InputError(f"{path}: two columns of one field; allowed: each once")
    return tuple(fields), tuple(axes)


def with_draws(varied: Varied, folder: Path, name: str, models: Models, where: str = "") -> Varied:
    """What varies beside the rows of a table, and they: its lists are crossed with them.

    Raises:
        InputError: as `read_draws`; a field that varies already, or is drawn besides.
    """
    fields, axes = varied
    try:
        own, draws = read_draws(folder / name, models)
    except InputError as error:
        raise InputError(f"{where}{error}") from None
    twice = {field.name for field in fields} & {field.name for field in own}
    besides = [axis.field for axis in axes if axis.is_drawn]
    if twice or besides:
        found = ", ".join(sorted(twice)) or ", ".join(besides)
        raise InputError(f"{where}{found}: allowed in [vary] beside a table: lists and ranges")
    return (*fields, *own), (*axes, *draws)


def _read(path: Path) -> "pd.DataFrame":
    import pandas as pd  # takes long to load, and few studies have a table

    if path.suffix not in ENDINGS:
        raise InputError(f"{path}: the name must end in {' or '.join(ENDINGS)}")
    if not path.is_file():
        raise InputError(f"{path}: no such file")
    try:
        if path.suffix == ".csv":
            return pd.read_csv(path, nrows=MOST_ROWS, keep_default_na=False, dtype=str)
        return pd.read_parquet(path)
    except (OSError, ValueError) as error:
        first = str(error).partition("\n")[0]
        raise InputError(f"{path}: cannot be read as a table ({first})") from None


def _column(head: str, values: "pd.Series", models: Models) -> tuple[VariedField, Axis]:
    """A column as an axis; its lowest and highest value, or all its words, are tried."""
    import pandas as pd

    parts = _HEAD.fullmatch(head)
    name, unit = (parts[1], parts[2] or "") if parts else (head, "")
    numbers = pd.to_numeric(values, errors="coerce")
    if numbers.isna().all():
        words = tuple(str(word) for word in values.unique())
        if len(words) > _MOST_WORDS:
            raise InputError(f"over {_MOST_WORDS} different words; allowed: numbers, or a choice")
        field, _ = find_axis(name, Vary(form="list", values=words), models)
        return field, Axis(field.column, "table", tuple(str(v) for v in values), field.name)
    if numbers.isna().any():
        row = int(numbers.isna().to_numpy().argmax())
        raise InputError(f'row {row + 2}: "{values.iloc[row]}": not a number')
    ends = tuple(_written(end, unit) for end in (numbers.min(), numbers.max()))
    field, _ = find_axis(name, Vary(form="list", values=ends), models)
    read = tuple(field.read(_written(number, unit)) for number in numbers)
    return field, Axis(field.column, "table", read, field.name)


def _written(number: Any, unit: str) -> Any:
    """A number as a file's field takes it."""
    if unit:
        return f"{float(number)!r} {unit}"
    return int(number) if float(number).is_integer() else float(number)
