"""The fields of the desk's forms: what they are called, how one measures them, where they stand."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any, Literal, get_args, get_origin

from pydantic import BaseModel
from pydantic.fields import FieldInfo

from sidehill.files.errors import InputError
from sidehill.files.fields import Quantity
from sidehill.files.problems import note_of
from sidehill.files.units import round_to, to_si
from sidehill.machine.file import Machine
from sidehill.machine.outfit import Outfit
from sidehill.machine.weigh import Readings
from sidehill.scenario.file import Scenario
from sidehill.scenario.ground import Feature

SCALES, RAISED, TAPE, BROCHURE, REST = "scales", "raised", "tape", "brochure", "rest"
LOADER, ROPS, LOADER_ON = "loader", "rops", "loader_on"  # asked as yes or no
YES_NO = ("yes", "no")
WEIGH = "weigh."  # readings with the front raised: they make a height, and stand in no file


@dataclass(frozen=True)
class Field:
    """One field of a form."""

    path: str  # dotted, in the file; or one of the yes and no
    words: str
    hint: str = ""  # how to measure it, or where it stands
    choices: tuple[str, ...] = ()
    is_wanted: bool = False  # an answer for one's own tractor needs it


_GROUPS: dict[str, tuple[Field, ...]] = {
    SCALES: (
        Field("weighed.front_axle", "front axle", "front wheels on the scales, level, nobody on "
              "the seat, tank full", is_wanted=True),
        Field("weighed.rear_axle", "rear axle", "rear wheels on the scales, the same",
              is_wanted=True),
        Field(LOADER, "has a loader", "asked here because it may have been on the scales too",
              YES_NO, is_wanted=True),
        Field(LOADER_ON, "loader on while it was weighed?", "asked if it has one. Yes: bucket low "
              "and empty; its weight is taken off again", YES_NO),
    ),
    RAISED: (
        Field(f"{WEIGH}raised_front", "front axle, raised", "the scale under the raised front "
              "wheels; brakes off, out of gear, all wheels free to roll"),
        Field(f"{WEIGH}tilt", "tilt", "of the chassis then, from level: a phone's level on the "
              "frame, less what it shows when level; 10 deg or more"),
        Field(f"{WEIGH}front_radius", "front axle to ground", "wheel centre to ground, level"),
        Field(f"{WEIGH}rear_radius", "rear axle to ground", "wheel centre to ground, level"),
    ),
    TAPE: (
        Field("body.wheelbase", "wheelbase", "front axle centre to rear axle centre",
              is_wanted=True),
        Field("front_tyre.track", "front track", "tyre centre to tyre centre", is_wanted=True),
        Field("rear_tyre.track", "rear track", "tyre centre to tyre centre", is_wanted=True),
        Field("front_tyre.diameter", "front tyre, height", "ground to the top of the tread; of "
              "27x8.50-15 on its side the 27, in inches", is_wanted=True),
        Field("front_tyre.width", "front tyre, width", "across the section; of 27x8.50-15 the "
              "8.50, in inches", is_wanted=True),
        Field("rear_tyre.diameter", "rear tyre, height", "ground to the top of the tread; 11.2-24 "
              "on its side does not tell it", is_wanted=True),
        Field("rear_tyre.width", "rear tyre, width", "across the section; of 11.2-24 the 11.2, in "
              "inches", is_wanted=True),
        Field("front_axle.pivot_height", "pivot pin of the front axle", "ground to the middle of "
              "the pin that it rocks on"),
        Field("front_axle.swing", "swing of the front axle", "from level until it meets its stop, "
              "one way"),
        Field("weighed.cg_height", "height of the centre of gravity", "above the ground, without "
              "the loader; leave it empty if nobody weighed it"),
        Field("weighed.cg_height_from", "that height is", "weighed: good to 5 %; else 15 %",
              ("estimated", "weighed")),
        Field("front_tyre.pressure", "front tyre pressure", "a gauge tells"),
        Field("rear_tyre.pressure", "rear tyre pressure", "a gauge tells"),
        Field("body.width", "body width", "without wheels"),
        Field("body.fender_gap", "room to the fender", "how far out a rear tyre may move, a side"),
    ),
    BROCHURE: (
        Field("loader.rated_load", "loader, rated load", "on its plate"),
        Field("loader.full_height", "loader, full height", "of the bucket's pin"),
        Field(ROPS, "has a roll bar", "yes or no", YES_NO),
        Field("rops.reference_mass", "roll bar, tested for", "a mass, on its plate"),
        Field("limits.front_axle", "front axle rating", "a mass, in the manual"),
        Field("limits.rear_axle", "rear axle rating", "a mass, in the manual"),
        Field("front_tyre.max_load", "front tyre rating", "a mass each, on its side"),
        Field("rear_tyre.max_load", "rear tyre rating", "a mass each, on its side"),
        Field("drive.driven", "driven wheels", "four: it has a front drive", ("four", "rear")),
    ),
}  # fmt: skip


def _paths(model: type[BaseModel], prefix: str = "") -> Iterator[tuple[str, FieldInfo]]:
    """Every single value of a file's tables; lists of tables are left to the file itself."""
    for name, known in model.model_fields.items():
        inner = [part for part in (known.annotation, *get_args(known.annotation))]
        table = next((i for i in inner if isinstance(i, type) and issubclass(i, BaseModel)), None)
        if get_origin(known.annotation) is tuple:
            continue
        if table is not None:
            yield from _paths(table, f"{prefix}{name}.")
        else:
            yield f"{prefix}{name}", known


