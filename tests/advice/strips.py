"""Strips and looks made by hand: what their spots say is written down, nothing is run."""

from math import nan, radians

from sidehill.advice.look import Look
from sidehill.case import Case
from sidehill.machine.file import load_machine
from sidehill.run.outcome import Outcome
from sidehill.scenario.file import load_scenario
from sidehill.strip.quantity import VARIED
from sidehill.strip.spot import Spot
from sidehill.strip.strip import Strip

LETTERS = {
    "p": ("planted", "across", True),
    "h": ("hopped", "across", True),
    "H": ("hopped", "halted", True),
    "l": ("lifted", "across", True),
    "L": ("on_stop", "leaning", True),
    "o": ("overturned", "over", True),
    "s": ("planted", "stuck", False),
    "m": ("planted", "across", False),  # not everything was met
    "n": ("on_stop", "not_started", False),
    "?": (None, None, None),
}


def outcome(letter: str) -> Outcome:
    stability, progress, met = LETTERS[letter]
    return Outcome(
        stability=stability, progress=progress, met=met, why=f"why {letter}",
        peak_roll_deg=nan, peak_roll_horizon_deg=nan, peak_pitch_deg=nan,
        least_balance_angle_deg=nan, least_balance_angle_s=nan, least_lift_off_angle_deg=nan,
        least_lift_off_angle_s=nan, spells=(), spell_count=0, longest_spell_s=0.0,
        most_daylight_m=0.0, min_load_n={}, peak_load_n={}, stop_hits=0, off_path_m=0.0,
        path_m=0.0, fall="", final_rest_deg=nan, touched=(), sim_s=0.0,
    )  # fmt: skip


def spot(value: float, letter: str, again: str | None = None) -> Spot:
    told = None if again is None else LETTERS[again]
    return Spot(radians(value), 1e-3, "compiled", outcome(letter), told)


def strip(letters: str, start: float = 1.0, tolerance: float = 0.02) -> Strip:
    """One letter a degree."""
    spots = tuple(spot(start + k, letter) for k, letter in enumerate(letters))
    return Strip(
        VARIED["slope"], 1, spots, radians(1.0), radians(tolerance), len(spots), "compiled", None
    )


def look(name: str, letters: str, asked: float = 10.0, tolerance: float = 0.02) -> Look:
    """A look with that strip; its own run is the strip's at the slope asked about [deg]."""
    scenario = load_scenario("bank-plain").with_values({"ground.slope": radians(asked)})
    case = Case(load_machine("bramble"), scenario)
    own = letters[int(asked) - 1]
    return Look(name, case, spot(asked, own), strip(letters, tolerance=tolerance))
