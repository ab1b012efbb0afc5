"""What was weighed, as the [weighed] table of a machine file."""

from math import hypot

from sidehill.files import toml
from sidehill.files.errors import InputError
from sidehill.files.spec import build
from sidehill.files.units import round_to, show, show_angle
from sidehill.machine.bare import Weighed
from sidehill.machine.file import Machine
from sidehill.machine.weigh import CgHeight, Readings, raised_scale_height

_TAPE = 0.02  # [m] that a length in a file may be rounded by
_SQUASHED = 0.06  # of a tyre's radius, that it stands lower than unloaded


def weighed_block(readings: Readings, machine: Machine | None = None) -> str:
    """The readings as the text of a machine file's [weighed] table.

    The height is rounded up. It counts as weighed only if its error is no more than what the
    word stands for, else as estimated.

    Args:
        machine: the file it is to be pasted into: what its own table has besides is kept.

    Raises:
        InputError: the error is over what even an estimate stands for, or the machine file
            contradicts the readings.
    """
    found = raised_scale_height(readings)
    relative = found.error / found.height
    tables = _tables(readings, found, machine)
    table = next((t for t in tables if relative <= t.cg_height_spread), None)
    error = show(found.error, "length", rounding="up")
    if table is None:
        raise InputError(
            f"the CG height is uncertain by {error}, {100 * relative:.0f} % of it, mostly from "
            f"{found.largest}: too much for a machine file; raise the front further than "
            f"{show_angle(readings.tilt)}, or use better scales"
        )
    if machine is not None:
        _go_together(readings, table, machine)
    word, most = table.cg_height_from, 100 * table.cg_height_spread
    off = "" if readings.loader_mass is None else ", loader taken off"
    return "\n".join(
        [
            _commented("[weighed]", "bare tractor: no loader, ballast, attachment or operator"),
            _line("front_axle", f"{table.front_axle:.1f} kg"),
            _line("rear_axle", f"{table.rear_axle:.1f} kg"),
            _line("cg_height", f"{table.cg_height:.3f} m", f"± {error}, front raised{off}"),
            _line("cg_height_from", word, f"error up to {most:.0f} %; most from {found.largest}"),
            *_kept(machine),
            "",
        ]
    )


def _tables(readings: Readings, found: CgHeight, machine: Machine | None) -> list[Weighed]:
    """The table with the height called weighed, and called estimated."""
    front, rear = readings.bare_axles
    values = {
        "front_axle": front,
        "rear_axle": rear,
        "cg_height": round_to(found.height, 3, "up"),
    }
    document = toml.Document("weighed", {**_besides(machine), **values})
    return [
        build(Weighed, toml.put(document, {"cg_height_from": word}), si=True)
        for word in ("weighed", "estimated")
    ]


def _besides(machine: Machine | None) -> dict[str, float]:
    """SI values of the machine's own table that no scale gives."""
    if machine is None:
        return {}
    own = machine.weighed.model_dump(exclude_unset=True)
    return {name: own[name] for name in ("cg_offset", "roll_inertia") if name in own}


def _kept(machine: Machine | None) -> list[str]:
    """Their lines."""
    besides, units = _besides(machine), {"cg_offset": "m", "roll_inertia": "kg m^2"}
    return [
        _line(name, f"{value:.10g} {units[name]}", "kept, not weighed")
        for name, value in besides.items()
    ]


def _go_together(readings: Readings, table: Weighed, machine: Machine) -> None:
    """Check that the machine's file takes the table, and has the lengths that were read."""
    lengths = {
        "wheelbase": (readings.wheelbase, machine.body.wheelbase, 0.0),
        "rear_radius": (readings.rear_radius, machine.rear_tyre.radius, _SQUASHED),
        "front_radius": (readings.front_radius, machine.front_tyre.radius, _SQUASHED),
    }
    for name, (read, own, squashed) in lengths.items():
        slack = hypot(3 * readings.length_error, _TAPE) + squashed * own
        if abs(read - own) > slack:
            raise InputError(
                f"{name} {show(read, 'length')}: {machine.file or machine.name} has "
                f"{show(own, 'length')}; one of the two is wrong, or it is another machine"
            )
    machine.with_values({"weighed": table.model_dump(exclude_unset=True)})


def _line(key: str, text: str, comment: str = "") -> str:
    pair = f'{key} = "{text}"'
    return _commented(pair, comment) if comment else pair


def _commented(text: str, comment: str) -> str:
    return f"{text:<36} # {comment}"