_OF_MACHINE = dict(_paths(Machine))
_OF_FEATURE = dict(_paths(Feature, "feature."))
_KNOWN = dict(_paths(Scenario)) | _OF_FEATURE | _OF_MACHINE | dict(_paths(Readings, WEIGH))
_PLACED = {item.path for group in _GROUPS.values() for item in group}
_NOT_SINGLE = {"loader.frame_cg", "loader.arm_pivot", "ballast.rear_box", "ballast.front"}


def _choices(known: FieldInfo) -> tuple[str, ...]:
    options = [known.annotation, *get_args(known.annotation)]
    return next((get_args(item) for item in options if get_origin(item) is Literal), ())


GROUPS = _GROUPS | {
    REST: tuple(
        Field(path, path.replace("_", " ").replace(".", ", "), choices=_choices(known))
        for path, known in _OF_MACHINE.items()
        if path not in _PLACED | _NOT_SINGLE
    )
}
OF_A_TRACTOR = frozenset(item.path for group in GROUPS.values() for item in group)
NOT_IN_A_FILE = frozenset({LOADER, ROPS, LOADER_ON, *(item.path for item in GROUPS[RAISED])})
WANTED = tuple(item for group in GROUPS.values() for item in group if item.is_wanted)
BY_PATH = {item.path: item for group in GROUPS.values() for item in group}


def dimension(path: str) -> str:
    """The kind of quantity of a field of tractor or bank; empty where it is none."""
    note = note_of(_KNOWN.get(path))
    return note.dimension if isinstance(note, Quantity) else ""


LOADER_HEIGHT = "loader.height"  # of a bank on which the loader moves
OF_A_BANK = frozenset({
    "ground.slope", "ground.grade", "ground.downhill", "ground.friction", "ground.stiffness",
    "ground.roughness", "course.length", "drive.speed", "drive.four_wheel", "drive.differential",
    "feature.shape", "feature.height", "feature.length", "feature.width", "feature.time",
    "feature.wheels", LOADER_HEIGHT,
})  # fmt: skip


@dataclass(frozen=True)
class Dial:
    """One field of an option: with a slider, in either system of units."""

    path: str
    words: str
    hint: str = ""
    unit: tuple[str, str] = ("", "")  # metric, US
    range: tuple[tuple[float, float, float], ...] = ()  # low, high, step in each
    choices: tuple[str, ...] = ()  # words that may be typed instead
    is_rare: bool = False  # shown at once only where it is used


_MM = ("mm", "in")
_KG = ("kg", "lb")
DIALS = (
    Dial("rear_spacer", "rear spacers, a side", "", _MM, ((0, 150, 2), (0, 6, 0.25))),
    Dial("front_spacer", "front spacers, a side", "", _MM, ((0, 150, 2), (0, 6, 0.25))),
    Dial("rear_fill", "rear tyres filled", "75 %: level with the valve at 12 o'clock", ("%", "%"),
         ((0, 75, 5), (0, 75, 5))),
    Dial("rear_ballast", "rear box", "", _KG, ((0, 500, 10), (0, 1000, 25))),
    Dial("rear_wheel_weight", "rear wheel weights", "each", _KG,
         ((0, 150, 5), (0, 300, 10)), is_rare=True),
    Dial("front_weight", "front weight", "", _KG, ((0, 300, 10), (0, 600, 25)),
         is_rare=True),
    Dial("bucket_load", "load in the bucket", "", _KG, ((0, 800, 10), (0, 1800, 25))),
    Dial("bucket_height", "bucket height", "carry, full, or the height of its pin", _MM,
         ((100, 2500, 50), (4, 100, 2)), ("carry", "full")),
    Dial("hung_load", "load hung on a rope", "from the bucket; a hazard: it swings", _KG,
         ((0, 800, 10), (0, 1800, 25)), is_rare=True),
    Dial("rope", "its rope", "500 mm if left empty", _MM, ((100, 2000, 50), (4, 80, 2)),
         is_rare=True),
    Dial("front_axle_swing", "front axle swing", "a tighter stop than its own", ("deg", "deg"),
         ((0, 15, 0.5), (0, 15, 0.5)), is_rare=True),
)  # fmt: skip
CHOICES = ("attachment", "attachment_at", "liquid", "rops")  # of an option, from a list
OF_AN_OPTION = frozenset(Outfit.model_fields)


def choices_of(path: str, machine: Machine | None) -> tuple[str, ...]:
    """What may be chosen for a field of an option, the first as if nothing was."""
    from sidehill.machine.outfit import LIQUIDS

    attached = () if machine is None else tuple(item.name for item in machine.attachment)
    found: dict[str, tuple[str, ...]] = {
        "attachment": ("", *attached),
        "attachment_at": ("raised", "lowered"),
        "liquid": tuple(LIQUIDS),
        "rops": ("up", "folded"),
    }
    return found[path]


_LONG = ("course.length",)  # told in feet
_US = {"length": ("in", 1), "mass": ("lb", 0), "pressure": ("psi", 0), "speed": ("mph", 1)}


def in_units(text: str, path: str, us: bool) -> str:
    """A value as somebody with a tape in inches would write it; else as it is written."""
    kind = dimension(path)
    if not us or kind not in _US:
        return text
    unit, decimals = ("ft", 1) if path in _LONG else _US[kind]
    try:
        value = to_si(text, kind) / to_si(f"1 {unit}", kind)
    except InputError:  # typed, and no such quantity yet
        return text
    return f"{round_to(value, decimals):g} {unit}"


def as_text(value: Any) -> str:
    """A value of a file as it would be typed."""
    return (
        value
        if isinstance(value, str)
        else f"{value:g}"
        if isinstance(value, float)
        else (str(value))
    )
