"""The Code 6 calculation, and beside it the fall of the same tractor in the simulation."""

from dataclasses import dataclass

import numpy as np
from scipy.spatial.transform import Rotation

from sidehill.case import Case
from sidehill.crosscheck.code6 import BANK, NarrowTractor, Roll, roll
from sidehill.crosscheck.narrow import narrow_machine
from sidehill.kernels.layout import TOUCHING
from sidehill.machine.outfit import Outfit
from sidehill.run.record import Record, simulate
from sidehill.run.table import table_scenario
from sidehill.statics.vector import Array

_AFTER = 0.3  # [s] in which the roll bar takes its blow


@dataclass(frozen=True)
class Fallen:
    """One tractor on the regulation's bank, calculated and simulated. Illustrative."""

    calculated: Roll
    before: float  # [rad/s] fastest roll before the roll bar touches
    bar_roll: float  # [deg] roll to the bank as it touches
    after: float  # [rad/s] slowest roll while it takes the blow
    touched: tuple[str, ...]  # in order
    end: str  # how the fall ends, in words
    final_rest: float  # [deg] roll at rest, a whole turn is 360; NaN if it does not rest


def fallen(tractor: NarrowTractor, engine: str = "compiled") -> Fallen:
    """Both; the simulated body is held on four wheels on the bank and let go.

    Raises:
        InputError: Code 6 has no answer for the tractor.
    """
    scenario = table_scenario("release").with_values({"ground.slope": BANK})
    case = Case(narrow_machine(tractor), scenario, Outfit(operator="0 kg"))
    record = simulate(case, engine)
    outcome = record.outcome
    time, rate = _roll_rate(record)
    bar = float(record.state["touch_step"][0, TOUCHING.index("roll bar")]) * record.step
    blow = (time >= bar) & (time <= bar + _AFTER)
    roll_then = np.interp(bar, record.columns["t_s"], record.columns["roll_slope_deg"])
    return Fallen(
        calculated=roll(tractor),
        before=float(rate[time <= bar].max()),
        bar_roll=float(roll_then),
        after=float(rate[blow].min()),
        touched=outcome.touched,
        end=outcome.fall,
        final_rest=outcome.final_rest_deg,
    )


def _roll_rate(record: Record) -> tuple[Array, Array]:
    """Times [s] and rates about the chassis' own x axis [rad/s] between rows, as a gyro has them.

    A stage's end writes its row twice.
    """
    time, first = np.unique(record.columns["t_s"], return_index=True)
    attitude = Rotation.from_quat(record.quaternion("chassis")[first])
    turned = (attitude[:-1].inv() * attitude[1:]).as_rotvec()
    return (time[1:] + time[:-1]) / 2, turned[:, 0] / np.diff(time)
