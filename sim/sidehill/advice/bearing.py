"""Bending moment at the wheel bearings: what a tyre moved outboard costs the hub."""

from sidehill.advice.site import Site
from sidehill.machine.file import Tyre
from sidehill.machine.fitted import Fitted
from sidehill.statics.tipping import GRAVITY


def bearing_moment(fitted: Fitted, wheel: str, load: float, site: Site) -> float | None:
    """Moment of a wheel's load about its bearing [N m]; None without a hub offset.

    Ground load times the distance of the tyre's centre plane outboard of the bearing (hub offset,
    spacer, reset rim), less the weight of what hangs outboard: tyre, rim, spacer, wheel weight,
    liquid. A tyre's fill rests on the ground through the tyre, not on the bearing. The side
    force's share (times the rolling radius) is the same at any track and left out.

    Source: moment balance of the wheel about its bearing (textbook statics).

    Args:
        wheel: "front_left" and so on; load: [N] square to the ground; site: where it stands.
    """
    end = wheel.split("_")[0]
    tyre: Tyre = getattr(fitted.machine, f"{end}_tyre")
    if tyre.hub_offset is None:
        return None
    bearing = tyre.track / 2.0 - tyre.hub_offset
    track: float = getattr(fitted, f"{end}_track")
    hung = sum(
        part.mass * (abs(float(part.cg[1])) - bearing)
        for part in fitted.parts
        if part.link == f"wheel_{wheel}" or part.name == f"liquid_{wheel}"
    )
    return load * (track / 2.0 - bearing) - hung * GRAVITY * site.square_share
