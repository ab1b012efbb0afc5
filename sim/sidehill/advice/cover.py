"""The strip of tyre that stands outside an attachment, on each side."""

from sidehill.advice.finding import Figure, Finding
from sidehill.advice.lacks import lacks
from sidehill.advice.width import tyre_width
from sidehill.machine.file import Attachment
from sidehill.machine.fitted import Fitted

# Common practice, no source: 48 in behind 52 in of tyre is not noticed, 4 ft behind 5 ft is.
UNNOTICED_STRIP = 0.0508  # [m] a side, 2 in
NOTICED_STRIP = 0.1524  # [m] a side, 6 in
_SAME = 1e-9  # [m]


def strip_outside(fitted: Fitted, width: float) -> float:
    """[m] of the wider axle's tyre outside an attachment that wide, a side; negative: covered."""
    return (tyre_width(fitted) - width) / 2.0


def cover_findings(fitted: Fitted) -> tuple[Finding, ...]:
    """One for each attachment of the machine's file, and one for the bucket."""
    machine = fitted.machine
    found = [_cover(fitted, item) for item in machine.attachment]
    if not found:
        missing = lacks(machine, "[[attachment]]")
        found.append(_figure("attachments", None).unchecked(missing))
    if machine.loader is not None:
        found.append(_pushed(fitted, "bucket", machine.loader.bucket_width))
    return tuple(found)


def _figure(item: str, strip: float | None) -> Figure:
    return Figure(item, "strip of tyre outside, a side", "length", strip)


def _cover(fitted: Fitted, item: Attachment) -> Finding:
    if item.position == "front":
        return _pushed(fitted, item.name, item.width)
    return _followed(fitted, item)


def _pushed(fitted: Fitted, name: str, width: float) -> Finding:
    """Ahead of the wheels: whatever it leaves, they run over."""
    strip = strip_outside(fitted, width)
    reason = (
        "narrower than the tyres: it leaves packed strips (common practice)"
        if strip > _SAME
        else "covers the tyres"
    )
    return _figure(name, strip).check(0.0, reason)


def _followed(fitted: Fitted, item: Attachment) -> Finding:
    """Behind or between the wheels: it works over what they have run over."""
    strip = strip_outside(fitted, item.width)
    if strip <= _SAME:
        reason = "covers the tyres"
    elif strip <= UNNOTICED_STRIP + _SAME:
        reason = "a strip this narrow is not noticed (common practice: 48 in behind 52 in)"
    elif strip < NOTICED_STRIP - _SAME:
        reason = (
            "wider than a strip that is not noticed, narrower than one that is (common practice: "
            "48 in behind 52 in is not noticed, 4 ft behind 5 ft is)"
        )
    else:
        reason = "a strip this wide is noticed (common practice: 4 ft behind 5 ft)"
    return _figure(item.name, strip).check(UNNOTICED_STRIP, reason)
