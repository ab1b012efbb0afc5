"""Which pictures suit a study, told from what it varies and looks for."""

from dataclasses import dataclass
from difflib import get_close_matches
from typing import Any

from sidehill.files.errors import InputError
from sidehill.run.facts import NOT_ACROSS, NOT_STARTED
from sidehill.study.plan import Find
from sidehill.sweep.measure import STABILITY

OPTION = "option"


@dataclass(frozen=True)
class Map:
    """A result over two columns."""

    x: str
    y: str
    of: str

    @property
    def name(self) -> str:
        """Of its file."""
        return f"map-{self.of}"


@dataclass(frozen=True)
class Curves:
    """Limits over a column, a line a level of another one."""

    x: str
    by: str | None
    rest: tuple[str, ...]  # columns that have panes of their own
    name: str = "curves"


@dataclass(frozen=True)
class Chances:
    """Probabilities of events, at every level of some columns."""

    at: tuple[str, ...]
    name: str = "chances"


@dataclass(frozen=True)
class Fragility:
    """Shares of draws in which an event has come, over what limits are of, at every level of some
    columns."""

    at: tuple[str, ...]
    name: str = "fragility"


@dataclass(frozen=True)
class Shares:
    """Sensitivity of results."""

    of: tuple[str, ...]
    name: str = "shares"


@dataclass(frozen=True)
class Traces:
    """Roll over the path of some cases."""

    cases: tuple[str, ...]
    name: str = "traces"


Picture = Map | Curves | Chances | Fragility | Shares | Traces


@dataclass(frozen=True)
class Varied:
    """What a study varies, by column."""

    lists: tuple[str, ...]  # of more than one value
    fixed: tuple[str, ...]  # of one value
    spreads: tuple[str, ...]  # drawn at random
    names: dict[str, str]  # name in the study -> column

    def column(self, name: str) -> str:
        """The column of a field by either name, or `option`.

        Raises:
            InputError: not varied; the nearest is offered.
        """
        known = self.names | {column: column for column in self.names.values()} | {OPTION: OPTION}
        if name in known:
            return known[name]
        near = get_close_matches(name, known, n=1)
        offer = f'did you mean "{near[0]}"?' if near else f"it varies {', '.join(self.names)}"
        raise InputError(f'no varied field "{name}"; {offer}')


def varied(meta: dict[str, Any]) -> Varied:
    """What varies, by what results say of themselves."""
    names = {field["name"]: field["column"] for field in meta["fields"]}
    is_grid = meta["sample"]["method"] in ("grid", "table")
    lists: list[str] = []
    fixed: list[str] = []
    spreads: list[str] = []
    for name in names:
        vary = meta["vary"].get(name, {"form": "table", "values": ()})  # a column of a table
        is_list = vary["form"] in ("list", "range")
        if is_list and len(vary["values"]) == 1:
            fixed.append(names[name])
        else:
            (lists if is_list and is_grid else spreads).append(names[name])
    return Varied(tuple(lists), tuple(fixed), tuple(spreads), names)


def plan(
    meta: dict[str, Any], x: str | None, y: str | None, of: str | None, traces: tuple[str, ...]
) -> list[Picture]:
    """The pictures that are asked for, or that suit the study.

    Raises:
        InputError: there is nothing to draw, or a field is not one of those that vary.
    """
    known = varied(meta)
    if traces:
        return [Traces(traces)]
    if x or y or of:
        return [_map(meta, known, x, y, name) for name in ([of] if of else _results(meta))]
    found: list[Picture] = []
    if meta["find"] and known.spreads:
        found.append(Fragility(known.lists))
    if meta["find"] and known.lists:
        by = known.lists[1] if len(known.lists) > 1 else None
        found.append(Curves(known.lists[0], by, known.lists[2:]))
    elif known.spreads and not meta["find"]:
        found.append(Chances(known.lists))
    elif known.lists and not meta["find"]:
        found += [_map(meta, known, None, None, name) for name in _results(meta)]
    if meta["sample"]["method"] in ("saltelli", "shapley"):
        found.append(Shares(_shared(meta)))
    if not found:
        raise InputError(
            f"{meta['file']}: varies nothing that could be drawn over; give it a [vary] table, "
            "or choose cases with --trace"
        )
    return found


def _map(meta: dict[str, Any], known: Varied, x: str | None, y: str | None, of: str) -> Map:
    """A map, its axes filled in where they are not given."""
    free = [*known.lists, *known.spreads, OPTION]
    given = [known.column(name) for name in (x, y) if name]
    left = [name for name in free if name not in given]
    if len(given) + len(left) < 2 or len(set(given)) < len(given):
        raise InputError(f"{meta['file']}: a map needs two things that vary: {', '.join(free)}")
    across = known.column(x) if x else left.pop(0)
    return Map(across, known.column(y) if y else left.pop(0), of)


def _results(meta: dict[str, Any]) -> list[str]:
    """What maps are drawn of by themselves."""
    return limits_of(meta) or [STABILITY, "peak_roll_deg"]


def _shared(meta: dict[str, Any]) -> tuple[str, ...]:
    return tuple(limits_of(meta)) or ("least_balance_angle_deg", NOT_ACROSS, NOT_STARTED)


def limits_of(meta: dict[str, Any]) -> list[str]:
    """Columns of the limits that were looked for."""
    if meta["find"] is None:
        return []
    find = Find(**meta["find"])
    return [f"{event}_good_up_to_{find.varied.suffix}" for event in find.until]
