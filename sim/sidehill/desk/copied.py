"""A shipped machine as the start of another: what is copied, what grows with it, what is not.

No rating is copied: it is its maker's, and another machine's would say "within" of nothing. A
copied height of a CG grows with larger tyres and never shrinks, a pivot pin shrinks and never
grows: both lower the slope at which a wheel lifts (judgement, no source).
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from sidehill.desk import fields
from sidehill.files import toml
from sidehill.files.errors import InputError
from sidehill.files.units import round_to, to_si
from sidehill.machine.file import Machine
from sidehill.machine.loader import lump
from sidehill.machine.outfit import Outfit

# ratings and rooms of another machine, and what a tyre's own size tells better
_LEFT_OUT = (
    "limits", "attachment", "weighed.roll_inertia", "weighed.cg_offset", "body.fender_gap",
    "front_tyre.max_load", "rear_tyre.max_load", "front_tyre.hub_offset", "rear_tyre.hub_offset",
    "rops.reference_mass",
)  # fmt: skip
_OF_ITS_SIZE = ("stiffness", "volume", "rim_diameter")  # of a tyre of another size


@dataclass(frozen=True)
class Ratios:
    """The typed machine over the copied one; 1 where it was not typed."""

    mass: float
    wheelbase: float
    front_tyre: float  # diameters
    rear_tyre: float


_Scale = Callable[[Ratios], float]
_GROWS: dict[str, _Scale] = {
    "weighed.cg_height": lambda r: max(1.0, r.rear_tyre),
    "front_axle.pivot_height": lambda r: min(1.0, r.front_tyre),
    "front_axle.cg_height": lambda r: r.front_tyre,
    "front_axle.mass": lambda r: r.mass,
    "front_tyre.mass": lambda r: r.mass,
    "rear_tyre.mass": lambda r: r.mass,
    "body.length": lambda r: r.wheelbase,
    "loader.frame_mass": lambda r: r.mass,
    "loader.arm_mass": lambda r: r.mass,
    "loader.bucket_mass": lambda r: r.mass,
    "loader.rated_load": lambda r: min(1.0, r.mass),
}
_AHEAD = ("loader.frame_cg", "loader.arm_pivot", "ballast.front")  # move with the front axle


@dataclass(frozen=True)
class Copied:
    """A document to write over, and where each of its fields comes from."""

    data: dict[str, Any]
    origins: Mapping[str, str]  # dotted field -> words


def copy_of(base: Machine, document: toml.Document, typed: Mapping[str, str]) -> Copied:
    """The base machine's document, made to go with what was typed.

    Args:
        typed: dotted fields as typed; those that are no quantity yet count as not typed.
    """
    data: dict[str, Any] = toml.put(document, {}).data
    ratios = _ratios(base, typed)
    for path in _LEFT_OUT:
        _drop(data, path)
    for end, ratio in (("front_tyre", ratios.front_tyre), ("rear_tyre", ratios.rear_tyre)):
        if f"{end}.width" in typed or f"{end}.diameter" in typed or ratio != 1.0:
            for name in _OF_ITS_SIZE:
                _drop(data, f"{end}.{name}")
    origins = dict.fromkeys(_single(data), f"copied from {base.name}")
    for path, scale in _GROWS.items():
        if path in origins and scale(ratios) != 1.0:
            _set(data, path, _scaled(data, path, scale(ratios)))
            origins[path] = f"copied from {base.name}, in proportion"
    for path in _AHEAD:
        table, _, name = path.partition(".")
        if name in data.get(table, {}) and ratios.wheelbase != 1.0:
            ahead, up = data[table][name]
            data[table][name] = [_times(ahead, "length", ratios.wheelbase), up]
    if "weighed.cg_height" not in typed:
        _set(data, "weighed.cg_height_from", "estimated")
    return Copied(data, origins)


def _ratios(base: Machine, typed: Mapping[str, str]) -> Ratios:
    def value(path: str, own: float) -> float:
        try:
            return to_si(typed[path], fields.dimension(path)) if path in typed else own
        except InputError:
            return own

    own = base.weighed
    mass = value("weighed.front_axle", own.front_axle) + value("weighed.rear_axle", own.rear_axle)
    both = "weighed.front_axle" in typed and "weighed.rear_axle" in typed
    as_weighed = own.mass
    if typed.get(fields.LOADER_ON) == "yes" and base.loader is not None:
        as_weighed += lump(base, Outfit().bucket_height)[0]
    found = Ratios(
        mass / as_weighed if both else 1.0,
        value("body.wheelbase", base.body.wheelbase) / base.body.wheelbase,
        value("front_tyre.diameter", base.front_tyre.diameter) / base.front_tyre.diameter,
        value("rear_tyre.diameter", base.rear_tyre.diameter) / base.rear_tyre.diameter,
    )
    kept = [r if 0.2 < r < 5.0 else 1.0 for r in vars(found).values()]  # else refused as typed
    return Ratios(*kept)


def _single(data: Mapping[str, Any]) -> list[str]:
    return [path for path in fields.OF_A_TRACTOR if _get(data, path) is not None]


def _get(data: Mapping[str, Any], path: str) -> Any:
    table, _, name = path.rpartition(".")
    inside = data.get(table, {}) if table else data
    return inside.get(name) if isinstance(inside, dict) else None


def _set(data: dict[str, Any], path: str, value: Any) -> None:
    table, _, name = path.rpartition(".")
    data[table][name] = value


def _drop(data: dict[str, Any], path: str) -> None:
    table, _, name = path.rpartition(".")
    inside = data.get(table, {}) if table else data
    inside.pop(name, None)


def _scaled(data: Mapping[str, Any], path: str, by: float) -> str:
    return _times(_get(data, path), fields.dimension(path), by)


def _times(text: Any, dimension: str, by: float) -> str:
    """A quantity times a ratio, in the metric unit of files."""
    unit, decimals = ("kg", 1) if dimension == "mass" else ("m", 3)
    return f"{round_to(to_si(text, dimension) * by, decimals):g} {unit}"
