"""Replays of single runs of a strip, made as they are asked for; the last few are kept."""

import html
import re
from collections import OrderedDict
from collections.abc import Sequence
from math import radians
from threading import Lock

from sidehill.case import Case
from sidehill.desk.search import Found
from sidehill.files.errors import InputError
from sidehill.replay import replay
from sidehill.run.record import simulate
from sidehill.strip.scan import with_step

KEPT = 4
BANK = "bank"  # in place of a slope: the run on the bank asked about
ENGINE = "compiled"  # that strips are scanned in
_SAME = 1e-9  # [rad]
SHEET_POLICY = (
    "default-src 'none'; style-src 'unsafe-inline'; img-src data:; media-src 'self' data:; "
    "base-uri 'none'; form-action 'none'; frame-ancestors 'self'"
)
_SCRIPTS = re.compile(r"script-src ((?:'sha256-[A-Za-z0-9+/=]+' ?)+)")
_POLICY = re.compile(r'http-equiv="Content-Security-Policy" content="([^"]+)"')


class Replays:
    """Pages by number."""

    def __init__(self) -> None:
        self._pages: OrderedDict[str, str] = OrderedDict()
        self._made = 0
        self._lock = Lock()

    def make(self, names: Sequence[str], cases: Sequence[Case]) -> str:
        """The number of a page of one or two runs.

        Raises:
            InputError: there is nothing to see of them.
        """
        page = replay([simulate(case, ENGINE) for case in cases], names)
        with self._lock:
            self._made += 1
            number = str(self._made)
            self._pages[number] = page
            while len(self._pages) > KEPT:
                self._pages.popitem(last=False)
        return number

    def page(self, number: str) -> str | None:
        """The page of that number; None: no longer kept."""
        with self._lock:
            return self._pages.get(number)


def run_of(found: Found, value: str) -> Case:
    """The case as the strip ran it at a value in degrees, or on its own bank.

    Raises:
        InputError: nothing was tried there.
    """
    if value == BANK:
        return found.case
    try:
        slope = radians(float(value))
    except ValueError:
        raise InputError(f"{value[:20]!r} is no slope") from None
    spots = found.spots if found.strip is None else found.strip.spots
    for spot in spots:
        if abs(spot.value - slope) < _SAME:
            return with_step(found.case.with_slope(spot.value), spot.step)
    raise InputError("that slope was not tried; choose one of the strip")


def beside(case: Case, other: Case) -> Case:
    """Another way on the same slope, with the same clock."""
    scenario = case.scenario
    return with_step(other.with_slope(scenario.ground.slope), scenario.run.step)


def policy_of(page: str) -> str:
    """What a page that was made may load and run: a replay's own policy, which names the hashes
    of its scripts; of a sheet its style, and the scripts of a replay that stands in it."""
    found = _POLICY.search(page)
    if found is not None:
        return f"{html.unescape(found[1])}; frame-ancestors 'self'"
    inside = _SCRIPTS.search(html.unescape(html.unescape(page)))
    scripts = "" if inside is None else f"script-src {inside[1]}; "
    return f"{scripts}{SHEET_POLICY}"
