"""Where wheels that were moved may touch something, as far as the file's dimensions tell."""

from math import atan2, cos, sin

from sidehill.advice.finding import Figure, Finding
from sidehill.advice.lacks import lacks
from sidehill.advice.width import inside_gaps, outside_widths
from sidehill.machine.file import Attachment
from sidehill.machine.fitted import Fitted
from sidehill.machine.tractor import kingpin


def clearance_findings(fitted: Fitted) -> tuple[Finding, ...]:
    """Attachments beside or between the tyres, front tyre and loader frame, hub of a spacer."""
    found = [_beside(fitted, item) for item in fitted.machine.attachment]
    found += [_ramps(fitted, item) for item in fitted.machine.attachment if item.position == "mid"]
    return (*found, _fender(fitted), *_loader_frame(fitted), *_hubs(fitted))


def _ramps(fitted: Fitted, item: Attachment) -> Finding:
    """Tyres wider than the ramps miss them as the mower is driven over."""
    figure = Figure(
        item.name, "outside width over its ramps", "length", max(outside_widths(fitted))
    )
    missing = lacks(fitted.machine, f'ramp_width of [[attachment]] "{item.name}"')
    return figure.check(
        item.ramp_width,
        "ramp_width is over the outer edges of the ramps that it is driven over; brackets and "
        "gauge-wheel arms: measure on the machine",
        f"{missing}; gauge-wheel arms and brackets limit the wheels as well (common practice)",
    )


def _fender(fitted: Fitted) -> Finding:
    """A tyre that moves outward comes toward the fender's lip, lights and steps."""
    out = (fitted.rear_track - fitted.machine.rear_tyre.track) / 2.0
    figure = Figure("rear tyre", "moved out, a side", "length", out)
    return figure.check(
        fitted.machine.body.fender_gap,
        "fender_gap is how far out it may move before it meets fender, lights or steps",
        lacks(fitted.machine, "body.fender_gap"),
    )


def _beside(fitted: Fitted, item: Attachment) -> Finding:
    missing = lacks(fitted.machine, f'clear_width of [[attachment]] "{item.name}"')
    if item.position == "mid":
        gap = min(inside_gaps(fitted))
        figure = Figure(item.name, "gap between the tyres", "length", gap, "least")
        return figure.check(
            item.clear_width, "narrower of front and rear; clear_width is the gap it needs", missing
        )
    front, rear = outside_widths(fitted)
    outside = front if item.position == "front" else rear
    figure = Figure(item.name, f"{item.position} outside width", "length", outside)
    reason = "clear_width is the widest outside width it tolerates"
    return figure.check(item.clear_width, reason, missing)


def innermost_tyre(fitted: Fitted) -> float:
    """[m] from the centre line to the nearest that a front tyre comes, any steer and axle swing.

    The tyre is taken as a box, turned about its kingpin to either lock in plan, then rolled with
    the axle about the pin by the whole swing: a little nearer than a round one comes.
    """
    machine, tyre = fitted.machine, fitted.machine.front_tyre
    inner_edge = fitted.front_track / 2.0 - kingpin(machine) - tyre.width / 2.0
    lock = min(machine.steering.max_angle, atan2(tyre.radius, -inner_edge))
    level = kingpin(machine) + inner_edge * cos(lock) - tyre.radius * sin(lock)
    over_pin = tyre.diameter - machine.front_axle.pivot_height
    return level * cos(fitted.swing) - over_pin * sin(fitted.swing)


def rearmost_tyre(fitted: Fitted) -> float:
    """[m] ahead of the rear axle of the rearmost that a front tyre comes at any steer."""
    machine, tyre = fitted.machine, fitted.machine.front_tyre
    outer_edge = fitted.front_track / 2.0 - kingpin(machine) + tyre.width / 2.0
    lock = min(machine.steering.max_angle, max(atan2(outer_edge, tyre.radius), 0.0))
    return machine.body.wheelbase - tyre.radius * cos(lock) - outer_edge * sin(lock)


def _loader_frame(fitted: Fitted) -> tuple[Finding, ...]:
    machine, item = fitted.machine, "front tyre at full steer"
    if machine.loader is None:
        missing = lacks(machine, "[loader]")
        return (
            Figure(item, "gap to the loader frame", "length", None, "least").unchecked(missing),
        )
    beside = innermost_tyre(fitted) - machine.loader.frame_width / 2.0
    behind = rearmost_tyre(fitted) - machine.loader.frame_cg[0]
    across = Figure(item, "gap to the loader frame's width", "length", beside, "least")
    along = Figure(item, "ahead of the loader frame's CG", "length", behind, "least")
    measure = "measure on the machine, both locks, axle on its stop both ways"
    if beside >= 0.0:
        clear = f"outside frame_width at any steer and swing; for brackets and hoses {measure}"
        return (across.check(0.0, clear), along.unchecked(f"lengthwise; {clear}"))
    doubt = f"reaches inside frame_width, so it depends on where the frame stands: {measure}"
    length = f"the frame's length and lower edge are not in the file: {measure}"
    return (across.unchecked(doubt + _kingpin_note(fitted)), along.unchecked(length))


def _kingpin_note(fitted: Fitted) -> str:
    known = fitted.machine.front_tyre.hub_offset is not None
    return "" if known else "; front_tyre.hub_offset not given: kingpin taken at the tyre's centre"


def _hubs(fitted: Fitted) -> list[Finding]:
    return [
        Figure(f"{end} hubs", "spacer on the hub", "length", thickness).unchecked(
            "spacers must fit the hub: bolt circle, pilot, stud length; some are machined to suit "
            "(common practice); measure before ordering"
        )
        for end, thickness in (
            ("front", fitted.outfit.front_spacer),
            ("rear", fitted.outfit.rear_spacer),
        )
        if thickness > 0.0
    ]
