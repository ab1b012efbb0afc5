"""What the wheels cost: moments at their bearings, loads on their tyres."""

from collections.abc import Iterator

from sidehill.advice.finding import Figure, Finding
from sidehill.advice.lacks import lacks
from sidehill.advice.loaded import Loaded
from sidehill.machine.file import Tyre
from sidehill.machine.linkage import WHEELS
from sidehill.statics.tipping import GRAVITY

_NO_REST = "no rest on four wheels here: the load has no value"
_NO_RUN = "no peak load was given: run the scenario to have this checked"


def bearing_findings(now: Loaded, before: Loaded) -> Iterator[Finding]:
    """Two for each wheel: the moment standing and at the peak, beside the one before."""
    for wheel in WHEELS:
        for state in ("static", "peak"):
            figure = Figure(
                _words(wheel, "bearing"), f"{state} moment", "torque", now.moment(state, wheel)
            )
            delivered = before.moment(state, wheel)
            yield figure.compare(
                delivered,
                "beside as delivered: no rating of the bearing is known",
                _why_no_moment(now, before, state, wheel),
            )


def _why_no_moment(now: Loaded, before: Loaded, state: str, wheel: str) -> str:
    end = wheel.split("_")[0]
    tyre: Tyre = getattr(now.fitted.machine, f"{end}_tyre")
    if tyre.hub_offset is None:
        return lacks(now.fitted.machine, f"{end}_tyre.hub_offset")
    unknown = _NO_REST if state == "static" else _NO_RUN
    return unknown if now.load(state, wheel) is None else f"as delivered: {unknown}"


def tyre_findings(now: Loaded) -> Iterator[Finding]:
    """Two for each wheel: the load standing and at the peak, against the tyre's own rating."""
    machine = now.fitted.machine
    reasons = {
        "static": ("against max_load", _NO_REST),
        "peak": ("against max_load, which is for a steady load", _NO_RUN),
    }
    for wheel in WHEELS:
        end = wheel.split("_")[0]
        tyre: Tyre = getattr(machine, f"{end}_tyre")
        for state, (reason, unknown) in reasons.items():
            load = now.load(state, wheel)
            mass = None if load is None else load / GRAVITY
            no_rating = lacks(machine, f"{end}_tyre.max_load")
            yield Figure(_words(wheel, "tyre"), f"{state} load", "mass", mass).check(
                tyre.max_load, reason, no_rating if tyre.max_load is None else unknown
            )


def _words(wheel: str, what: str) -> str:
    return f"{wheel.replace('_', ' ')} {what}"
