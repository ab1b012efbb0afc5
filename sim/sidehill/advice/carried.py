"""What a rear attachment does by its own mass, raised and lowered."""

from math import radians
from typing import Literal

from sidehill.advice.axles import FRONT_SHARE, axle_ratings, front_share, heaviest_axle_loads
from sidehill.advice.finding import Figure, Finding
from sidehill.advice.lacks import lacks
from sidehill.advice.site import Site
from sidehill.machine.build import fit
from sidehill.machine.file import Attachment, Machine
from sidehill.machine.outfit import Outfit
from sidehill.statics.report import tip

Height = Literal["raised", "lowered"]


def carried_findings(machine: Machine, outfit: Outfit, site: Site) -> tuple[Finding, ...]:
    """Three for each rear attachment and height; each in turn, in place of the rear box."""
    behind = [item for item in machine.attachment if item.position == "rear"]
    if not behind:
        missing = lacks(machine, 'an [[attachment]] with position = "rear"')
        return (Figure("rear attachments", "own mass", "mass", None).unchecked(missing),)
    return tuple(
        finding
        for item in behind
        for height in ("raised", "lowered")
        for finding in _carried(machine, outfit, site, item, height)
    )


def _carried(
    machine: Machine, outfit: Outfit, site: Site, item: Attachment, height: Height
) -> tuple[Finding, ...]:
    fitted = fit(
        machine,
        outfit.with_values({"attachment": item.name, "attachment_at": height, "rear_ballast": 0.0}),
        site.downhill,
    )
    name = f"{item.name} {height}"
    rear = heaviest_axle_loads(fitted, site.steepest_grade)[1]
    share = front_share(fitted, site.steepest_grade)
    lift = tip(fitted, grade=site.grade, downhill=site.downhill).lift_off_slope_deg
    own = "its own mass on the tractor, in place of a rear box; lowered it rests on nothing"
    return (
        Figure(name, "front share, nose up", "share", share, "least").check(
            FRONT_SHARE, f"20 % for steering (published, implement manuals); {own}"
        ),
        Figure(name, "rear axle load", "mass", rear).check(
            axle_ratings(machine)[1],
            f"against the maker's rating; {own}",
            lacks(machine, "[limits]"),
        ),
        Figure(
            name, "lift-off slope", "slope", None if lift is None else radians(lift), "least"
        ).unchecked(f"a slope to compare with, not one to work on; {own}"),
    )
