"""The fall-through slope, from closed form to the simulation in steps that change one thing."""

from dataclasses import dataclass
from math import degrees, radians

from sidehill.case import Settings
from sidehill.crosscheck.blow import kept_share, overturn_slope_with_blow
from sidehill.engines import open_engine
from sidehill.files.errors import SidehillError
from sidehill.flat import Flat, flatten
from sidehill.kernels.layout import OVERTURNED
from sidehill.run import Track
from sidehill.run.stages import drive, lay_on_table, settle
from sidehill.run.table import bisect, table_scenario
from sidehill.spread.subject import Subject
from sidehill.statics.slopes import lift_off_slope, overturn_slope, second_stage_slope

_ENGINE = "compiled"
_HARD, _NARROW = 3e6, Settings(discs=1, lateral_ratio=3.0)  # [N/m] tyres that hardly give
_HARD_STOP = 5e6  # [N m/rad] the simulation's own stop gives as much as ten times that
_STEP = 0.5e-3  # [s] for tyres and stop so hard
_BELOW = radians(2.0)  # hard tyres lift a little below lift-off


@dataclass(frozen=True)
class Remainder:
    """Fall-through slopes of one machine [deg], unrounded; None where it does not go over."""

    no_loss: float  # closed form, as `tip` gives it
    kept_share: float  # of the kinetic energy, by the blow on the stop
    with_blow: float  # closed form, with that loss
    hard_tyres: float | None  # simulated, on thin tyres that hardly give

    def to_dict(self) -> dict[str, float | None]:
        """Plain values, units in the names."""
        return {
            "no_loss_slope_deg": self.no_loss,
            "kept_share_of_energy": self.kept_share,
            "with_blow_slope_deg": self.with_blow,
            "hard_tyres_slope_deg": self.hard_tyres,
        }


def remainder(subject: Subject) -> Remainder:
    """The steps between closed form and simulation, on rigid tyres."""
    t, fitted = subject.tipping, subject.fitted
    low, high = float(lift_off_slope(t)) - _BELOW, float(second_stage_slope(t)) + _BELOW
    hard = _hard(subject)
    found = bisect(lambda slope: lets_go(hard, slope), low, max(low, high))
    return Remainder(
        no_loss=degrees(float(overturn_slope(t))),
        kept_share=kept_share(fitted),
        with_blow=degrees(overturn_slope_with_blow(fitted)),
        hard_tyres=None if found is None else degrees(found),
    )


def _hard(subject: Subject) -> Flat:
    stiffness = {"front_tyre.stiffness": _HARD, "rear_tyre.stiffness": _HARD}
    machine = subject.machine.with_values(stiffness)
    scenario = table_scenario("release").with_values({"run.step": _STEP})
    hard = Subject(machine, subject.outfit, subject.gaps)
    flat = flatten(hard.on(scenario, _NARROW))
    flat.case["stop_stiffness"] = _HARD_STOP
    return flat


def lets_go(flat: Flat, slope: float) -> bool:
    """Whether a body that is held on four wheels and let go at a slope [rad] goes over.

    Raises:
        SidehillError: it does not even come to stand on the level.
    """
    flat.case["tilt_most"] = slope
    with open_engine(_ENGINE, flat) as engine:
        track = Track(flat, engine, engine.init(), flat.rows(), lambda _: None)
        if not settle(track):
            raise SidehillError("tilt table: the machine did not come to stand on the level")
        lay_on_table(track)
        drive(track)
    return bool(track.state["finish"][0] == OVERTURNED)
