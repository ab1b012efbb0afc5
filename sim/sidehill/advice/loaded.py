"""A fitted machine with the loads on its wheels: those of standing there, those of a run."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from math import isfinite

from sidehill.advice.bearing import bearing_moment
from sidehill.advice.site import Site
from sidehill.machine.build import fit
from sidehill.machine.file import Machine
from sidehill.machine.fitted import Fitted
from sidehill.machine.outfit import Outfit
from sidehill.statics.report import tip


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
        value = self.loads[state].get(wheel)
        return value if value is not None and isfinite(value) else None

    def moment(self, state: str, wheel: str) -> float | None:
        """[N m] at that wheel's bearing, None where it is not known."""
        load = self.load(state, wheel)
        return None if load is None else bearing_moment(self.fitted, wheel, load, self.site)


def loaded(machine: Machine, worked: Worked, site: Site) -> Loaded:
    """The outfit standing on the site, with the peaks of its run."""
    fitted = fit(machine, worked.outfit, site.downhill)
    standing = tip(fitted, site.slope, site.grade, downhill=site.downhill).wheel_loads_n
    return Loaded(fitted, site, {"static": standing or {}, "peak": worked.peak_load_n})
