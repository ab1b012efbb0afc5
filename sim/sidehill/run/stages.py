"""The stages of a run, in order: each takes the track on, or ends it."""

from math import inf

from sidehill.kernels.layout import DRIVE, FALLING, RUNNING, SETTLED, SPIN, TILT, UNSETTLED, Records
from sidehill.kernels.monitor import OVER
from sidehill.run.track import Track

CHUNK = 2000  # steps an engine does between two looks


def settle(track: Track) -> bool:
    """Stand level, turn gravity to the slope over a second, wait until all is quiet.

    The rows of a machine that does not come to stand are its record: how it went over.
    """
    _advance(track)
    values = track.state[0]
    values["unsettled"] = float(values["finish"] == UNSETTLED)
    return bool(values["finish"] == SETTLED)


def launch(track: Track) -> bool:
    """Let the brakes go and set everything rolling at the wanted speed."""
    values, case = track.state[0], track.flat.case[0]
    _begin(values, DRIVE)
    if case["speed"] == 0.0:
        return True
    loaded = case["radius"] - values["load"] / case["stiffness"]
    values["velocity"][:] = (case["speed"], 0.0, 0.0)  # along the path, which it may crab
    values["rate"][SPIN : SPIN + 4] = case["speed"] / loaded
    # what rolling resistance and grade ask for, so that the drive does not start with a jerk
    weight = values["load"].sum()
    pull = weight * (case["rolling_resistance"] + case["grade_tan"])
    values["drive_integral"] = pull * case["radius"][2] / case["drive_gain"] / case["drive_reset"]
    return True


def drive(track: Track) -> bool:
    """Drive the course, or turn the table, to its end."""
    _advance(track)
    return False


def fall(track: Track) -> None:
    """Follow a machine past the point of no return to the ground. Illustrative."""
    values = track.state[0]
    if abs(values["roll"]) < OVER and abs(values["pitch"]) < OVER:
        return
    values["stage"], values["finish"], values["gauge_step"] = FALLING, RUNNING, values["step"]
    values["turned_over"] = values["roll"]
    _advance(track)


def lay_on_table(track: Track) -> bool:
    """Start the tilt table under the standing machine."""
    _begin(track.state[0], TILT)
    return True


def _begin(values: Records, stage: int) -> None:
    """Enter a stage: clock to zero, nothing tracked yet."""
    values["stage"], values["step"], values["finish"], values["row"] = stage, 0.0, RUNNING, 0.0
    for name in ("peak_roll", "peak_roll_horizon", "peak_load"):
        values[name] = -inf
    values["least_load"] = inf
    for name in ("peak_pitch", "low_steps", "longest_low", "stop_hits", "lifts", "lift_log"):
        values[name] = 0.0
    values["on_stop"], values["slid"], values["furthest_off"] = 0.0, 0.0, 0.0
    values["full_steps"], values["event_slope"], values["touch_step"] = 0.0, 0.0, 0.0
    values["gauge_path"], values["gauge_step"] = values["path"], 0.0


def _advance(track: Track) -> None:
    """Until a finish code comes up."""
    while track.state["finish"][0] == RUNNING:
        track.engine.advance(track.state, track.rows, CHUNK)
        track.watch(track)
