"""A fitted machine with the loads on its wheels: those of standing there, those of a run."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from sidehill.advice.site import Site
from sidehill.files.known import known
from sidehill.machine.build import fit
from sidehill.machine.file import Machine, Tyre
from sidehill.machine.fitted import Fitted
from sidehill.machine.outfit import Outfit
from sidehill.statics.report import tip
from sidehill.statics.tipping import GRAVITY


@dataclass(frozen=True)
class Worked:
    """An outfit, and the peak loads of its simulated run where there was one."""

    outfit: Outfit
    peak_load_n: Mapping[str, float] = field(default_factory=dict)  # by wheel, as in `Outcome`


@dataclass(frozen=True)
class Loaded:
    """A fitted machine on its site with its wheel loads [N], those standing and those of a run."""

    fitted: Fitted
    site: Site
    loads: Mapping[str, Mapping[str, float]]  # "static" and "peak", by wheel

    def load(self, state: str, wheel: str) -> float | None:
        """[N] of one wheel, None where it is not known."""
        return known(self.loads[state].get(wheel))

    def moment(self, state: str, wheel: str) -> float | None:
        """[N m] at that wheel's bearing, None where it is not known."""
        load = self.load(state, wheel)
        return None if load is None else bearing_moment(self.fitted, wheel, load, self.site)


def loaded(machine: Machine, worked: Worked, site: Site) -> Loaded:
    """The outfit standing on the site, with the peaks of its run."""
    fitted = fit(machine, worked.outfit, site.downhill)
    standing = tip(fitted, site.slope, site.grade, downhill=site.downhill).wheel_loads_n
    return Loaded(fitted, site, {"static": standing or {}, "peak": worked.peak_load_n})


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
