"""The stages of a run, in order: each takes the track on, or ends it."""

from math import inf, pi

from sidehill.kernels.clocks import begin_clocks
from sidehill.kernels.layout import (
    DRIVE,
    FALLING,
    OVERTURNED,
    RUNNING,
    SETTLED,
    SPIN,
    TILT,
    Records,
)
from sidehill.run.track import Track

CHUNK = 2000  # steps an engine does between two looks

_TRACKED = (  # begin at zero with every stage
    *("peak_roll", "peak_roll_horizon", "peak_pitch", "peak_load", "stop_hits", "at_stop", "hung"),
    *("up_steps", "spell_gap", "longest_up", "most_gap", "spells", "spell_log"),
    *("slid", "furthest_off", "furthest_path", "least_balance_step", "least_lift_off_step"),
    *("event_slope", "touch_step"),
)


def settle(track: Track) -> bool:
    """Stand level, turn gravity smoothly to the slope, wait until all is quiet on four wheels.

    The rows of a machine that does not come to stand are its record: how it leant or went over.
    """
    _begin(track.state, track.state[0]["stage"])
    _advance(track)
    return bool(track.state["finish"][0] == SETTLED)


def launch(track: Track) -> bool:
    """Let the brakes go and set everything rolling at the wanted speed."""
    values, case = track.state[0], track.flat.case[0]
    _begin(track.state, DRIVE)
    values["started"] = 1.0
    if case["speed"] == 0.0:
        return True
    loaded = case["radius"] - values["load"] / case["stiffness"]
    values["velocity"][:] = (case["speed"], 0.0, 0.0)  # along the path, which it may crab
    values["hung_velocity"][:] = values["velocity"]
    values["rate"][SPIN : SPIN + 4] = case["speed"] / loaded
    # what rolling resistance and grade ask for, so that the drive does not start with a jerk
    weight = values["load"].sum()
    pull = weight * (case["rolling_resistance"] + case["grade_tan"])
    by_wheels = case["drive_gain"] / case["radius"][2]
    gain = case["push_gain"] if case["pushed"] == 1.0 else by_wheels
    values["drive_integral"] = pull / gain / case["drive_reset"]
    return True


def drive(track: Track) -> bool:
    """Drive the course, or turn the table, to its end."""
    _advance(track)
    return False


def fall(track: Track) -> None:
    """Follow a machine past the point of no return to the ground. Illustrative."""
    values = track.state[0]
    if values["finish"] != OVERTURNED:
        return
    values["stage"], values["finish"], values["fall_step"] = FALLING, RUNNING, values["step"]
    values["turned_over"] = values["roll"]
    over = values["path"]  # how far it got, and what it met, is not what it slides past in the fall
    _advance(track)
    values["path"] = over


def lay_on_table(track: Track) -> bool:
    """Start the tilt table under the standing machine."""
    _begin(track.state, TILT)
    track.state[0]["started"] = 1.0
    return True


def _begin(state: Records, stage: float) -> None:
    """Enter a stage: clock to zero, nothing tracked yet, all watches at zero."""
    values = state[0]
    values["stage"], values["step"], values["finish"], values["row"] = stage, 0.0, RUNNING, 0.0
    for name in _TRACKED:
        values[name] = 0.0
    values["least_load"], values["least_balance"], values["least_lift_off"] = inf, pi, pi
    begin_clocks(state)


def _advance(track: Track) -> None:
    """Until a finish code comes up."""
    while track.state["finish"][0] == RUNNING:
        track.engine.advance(track.state, track.rows, CHUNK)
        track.watch(track)
