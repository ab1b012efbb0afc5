"""What is told of a run while it plays: states, moments to jump to, bands, badges, figures."""

from dataclasses import dataclass
from math import radians
from typing import Any

import numpy as np

from sidehill.files.units import round_to, show, show_angle, show_threshold
from sidehill.film.pane import Pane
from sidehill.film.speech import wheel_word
from sidehill.film.words import Words, built_in
from sidehill.replay.facts import Facts
from sidehill.run.words import least

GOOD, ALARM, UNSURE = "good", "alarm", "unsure"
WENT_WELL = (("planted", "hopped"), ("across", "halted"))
WENT_BADLY = ("lifted", "on_stop", "overturned", "over", "slid", "leaning")
OUT_OF_SIGHT = 1e-3  # [m] of daylight that no picture shows


@dataclass(frozen=True)
class Moment:
    """A time that the page jumps to."""

    name: str
    time: float  # [s]


def moments(pane: Pane, facts: Facts) -> list[Moment]:
    """Wheel up, most daylight, on its stop, over, stopped; those that there were, in order."""
    found = []
    if facts.spells:
        first = facts.spells[0]
        wheel = wheel_word(pane, first.wheel, words_of_film())
        found.append(Moment(f"{wheel} up", first.start))
        row, _ = np.unravel_index(int(np.argmax(facts.daylight)), facts.daylight.shape)
        if facts.daylight.max() > OUT_OF_SIGHT:
            assert pane.scene is not None
            found.append(Moment("most daylight", float(pane.scene.take.times[row])))
    if facts.on_stop:
        found.append(Moment("on its stop", facts.on_stop[0][0]))
    if pane.over is not None:
        found.append(Moment("over, past 60 deg", pane.over[1]))
    found.append(Moment("stopped", pane.end))
    return sorted(found, key=lambda moment: moment.time)


def words_of_film() -> Words:
    """The film's words: both tell the same."""
    return built_in()


def states(pane: Pane, facts: Facts) -> list[dict[str, Any]]:
    """What to say from when to when [s]; of those that hold at a time, the highest grade."""
    words, found = words_of_film(), []
    for spell in facts.spells:
        text = words.say("lifted", wheel=wheel_word(pane, spell.wheel, words))
        found.append(state(spell.start, spell.end, text, 1))
    for start, end in facts.on_stop:
        found.append(state(start, end, words.say("on_the_stop"), 2))
    if pane.over is not None:
        start, past = pane.over
        found.append(state(start, past, words.say("overturning"), 3))
        found.append(state(past, pane.end, words.say("beyond"), 3))
    return found


def state(start: float, end: float, text: str, grade: int) -> dict[str, Any]:
    """One state."""
    return {"from": start, "to": end, "text": text, "grade": grade}


def always(pane: Pane) -> list[str]:
    """What is to be said all the time."""
    assert pane.scene is not None
    words, setting = words_of_film(), pane.scene.setting
    said = [words.say(name) for name in pane.hazards]
    if setting.wet > 0.0:
        said.append(words.say("friction", friction=f"{setting.friction:g}"))
    return said


def badges(facts: Facts) -> list[dict[str, str]]:
    """The two facts; only a run in which both are good is shown as good."""
    well = facts.stability in WENT_WELL[0] and facts.progress in WENT_WELL[1]
    return [
        {
            "text": fact.replace("_", " "),
            "tone": GOOD if well else ALARM if fact in WENT_BADLY else UNSURE,
        }
        for fact in (facts.stability, facts.progress)
    ]


def figures(pane: Pane, facts: Facts) -> dict[str, str]:
    """Names and values for the table of what happened: peaks rounded up, the rest down."""
    gap = float(facts.daylight.max())
    longest = max((spell.end - spell.start for spell in facts.spells), default=0.0)
    tells = {
        "slope": show_threshold(pane.slope),
        "stability": facts.stability.replace("_", " "),
        "progress": facts.progress.replace("_", " "),
        "why": facts.why,
        "largest roll to the slope": peak_roll(pane, facts),
        "least balance angle": least_balance(pane, facts),
        "longest with a wheel up": f"{round_to(longest, 1, 'up'):.1f} s" if longest else "none",
        "most daylight under a wheel": show(gap, "length", rounding="up") if gap else "none",
    }
    return {name: value for name, value in tells.items() if value}


def peak_roll(pane: Pane, facts: Facts) -> str:
    """Of one that went over the roll is counted to 60 deg, which says nothing."""
    if pane.over is not None:
        return "past 60 deg"
    return show_angle(radians(facts.peak_roll), "up")


def least_balance(pane: Pane, facts: Facts) -> str:
    """The least angle by which it would still have to turn."""
    return least(pane.outcome.least_balance_angle_deg)


def bands(pane: Pane, facts: Facts) -> list[dict[str, Any]]:
    """[s] during which a wheel is up, for the traces."""
    words = words_of_film()
    return [
        {
            "wheel": spell.wheel,
            "from": spell.start,
            "to": spell.end,
            "text": f"{wheel_word(pane, spell.wheel, words)} up"
            + (", still up at the end" if spell.still_up else ""),
        }
        for spell in facts.spells
    ]
