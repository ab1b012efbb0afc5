"""Runs in the background: each wanted case on its bank, then its strip, then its interval.

One search at a time, the first wanted first; a newer wish drops the one at work before its next
run. What was found is kept, up to so many cases, by the case's own hash.
"""

from collections import OrderedDict
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from math import radians
from threading import Condition, Thread
from typing import Any

from sidehill.advice.look import Means, checked_spot
from sidehill.case import Case
from sidehill.files.errors import SidehillError
from sidehill.sheet.standing import Standing, standing
from sidehill.strip.spot import Spot
from sidehill.strip.strip import Strip, take_strip

# of a strip on the desk; `sidehill limit` with the same gives the same
LOW, HIGH, SCAN, TOLERANCE = "1 deg", "35 deg", "0.5 deg", "0.1 deg"
_HOW: dict[str, Any] = {
    "low": radians(1.0),
    "high": radians(35.0),
    "scan": radians(0.5),
    "tolerance": radians(0.1),
}
KEPT = 60  # cases
MEANS = Means("compiled")  # and what decides again in the second engine


@dataclass(frozen=True)
class Found:
    """What is known of a case so far."""

    case: Case
    spot: Spot | None = None  # its run on the bank asked about, in both engines
    spots: tuple[Spot, ...] = ()  # of a strip that is still being looked for
    strip: Strip | None = None
    standing: Standing | None = None  # slopes with their intervals
    problem: str = ""  # why there is no more to come

    @property
    def is_done(self) -> bool:
        """Whether nothing more is to be found."""
        return bool(self.problem) or self.standing is not None


class OvertakenError(Exception):
    """A newer wish came."""


class Searches:
    """The worker and what it found. `tell` is called, in its thread, with each key that changed."""

    def __init__(self, tell: Callable[[str], None]) -> None:
        self.runs = 0  # begun, ever: so that tests and benches see what runs on
        self.dropped = 0
        self._tell = tell
        self._wanted: list[tuple[str, Case]] = []
        self._known: OrderedDict[str, Found] = OrderedDict()
        self._changed = Condition()
        self._is_ending = False
        self._worker = Thread(target=self._work, name="searches", daemon=True)
        self._worker.start()

    def want(self, cases: Sequence[Case]) -> list[str]:
        """What is wanted from now on, the most urgent first; the keys of the cases."""
        pairs = [(case.key(), case) for case in cases]
        with self._changed:
            self._wanted = pairs
            for key, case in pairs:
                self._known.setdefault(key, Found(case))
                self._known.move_to_end(key)
            while len(self._known) > max(KEPT, len(pairs)):
                self._known.popitem(last=False)
            self._changed.notify_all()
        return [key for key, _ in pairs]

    def found(self, key: str) -> Found | None:
        """What is known of a case."""
        with self._changed:
            return self._known.get(key)

    @property
    def left(self) -> int:
        """Wanted cases of which not all is found."""
        with self._changed:
            return sum(not self._known[key].is_done for key, _ in self._wanted)

    def end(self) -> None:
        """Stop, before the next run."""
        with self._changed:
            self._is_ending = True
            self._changed.notify_all()
        self._worker.join(timeout=5.0)

    def _next(self) -> tuple[str, Case] | None:
        """The most urgent that is not done; waits for one. None: the end."""
        with self._changed:
            while True:
                if self._is_ending:
                    return None
                first = self._first()
                if first is not None:
                    return first
                self._changed.wait()

    def _first(self) -> tuple[str, Case] | None:
        open_ones = (pair for pair in self._wanted if not self._known[pair[0]].is_done)
        return next(open_ones, None)

    def _work(self) -> None:
        while (wanted := self._next()) is not None:
            try:
                self._find(*wanted)
            except OvertakenError:
                self.dropped += 1

    def _find(self, key: str, case: Case) -> None:
        def heed() -> None:
            with self._changed:
                first = self._first()
                if self._is_ending or first is None or first[0] != key:
                    raise OvertakenError
                self.runs += 1

        def watch(spot: Spot) -> None:
            with self._changed:  # several threads have news
                known = self._known.get(key)
                if known is None:
                    raise OvertakenError
                self._known[key] = replace(known, spots=(*known.spots, spot))
            self._tell(key)

        try:
            found = self._known[key]
            if found.spot is None:
                heed()
                self._learn(key, spot=checked_spot(case, MEANS))
            if found.strip is None:
                self._learn(key, spots=())
                strip = take_strip(case, "slope", watch=watch, heed=heed, **_HOW)
                self._learn(key, strip=strip, spots=())
            heed()
            downhill = case.scenario.ground.downhill
            self._learn(key, standing=standing(case.machine, case.outfit, downhill))
        except OvertakenError:
            raise
        except SidehillError as error:
            self._learn(key, problem=str(error))
        except Exception as error:  # the page must say so, and the worker go on
            self._learn(key, problem=f"could not be computed ({type(error).__name__}: {error})")

    def _learn(self, key: str, **news: Any) -> None:
        with self._changed:
            if key not in self._known:
                raise OvertakenError
            self._known[key] = replace(self._known[key], **news)
        self._tell(key)
