"""What is said of a machine: while it drives, and at the end."""

from math import radians

from sidehill.files.units import round_to, show, show_angle, show_slope, show_threshold
from sidehill.film.clock import Moment
from sidehill.film.ink import ALARM, AMBER, GOOD, PAPER, UNKNOWN, Colour
from sidehill.film.pane import Pane
from sidehill.film.words import Words
from sidehill.machine.linkage import WHEELS

Said = list[tuple[str, Colour]]  # lines, the gravest first, and their ink


def status(pane: Pane, moment: Moment, words: Words) -> Said:
    """What is to be said of the machine now."""
    result = (result_words(pane, words), result_ink(pane))
    if pane.scene is None:
        return [result]
    time = moment.time
    up = [spell for spell in pane.outcome.spells if spell.start_s <= time <= spell.end_s]
    started = pane.outcome.progress != "not_started"
    said: Said = []
    if not started or (time >= pane.end and moment.stage != "freeze"):
        said.append(result)
    elif pane.over is not None and time >= pane.over[0]:
        said.append((words.say("overturning"), ALARM))
    elif any(start <= time <= end for start, end in pane.on_stop):
        said.append((words.say("on_the_stop"), AMBER))
    elif up:
        wheel = WHEELS.index(up[0].wheel)
        said.append((words.say("lifted", wheel=wheel_word(pane, wheel, words)), AMBER))
    if pane.daylight is not None and moment == Moment(pane.daylight.time, 0.0, "freeze"):
        lifted = (daylight_words(pane, words), AMBER)
        said = [lifted, *said[1 if started else 0 :]]  # in place of what is lifted
    if pane.over is not None and time > pane.over[1]:
        said.append((words.say("beyond"), ALARM))
    if pane.scene.setting.wet > 0.0:
        said.append((words.say("friction", friction=f"{pane.scene.setting.friction:g}"), PAPER))
    return said + [(words.say(name), ALARM) for name in pane.hazards]


def result_words(pane: Pane, words: Words) -> str:
    """How it came out: how far it got, and the worst that its wheels did.

    A tilt table has no facts: it reports slopes, rounded down.
    """
    stability, progress = pane.outcome.stability, pane.outcome.progress
    if pane.table is not None:
        if pane.over is None:
            return words.say("table_not_over")
        return words.say("table_over", slope=show_threshold(pane.table[2] or pane.table[0]))
    if stability is None or progress is None:
        return words.say("failed")
    if stability == "overturned":
        return words.say("over_before" if progress == "not_started" else "progress_over")
    got, wheels = words.say(f"progress_{progress}"), words.say(f"stability_{stability}")
    return f"{got}: {wheels}"


def wheel_word(pane: Pane, wheel: int, words: Words) -> str:
    """How people call a wheel: by axle and side of the hill."""
    axle, side = WHEELS[wheel].split("_")
    is_downhill = (side == "right") == (pane.downhill > 0)
    return words.say(f"wheel_{axle}_{'downhill' if is_downhill else 'uphill'}")


def daylight_words(pane: Pane, words: Words) -> str:
    """Which wheel, and how much of a gap: a peak, and rounded up as all of them."""
    assert pane.daylight is not None
    gap = show(pane.daylight.gap, "length", rounding="up")
    return words.say("daylight", wheel=wheel_word(pane, pane.daylight.wheel, words), gap=gap)


def result_ink(pane: Pane) -> Colour:
    """A good result is one that was calm and arrived; only what is known is shown as bad."""
    outcome = pane.outcome
    if pane.table is not None:
        return PAPER if pane.over is None else ALARM
    if outcome.stability is None:
        return UNKNOWN
    if outcome.is_good:
        return GOOD
    return ALARM if outcome.stability == "overturned" else AMBER


def figures(pane: Pane, words: Words) -> str:
    """Slope, roll, wheels up and how much daylight; peaks and times rounded up."""
    outcome = pane.outcome
    if pane.table is not None:
        return table_figures(pane.table, words)
    said = [words.say("slope", slope=show_slope(pane.slope))]
    if outcome.stability is None:
        return ", ".join([*said, words.say("nothing_known")])
    if outcome.stability != "overturned":  # of one that went over, the roll is counted to 60 deg
        roll = show_angle(radians(abs(outcome.peak_roll_deg)), "up")
        said.append(words.say("figure_roll", value=roll))
    count = outcome.spell_count
    if count == 0:
        said.append(words.say("figure_no_lift"))
    else:
        many = words.say("figure_lifts", value=str(count))
        said.append(words.say("figure_lift") if count == 1 else many)
        longest = round_to(outcome.longest_spell_s, 1, "up")
        said.append(words.say("figure_longest", value=f"{longest:.1f}"))
        gap = show(outcome.most_daylight_m, "length", rounding="up")
        said.append(words.say("figure_daylight", value=gap))
    return ", ".join(said)


def table_figures(slopes: tuple[float, float, float], words: Words) -> str:
    """The slopes [rad] of a tilt table at which something began, rounded down."""
    named = (("table_lift", slopes[0]), ("table_stop", slopes[1]))
    said = [words.say(name, slope=show_threshold(slope)) for name, slope in named if slope]
    return ", ".join(said) or words.say("figure_no_lift")
