"""What is said of a machine: while it drives, and at the end."""

from math import radians

import numpy as np

from sidehill.files.units import round_to, show, show_angle, show_slope, show_threshold
from sidehill.film.clock import Moment
from sidehill.film.ink import ALARM, GOOD, PAPER, UNKNOWN, Colour
from sidehill.film.pane import Pane
from sidehill.film.words import Words
from sidehill.machine.linkage import WHEELS
from sidehill.run.outcome import UNKNOWN as NOTHING_KNOWN

TOUCHING = radians(0.1)  # the axle this near to its stop is on it


Said = list[tuple[str, Colour]]  # lines, the gravest first, and their ink


def status(pane: Pane, moment: Moment, words: Words) -> Said:
    """What is to be said of the machine now."""
    verdict = (verdict_words(pane, words), verdict_ink(pane))
    if pane.scene is None:
        return [verdict]
    take, time = pane.scene.take, moment.time
    said: Said = []
    if pane.outcome.verdict in NOTHING_KNOWN or (time >= pane.end and moment.stage != "freeze"):
        said.append(verdict)
    elif pane.over is not None and time >= pane.over[0]:
        said.append((words.say("overturning"), ALARM))
    elif abs(float(take.at(take.pin, time))) > pane.swing - TOUCHING:
        said.append((words.say("on_the_stop"), ALARM))
    elif not all(take.at(take.loads, time) > 0.0):
        wheel = int(np.argmin(take.at(take.loads, time)))
        said.append((words.say("lifted", wheel=wheel_word(pane, wheel, words)), ALARM))
    if pane.daylight is not None and moment == Moment(pane.daylight.time, 0.0, "freeze"):
        known = pane.outcome.verdict not in NOTHING_KNOWN
        lifted = (daylight_words(pane, words), ALARM)
        said = [lifted, *said[1 if known else 0 :]]  # in place of what is lifted, not of "no run"
    if pane.over is not None and time > pane.over[1]:
        said.append((words.say("beyond"), ALARM))
    if pane.scene.setting.wet > 0.0:
        said.append((words.say("friction", friction=f"{pane.scene.setting.friction:g}"), PAPER))
    return said + [(words.say(name), ALARM) for name in pane.hazards]


def verdict_words(pane: Pane, words: Words) -> str:
    """The verdict; of a machine that went over while it was set on the slope, that too.

    A tilt table has no verdict: it reports slopes, rounded down.
    """
    verdict = pane.outcome.verdict
    if verdict == "not_settled" and pane.over is not None:
        return words.say("verdict_not_settled_over")
    if pane.table is None or verdict in NOTHING_KNOWN:
        return words.say(f"verdict_{verdict}")
    if pane.over is None:
        return words.say("table_not_over")
    return words.say("table_over", slope=show_threshold(pane.table[2] or pane.table[0]))


def wheel_word(pane: Pane, wheel: int, words: Words) -> str:
    """How people call a wheel: by axle and side of the hill."""
    axle, side = WHEELS[wheel].split("_")
    is_downhill = (side == "right") == (pane.downhill > 0)
    return words.say(f"wheel_{axle}_{'downhill' if is_downhill else 'uphill'}")


def daylight_words(pane: Pane, words: Words) -> str:
    """Which wheel, and how much of a gap; never more than there is."""
    assert pane.daylight is not None
    gap = show(pane.daylight.gap, "length", rounding="down")
    return words.say("daylight", wheel=wheel_word(pane, pane.daylight.wheel, words), gap=gap)


def verdict_ink(pane: Pane) -> Colour:
    """Only `crossed` is shown as a good result, and only what is known as a bad one."""
    if pane.outcome.verdict in NOTHING_KNOWN and pane.over is None:
        return UNKNOWN
    if pane.table is not None and pane.over is None:
        return PAPER
    return GOOD if pane.outcome.verdict == "crossed" else ALARM


def figures(pane: Pane, words: Words) -> str:
    """Slope, roll, lift-offs and stop hits; peaks and times rounded up."""
    outcome = pane.outcome
    if pane.table is not None and outcome.verdict not in NOTHING_KNOWN:
        return table_figures(pane.table, words)
    said = [words.say("slope", slope=show_slope(pane.slope))]
    if outcome.verdict in NOTHING_KNOWN:
        if pane.over is None:
            said.append(words.say("nothing_known"))
        return ", ".join(said)
    if outcome.verdict != "overturned":  # of one that went over, the roll is counted to 60 deg
        roll = show_angle(radians(outcome.peak_roll_deg), "up")
        said.append(words.say("figure_roll", value=roll))
    count = outcome.lift_off_count
    if count == 0:
        said.append(words.say("figure_no_lift"))
    else:
        many = words.say("figure_lifts", value=str(count))
        said.append(words.say("figure_lift") if count == 1 else many)
        longest = max(lift.end_s - lift.start_s for lift in outcome.lift_offs)
        said.append(words.say("figure_longest", value=f"{round_to(longest, 1, 'up'):.1f}"))
    if outcome.stop_hits:
        many = words.say("figure_stop", value=str(outcome.stop_hits))
        said.append(words.say("figure_stop_once") if outcome.stop_hits == 1 else many)
    return ", ".join(said)


def table_figures(slopes: tuple[float, float, float], words: Words) -> str:
    """The slopes [rad] of a tilt table at which something began, rounded down."""
    named = (("table_lift", slopes[0]), ("table_stop", slopes[1]))
    said = [words.say(name, slope=show_threshold(slope)) for name, slope in named if slope]
    return ", ".join(said) or words.say("figure_no_lift")
