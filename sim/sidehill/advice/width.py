"""How wide a machine is as fitted, and how its tracks lie."""

from sidehill.advice.finding import Figure, Finding
from sidehill.machine.fitted import Fitted
from sidehill.machine.suits import chosen_attachment


def outside_widths(fitted: Fitted) -> tuple[float, float]:
    """[m] over the tyres, front and rear."""
    machine = fitted.machine
    return (
        fitted.front_track + machine.front_tyre.width,
        fitted.rear_track + machine.rear_tyre.width,
    )


def inside_gaps(fitted: Fitted) -> tuple[float, float]:
    """[m] between the tyres, front and rear."""
    machine = fitted.machine
    return (
        fitted.front_track - machine.front_tyre.width,
        fitted.rear_track - machine.rear_tyre.width,
    )


def tyre_width(fitted: Fitted) -> float:
    """[m] over the tyres of the wider axle: what the machine leaves tracks over."""
    return max(outside_widths(fitted))


def total_width(fitted: Fitted) -> tuple[str, float]:
    """What is widest, and its width [m]; an attachment counts when the outfit has it."""
    machine = fitted.machine
    front, rear = outside_widths(fitted)
    widths = {"front tyres": front, "rear tyres": rear, "body": machine.body.width}
    if machine.loader is not None:
        widths["bucket"] = machine.loader.bucket_width
    if machine.rops is not None:
        widths["roll bar"] = machine.rops.width
    if (item := chosen_attachment(machine, fitted.outfit)) is not None:
        widths[item.name] = item.width
    return max(widths.items(), key=lambda pair: pair[1])


def width_findings(fitted: Fitted) -> tuple[Finding, ...]:
    """Outside widths, total width, and how far the rear tracks lie outside the front ones."""
    front, rear = outside_widths(fitted)
    widest, total = total_width(fitted)
    on_hand = "no limit in the file: compare with the gates and the trailer it must pass"
    return (
        Figure("front tyres", "outside width", "length", front).unchecked(on_hand),
        Figure("rear tyres", "outside width", "length", rear).unchecked(on_hand),
        Figure("machine", "total width", "length", total).unchecked(
            f"widest: {widest}; {on_hand}, between its ramps and fenders too"
        ),
        Figure(
            "tracks",
            "rear outside front, a side",
            "length",
            (fitted.rear_track - fitted.front_track) / 2.0,
        ).unchecked(
            "tyre centre to tyre centre, negative where the front runs outside: wheels that do "
            "not follow each other meet a rut or a stone at different places"
        ),
    )
