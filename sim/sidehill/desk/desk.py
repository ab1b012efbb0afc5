"""The desk itself: the form, the question it asks, and everybody who works on it."""

from collections import OrderedDict
from collections.abc import Sequence
from copy import deepcopy
from pathlib import Path
from threading import RLock
from time import monotonic
from typing import Any

from sidehill.case import Case
from sidehill.desk import parts, state
from sidehill.desk.commands import MOST_SHOWN
from sidehill.desk.events import Hub
from sidehill.desk.guess import Guess, guess_of
from sidehill.desk.jobs import Jobs
from sidehill.desk.keep import Keeper, read_form
from sidehill.desk.latest import Latest
from sidehill.desk.names import NAME
from sidehill.desk.question import Question, read_question
from sidehill.desk.render import as_id, part
from sidehill.desk.replays import Replays
from sidehill.desk.save import save_all
from sidehill.desk.search import Found, Searches
from sidehill.desk.ways import FREE, way, ways_of
from sidehill.files.errors import InputError, SidehillError

_APART = 0.1  # [s] between two drawings of a strip that is being looked for
Answer = dict[str, Any]


class Desk:
    """One desk on one folder. Any thread may call it."""

    def __init__(self, folder: Path) -> None:
        self.folder, self.hub, self.lock = folder, Hub(), RLock()
        self.state, self.notice = read_form(folder)
        self.question = read_question(self.state, folder)
        self.keeper = Keeper(folder, self._trouble)
        self.searches = Searches(self._found)
        self.guesser: Latest[Question] = Latest("guesser", self._guess)
        self.jobs = Jobs(folder, self._job)
        self.replays = Replays()
        self.guessed = ""  # of `_guessed_of`, or that it is being computed
        self._guessed_of: object = None  # tractor and outfit
        self._keys: dict[str, list[str]] = {}  # of cases -> ways that they are
        self._told_at: OrderedDict[str, float] = OrderedDict()
        self.revision = 1  # of the form: so that a page leaves out what comes late
        self._is_moving = False  # a slider: no search until it is let go
        self._want(0)
        self._guess_anew()

    def end(self) -> None:
        """Stop everybody; what was typed last is written."""
        self.hub.end()
        self.searches.end()
        self.guesser.end()
        self.jobs.end()
        self.keeper.end()

    # what a page asks

    def everything(self) -> Answer:
        """All parts of the page."""
        with self.lock:
            if self._is_moving:  # the page that moved it was left
                self._want(0)
            own, question = self.state, self.question
            places = {
                "tractor": parts.tractor_form(own, question),
                "bank": parts.bank_form(own, question),
                "options": parts.options_form(own, question, self._look),
                "away-told": parts.away_told(own, question, self.files()),
                "guess": self.guessed,
            }
            return self._answer(places)

    def change(self, changes: Sequence[tuple[str, str]], live: bool, by: str = "") -> Answer:
        """Write fields as typed; what that makes of everything that stands on them.

        Args:
            live: a slider on the move: figures at once, no search, nothing saved yet;
            by: the page that it comes from, which is not told of it.

        Raises:
            InputError: no such field; nothing is changed then.
        """
        with self.lock:
            new = deepcopy(self.state)
            for path, text in changes:
                state.put(new, path, text)
            self._take(new)
            moved = state.option_of(changes)
            if live and moved:
                self.searches.want([])  # what it looks for is not asked any more
                self._is_moving = True
                return self._moving(moved)
            self._settle(max(moved - 1, 0), by)
            anew = any(path in _REMAKES for path, _ in changes)
            return self.everything() if anew else self._told()

    def option(self, do: str, number: int, by: str = "") -> Answer:
        """Add an option like another, or take one away.

        Raises:
            InputError: neither, or it cannot be.
        """
        with self.lock:
            new = deepcopy(self.state)
            if do == "add":
                state.add_option(new, number)
            elif do == "remove":
                state.remove_option(new, number)
            else:
                raise InputError("allowed: add, remove")
            self._take(new)
            self._settle(len(new["options"]) - 1 if do == "add" else 0, by)
            return self.everything()

    def save(self) -> list[str]:
        """Machine, bank and study as files; their names.

        Raises:
            SidehillError: something is not right yet, or they cannot be written.
        """
        with self.lock:
            return save_all(self.question, self.state, self.folder)

    def make(self, kind: str, names: Sequence[str], quick: bool) -> list[str]:
        """Save, and have a sheet, a film or a replay made of what was saved; the files saved.

        Raises:
            SidehillError: something is not right yet, cannot be written, or is being made.
        """
        with self.lock:
            files = self.save()
            known = [way.name for way in self.question.ways if way.outfit is not None]
            chosen = [name for name in known if name in names] or known
            wish = {"names": chosen[:MOST_SHOWN], "quick": quick, "us": self.question.us}
            self.jobs.start(kind, wish)
            return files

    def strip(self, number: str) -> dict[str, Any] | None:
        """The strip of a way as programs have it; None while it is not whole."""
        strip = self.found(number).strip
        return None if strip is None else strip.to_dict()

    def way(self, number: str) -> tuple[str, Case]:
        """Name and case of a way, "2" or "free-1".

        Raises:
            InputError: there is none now.
        """
        with self.lock:
            return way(self.question, number)

    def found(self, number: str) -> Found:
        """What is known of a way."""
        _, case = self.way(number)
        return self._look(case) or Found(case)

    def files(self) -> list[str]:
        """What lies in the folder and can be taken away."""
        names = (path.name for path in self.folder.iterdir() if path.is_file())
        return sorted(name for name in names if NAME.fullmatch(name))

    # what follows from a change

    def _take(self, new: state.State) -> None:
        self.question = read_question(new, self.folder)
        self.state = new
        self.revision += 1

    def _settle(self, first: int, by: str) -> None:
        """Save, search and guess anew; other pages are told to look again."""
        self.keeper.keep(self.state)
        self._want(first)
        self._guess_anew()
        self.hub.say("again", by=by)

    def _guess_anew(self) -> None:
        """An interval of other figures than those that stand there is not shown meanwhile."""
        study, tractor = self.question.study, self.question.tractor
        of = None if study is None else (tractor.machine, tractor.origins, study.options[0])
        if study is not None and of == self._guessed_of:
            return
        self._guessed_of = of
        self.guessed = part("guess", guess=_NO_GUESS if study is None else "being computed anew")
        self.guesser.give(self.question)

    def _want(self, first: int) -> None:
        """Look for all ways, that of the option moved last before the others."""
        self._is_moving = False
        ways = sorted(ways_of(self.question).items(), key=lambda one: one[0] != str(first + 1))
        keys = self.searches.want([case for _, case in ways])
        self._keys = {}
        for (number, _), key in zip(ways, keys, strict=True):
            self._keys.setdefault(key, []).append(number)

    def _look(self, case: Case) -> Found | None:
        return self.searches.found(case.key())

    def _told(self) -> Answer:
        """The parts that say what is known; the forms stay as they are."""
        own, question = self.state, self.question
        told = {f"told-{k + 1}": parts.option_told(question, k, self._look)
                for k in range(len(question.ways))}  # fmt: skip
        told |= {
            "tractor-told": parts.tractor_told(own, question),
            "bank-told": parts.bank_told(question),
            "free": parts.free_told(question, self._look),
            "away-told": parts.away_told(own, question, self.files()),
            "guess": self.guessed,
        }
        kind = own["tractor"]["kind"]
        shown = parts.hints(own, question)
        named = {as_id(f"tractor/{kind}/{path}"): text for path, text in shown.items()}
        return self._answer(told) | {"hints": named}

    def _moving(self, number: int) -> Answer:
        """Only what a slider on the move changes: its option, or all beside the first."""
        count = len(self.question.ways)
        which = range(count) if number == 1 else (number - 1,)
        told = {f"told-{k + 1}": parts.option_told(self.question, k, self._look) for k in which}
        return self._answer(told)

    def _answer(self, told: dict[str, str]) -> Answer:
        """Parts, and what is wrong with which field now."""
        wrong = parts.problems_of(self.state, self.question)
        return {
            "parts": told,
            "problems": wrong,
            "revision": self.revision,
            "jobs": self.jobs.at_work(),
        }

    # news of those who work

    def _found(self, key: str) -> None:
        """A search has news: drawn at most so often, but always once it is done."""
        known = self.searches.found(key)
        if known is None:
            return
        now = monotonic()
        is_whole = known.is_done or known.strip is not None or len(known.spots) == 0
        if not is_whole and now - self._told_at.get(key, 0.0) < _APART:
            return
        self._told_at[key] = now
        while len(self._told_at) > 100:
            self._told_at.popitem(last=False)
        with self.lock:
            told: dict[str, str] = {}
            for number in self._keys.get(key, ()):
                if number.startswith(FREE):
                    told["free"] = parts.free_told(self.question, self._look)
                else:
                    place = int(number) - 1
                    told[f"told-{number}"] = parts.option_told(self.question, place, self._look)
            revision = self.revision
        if told:
            left = self.searches.left
            self.hub.say("parts", parts=told, left=left, revision=revision)

    def _guess(self, question: Question) -> None:
        study = question.study
        made: Guess | str = _NO_GUESS
        if study is not None:
            try:
                made = guess_of(question.tractor, study.options[0].outfit)
            except SidehillError as error:
                made = str(error)
        with self.lock:
            if question is not self.question and self.guesser.is_waiting:
                return  # a newer one comes
            self.guessed = part("guess", guess=made, of=question.ways[0].name)
        self.hub.say("parts", parts={"guess": self.guessed})

    def _job(self, kind: str, ended: str, words: str) -> None:
        self.hub.say("job", job=kind, state=ended, words=words)
        if ended == "done":
            with self.lock:
                told = parts.away_told(self.state, self.question, self.files())
            self.hub.say("parts", parts={"away-told": told})

    def _trouble(self, words: str) -> None:
        self.notice = words
        self.hub.say("notice", words=words)


_NO_GUESS = "not computed: see what is still needed, or wrong, above"
_REMAKES = ("units", "tractor/kind", "tractor/base", "tractor/opened", "bank/base",
            "bank/typed/feature.shape")  # fmt: skip
