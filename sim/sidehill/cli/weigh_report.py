"""The report of a weighing, for programs and for people."""

from dataclasses import dataclass
from pathlib import Path

from sidehill.cli import console
from sidehill.files.spec import defaults_used
from sidehill.files.units import show
from sidehill.machine.file import Machine
from sidehill.machine.weigh import CgHeight, Readings, raised_scale_height, second_look

_HOW = (
    "wheels rolled free: brakes off, out of gear, chocks clear of the tyres, so that each axle was "
    "held straight up through its centre",
    "chock the load, not the wheels, and stay out from under a raised tractor",
)


@dataclass(frozen=True)
class Told:
    """What a weighing comes to, for programs and for people."""

    readings: Readings
    block: str
    file: Path | None
    machine: Machine | None

    @property
    def found(self) -> CgHeight:
        """The height and its error."""
        return raised_scale_height(self.readings)

    @property
    def warnings(self) -> list[str]:
        """What asks for a second look."""
        look = second_look(self.found.height, self.readings.rear_radius)
        return [] if look is None else [look]

    @property
    def notes(self) -> list[str]:
        """What it rests on, and what is left to be done by hand."""
        r, own = self.readings, self.machine
        notes = list(_HOW)
        if r.loader_mass is not None and r.loader_ahead is not None and r.loader_height is not None:
            notes.append(
                f"taken off again: a loader of {show(r.loader_mass, 'mass')}, its CG "
                f"{show(r.loader_ahead, 'length')} ahead of the rear axle and "
                f"{show(r.loader_height, 'length')} up, taken as exact"
            )
        notes.append(
            "pasted over a [weighed] table that has cg_offset or roll_inertia, this loses them: "
            "give that file with --machine, and they are kept"
            if own is None
            else f'{own.file or own.name} says source = "{own.source}": say there, too, what was '
            "weighed, and when"
        )
        return notes

    def data(self) -> dict[str, object]:
        """Plain values, SI."""
        found, (front, rear) = self.found, self.readings.bare_axles
        return {
            "mass_kg": front + rear,
            "front_axle_kg": front,
            "rear_axle_kg": rear,
            "cg_height_m": found.height,
            "cg_height_error_m": found.error,
            "shares_m": dict(found.shares),
            "largest": found.largest,
            "weighed_block": self.block,
            "file": self.file and str(self.file),
            "notes": self.notes,
            "defaults": defaults_used(self.readings),
        }


def tell(told: Told, *, us: bool) -> None:
    """The report for people."""
    out, found = console.out(), told.found
    height = show(found.height, "length", us=us, rounding="up")
    error = show(found.error, "length", us=us, rounding="up")
    out.print(f"CG height {height}, one standard error {error}", style="bold")
    shares = sorted(found.shares.items(), key=lambda item: -item[1])
    console.lines(out, {name: show(size, "length", us=us, rounding="up") for name, size in shares})
    out.print()
    out.print(told.block)
    if told.file is not None:
        out.print(f"wrote {told.file}")
    console.close(out, told.warnings, told.notes, defaults_used(told.readings))
