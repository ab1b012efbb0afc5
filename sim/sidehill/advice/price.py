"""What an outfit costs the machine: axles, loader, steering, bearings, tyres, roll bar."""

from collections.abc import Iterator
from dataclasses import dataclass

from sidehill.advice.axles import (
    FRONT_SHARE,
    REAR_SHARE,
    axle_ratings,
    front_share,
    heaviest_axle_loads,
    least_front_share,
    least_rear_share,
)
from sidehill.advice.finding import Figure, Finding
from sidehill.advice.lacks import lacks
from sidehill.advice.loaded import Loaded, Worked, loaded
from sidehill.advice.site import Site
from sidehill.advice.wheels import bearing_findings, tyre_findings
from sidehill.machine.file import Machine
from sidehill.machine.fitted import Fitted
from sidehill.machine.outfit import Outfit


@dataclass(frozen=True)
class Price:
    """What was found, in the order that people read it."""

    axles: tuple[Finding, ...]
    loader: tuple[Finding, ...]
    shares: tuple[Finding, ...]
    bearings: tuple[Finding, ...]
    tyres: tuple[Finding, ...]
    roll_bar: tuple[Finding, ...]

    def heaviest_bearing(self, end: str, state: str) -> Finding | None:
        """The one that carries most at "front" or "rear", "static" or "peak"; None: not known."""
        known = [
            finding
            for finding in self.bearings
            if finding.item.startswith(end)
            and finding.what == f"{state} moment"
            and finding.value is not None
        ]
        return max(known, key=lambda finding: finding.value or 0.0, default=None)

    @property
    def findings(self) -> tuple[Finding, ...]:
        """All of them."""
        return self.axles + self.loader + self.shares + self.bearings + self.tyres + self.roll_bar


def price(
    machine: Machine, worked: Worked, as_delivered: Worked, site: Site | None = None
) -> Price:
    """The price of an outfit; what cannot be checked is said, and the rest is there.

    Args:
        as_delivered: the outfit that bearing moments are compared with.
        site: static wheel loads are those of standing there; level by default.

    Raises:
        InputError: an outfit does not suit the machine at all (see `machine.build.fit`).
    """
    site = site or Site()
    now, before = loaded(machine, worked, site), loaded(machine, as_delivered, site)
    return Price(
        axles=tuple(_axles(now)),
        loader=(_loader(machine, worked.outfit),),
        shares=tuple(_shares(now)),
        bearings=tuple(bearing_findings(now, before)),
        tyres=tuple(tyre_findings(now)),
        roll_bar=(_roll_bar(now.fitted),),
    )


def _axles(now: Loaded) -> Iterator[Finding]:
    machine = now.fitted.machine
    loads = heaviest_axle_loads(now.fitted, now.site.steepest_grade)
    for end, load, rating in zip(("front", "rear"), loads, axle_ratings(machine), strict=True):
        yield Figure(f"{end} axle", "load", "mass", load).check(
            rating,
            "most of level and steepest grade, against the maker's rating",
            lacks(machine, "[limits]"),
        )


def _loader(machine: Machine, outfit: Outfit) -> Finding:
    loader, figure = machine.loader, Figure("loader", "load", "mass", outfit.bucket_load)
    rated = None if loader is None else loader.rated_load
    return figure.check(rated, "against the rated load", lacks(machine, "[loader]"))


def _shares(now: Loaded) -> Iterator[Finding]:
    machine, outfit, grade = now.fitted.machine, now.fitted.outfit, now.site.steepest_grade
    steering = "20 % of the mass for steering (published, implement manuals)"
    yield Figure("front axle", "share as fitted", "share", front_share(now.fitted), "least").check(
        FRONT_SHARE, steering
    )
    worst = least_front_share(machine, outfit, grade)
    yield Figure("front axle", "share at worst", "share", worst, "least").check(
        FRONT_SHARE, f"bucket empty, ballast on, steepest grade nose up; {steering}"
    )
    full = least_rear_share(machine, outfit)
    yield Figure("rear axle", "share with the bucket full", "share", full, "least").check(
        REAR_SHARE,
        "25 % of the mass, least over the bucket's heights (common practice, no source)",
        lacks(machine, "[loader]"),
    )


def _roll_bar(fitted: Fitted) -> Finding:
    machine, rops = fitted.machine, fitted.machine.rops
    figure = Figure("roll bar", "mass in all", "mass", fitted.mass)
    if rops is None:
        return figure.unchecked(f"nothing protects the operator: {lacks(machine, '[rops]')}")
    if fitted.outfit.rops == "folded":
        return figure.unchecked(
            "folded down, it protects nobody until it is up", rops.reference_mass
        )
    return figure.check(
        rops.reference_mass,
        "against the largest mass it was tested for",
        lacks(machine, "rops.reference_mass"),
    )
