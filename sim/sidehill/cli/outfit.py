"""The outfit as command line options, made from the fields of the outfit itself."""

import inspect
from collections.abc import Callable
from functools import wraps
from typing import Annotated, Any, get_args

import typer
from pydantic.fields import FieldInfo

from sidehill.files import toml
from sidehill.files.problems import note_of
from sidehill.files.spec import build
from sidehill.machine.outfit import Outfit

REMARKS = {
    "rear_spacer": "a side; the track grows by twice that",
    "front_spacer": "a side; the track grows by twice that",
    "spacer_mass": "of each; else 6 kg a 25 mm",
    "rear_track": "centre to centre, with the rims reset",
    "front_track": "centre to centre, with the rims reset",
    "bucket_height": "of the bucket's pin",
    "hung_load": "swings on a rope from the bucket; its weight acts at the hook",
    "rope": "that hung_load hangs on",
    "operator_lean": "toward uphill; a sensitivity, do not rely on it",
    "rear_fill": "0.75 is level with the valve at 12 o'clock",
    "front_fill": "0.75 is level with the valve at 12 o'clock",
    "rear_pressure": "else the machine file's own; a soft tyre lets the body lean",
    "front_pressure": "else the machine file's own",
    "rear_wheel_weight": "a wheel",
    "front_axle_swing": "a tighter stop than the machine's own",
}


def with_outfit(command: Callable[..., None]) -> Callable[..., None]:
    """The command with an option for every field of `Outfit` in place of its `outfit`."""
    own = inspect.signature(command)
    others = [item for name, item in own.parameters.items() if name != "outfit"]
    added = [_option(name, field) for name, field in Outfit.model_fields.items()]

    @wraps(command)
    def run(**values: Any) -> None:
        given = {name: values.pop(name) for name in Outfit.model_fields}
        command(outfit=read_outfit(given), **values)

    run.__signature__ = own.replace(parameters=[*others, *added])  # type: ignore[attr-defined]
    run.__annotations__ = {item.name: item.annotation for item in (*others, *added)}
    return run


def read_outfit(given: dict[str, str | None]) -> Outfit:
    """The outfit of the options that were given.

    Raises:
        InputError: option, value, what is allowed.
    """
    data = {name: value for name, value in given.items() if value is not None}
    return build(Outfit, toml.Document("command line", data))


def _option(name: str, field: FieldInfo) -> inspect.Parameter:
    note = note_of(field)
    allowed = note.allowed if note else " or ".join(get_args(field.annotation))
    option = typer.Option(
        f"--{name.replace('_', '-')}",
        metavar="VALUE",
        help="; ".join(text for text in (allowed, REMARKS.get(name)) if text),
        rich_help_panel="Outfit",
    )
    return inspect.Parameter(
        name,
        inspect.Parameter.KEYWORD_ONLY,
        default=None,
        annotation=Annotated[str | None, option],
    )
