"""What is told of a run while it plays: states, moments to jump to, bands, badges, figures."""

from dataclasses import dataclass
from typing import Any

import numpy as np

from sidehill.files.units import round_to, show, show_slope, show_threshold
from sidehill.film.pane import Pane
from sidehill.film.speech import wheel_word
from sidehill.film.words import Words, built_in
from sidehill.machine.linkage import WHEELS
from sidehill.replay.facts import Facts
from sidehill.run.facts import PROGRESS, STABILITY
from sidehill.run.outcome import Outcome
from sidehill.run.words import least, peak

GOOD, UNSURE = "good", "unsure"
# how the film inks them too: red for over, amber for a wheel up, or for what got out of hand
ALARM, AMBER = "alarm", "amber"
TONES = {"overturned": ALARM, "over": ALARM, "lifted": AMBER, "on_stop": AMBER, "slid": AMBER,
         "leaning": AMBER}  # fmt: skip
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
        found.append(Moment(f"{wheel_of(pane, first.wheel)} up", first.start_s))
        row, _ = np.unravel_index(int(np.argmax(facts.daylight)), facts.daylight.shape)
        if facts.daylight.max() > OUT_OF_SIGHT:
            assert pane.scene is not None
            found.append(Moment("most daylight", float(pane.scene.take.times[row])))
    if pane.on_stop:
        found.append(Moment("on its stop", pane.on_stop[0][0]))
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
        text = words.say("lifted", wheel=wheel_of(pane, spell.wheel))
        found.append(state(spell.start_s, spell.end_s, text, 1))
    for start, end in pane.on_stop:
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


def wheel_of(pane: Pane, name: str) -> str:
    """How people call a wheel of WHEELS."""
    return wheel_word(pane, WHEELS.index(name), words_of_film())


def badges(outcome: Outcome) -> list[dict[str, str]]:
    """The two facts; only a run that may be shown as good is. A tilt table has none."""
    if outcome.stability is None or outcome.progress is None:
        return []
    return [
        {
            "text": name.replace("_", " "),
            "tone": GOOD if outcome.is_good else TONES.get(name, UNSURE),
        }
        for name in (outcome.stability, outcome.progress)
    ]


def figures(pane: Pane) -> dict[str, str]:
    """Names and values for the table of what happened: peaks rounded up, the rest down."""
    outcome = pane.outcome
    longest, gap = outcome.longest_spell_s, outcome.most_daylight_m
    tells = {
        "slope": show_slope(pane.slope) if pane.table is None else "",
        **table_slopes(pane),
        "stability": told(outcome.stability, STABILITY),
        "progress": told(outcome.progress, PROGRESS),
        "why": outcome.why,
        # of one that went over the roll is counted to 60 deg, which says nothing
        "largest roll to the slope": "past 60 deg" if pane.over else peak(outcome.peak_roll_deg),
        "least balance angle": least(outcome.least_balance_angle_deg),
        "longest with a wheel up": f"{round_to(longest, 1, 'up'):.1f} s" if longest else "none",
        "most daylight under a wheel": show(gap, "length", rounding="up") if gap else "none",
    }
    return {name: value for name, value in tells.items() if value}


def table_slopes(pane: Pane) -> dict[str, str]:
    """Slopes of a tilt table at which something began, rounded down; none of a course."""
    names = ("first lift at", "on the axle stop at", "goes over at")
    slopes = pane.table or (0.0, 0.0, 0.0)
    return {n: show_threshold(slope) for n, slope in zip(names, slopes, strict=True) if slope}


def told(name: str | None, words: dict[str, str]) -> str:
    """A fact with what it means; empty for none."""
    return "" if name is None else f"{name.replace('_', ' ')}: {words[name]}"


def bands(pane: Pane, facts: Facts) -> list[dict[str, Any]]:
    """[s] during which a wheel is up, for the traces."""
    return [
        {
            "wheel": WHEELS.index(spell.wheel),
            "from": spell.start_s,
            "to": spell.end_s,
            "text": f"{wheel_of(pane, spell.wheel)} up"
            + (", still up at the end" if spell.still_up else ""),
        }
        for spell in facts.spells
    ]
