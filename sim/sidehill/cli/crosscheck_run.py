"""The work of `sidehill crosscheck`: what it finds, and its files."""

from dataclasses import asdict, dataclass
from pathlib import Path
from typing import Any

from sidehill.advice.warnings import scenario_warnings
from sidehill.cli.progress import progress
from sidehill.crosscheck import ladder as ladders
from sidehill.crosscheck.check import Result
from sidehill.crosscheck.convergence import Convergence, converge
from sidehill.crosscheck.convergence_words import convergence_words
from sidehill.crosscheck.examples import CODE6_1
from sidehill.crosscheck.fallen import Fallen, fallen
from sidehill.crosscheck.ladder import Ladder
from sidehill.crosscheck.ladder_words import page_words
from sidehill.crosscheck.measured import Effects, effects
from sidehill.crosscheck.page import page as build_page
from sidehill.crosscheck.population import population
from sidehill.crosscheck.published import run_checks
from sidehill.crosscheck.published_words import published_words
from sidehill.crosscheck.readme import refreshed, split
from sidehill.crosscheck.unread import Cornering, cornerings, over_obstacle
from sidehill.engines import choose
from sidehill.files.errors import InputError
from sidehill.files.known import plain
from sidehill.files.spec import defaults_used
from sidehill.files.whole import write_file
from sidehill.machine.outfit import Outfit
from sidehill.scenario.file import load_scenario
from sidehill.spread.subject import load_subject


@dataclass(frozen=True)
class Published:
    """The published values, and what is shown beside them."""

    results: tuple[Result, ...]
    fall: Fallen
    effects: tuple[Effects, ...]
    corners: tuple[Cornering, ...]
    over: float | None  # [deg] over the published obstacle

    def to_dict(self) -> dict[str, Any]:
        """Plain values for programs; what could not be computed is None."""
        return {
            "checks": [plain(asdict(result)) for result in self.results],
            "code6_fall": plain(asdict(self.fall)),
            "measured_sub_compact": [
                asdict(e) | {"together": e.together, "agrees": e.agrees} for e in self.effects
            ],
            "over_obstacle_from_deg": self.over,
            "cornering": [plain(asdict(corner)) for corner in self.corners],
        }


@dataclass(frozen=True)
class Found:
    """What was asked for."""

    ladder: Ladder | None
    published: Published | None
    convergence: Convergence | None = None

    @property
    def passed(self) -> bool:
        """Whether every published value that was asked for passes."""
        return self.published is None or all(r.passed for r in self.published.results)

    @property
    def warnings(self) -> tuple[str, ...]:
        """Those of the machine in its outfit; what is filled in gives none."""
        if self.ladder is None or self.ladder.subject.gaps:
            return ()
        subject = self.ladder.subject
        return scenario_warnings(subject.machine, subject.outfit, self.ladder.scenario)

    @property
    def notes(self) -> tuple[str, ...]:
        """Estimates that were made, and gaps."""
        return () if self.ladder is None else self.ladder.subject.fitted.notes

    @property
    def defaults(self) -> list[str]:
        """Every field left to a default."""
        if self.ladder is None:
            return []
        subject = self.ladder.subject
        return defaults_used(self.ladder.scenario, subject.machine, subject.outfit)

    def to_dict(self) -> dict[str, Any]:
        """Plain values for programs."""
        return {
            "ladder": self.ladder and self.ladder.to_dict(),
            "published": self.published and self.published.to_dict(),
            "convergence": self.convergence and plain(asdict(self.convergence)),
            "passed": self.passed,
            "notes": list(self.notes),
            "defaults": self.defaults,
        }


def climb(machine: str, outfit: Outfit, scenario: str, engine: str, statics_only: bool) -> Ladder:
    """The ladder, with its progress told."""
    subject, course = load_subject(machine, outfit), load_scenario(scenario)
    with progress(f"crosschecking {subject.machine.name}") as say:
        return ladders.climb(subject, course, choose(engine, many=True), statics_only, say)


def published() -> Published:
    """Every published value, with its progress told."""
    with progress("computing the published values") as say:
        results = run_checks()
        say("the fall of the Code 6 tractor")
        fall = fallen(CODE6_1)
        say("the measured sub-compact")
        beside = effects()
        say("published overturns")
        return Published(results, fall, beside, cornerings(), over_obstacle())


def convergence(cases: int) -> Convergence:
    """The convergence of a population of that size, with its progress told."""
    with progress("runs made finer") as say:
        return converge(population(cases), say=say)


def check_readme(readme: Path, published: bool) -> None:
    """That its table can be refreshed, before anything is computed.

    Raises:
        InputError: no published values are asked for, or the file has no place for them.
    """
    if not published:
        raise InputError("--readme: its table is that of --published; ask for it too")
    split(readme)


def write(found: Found, page: Path | None, readme: Path | None, *, us: bool) -> list[str]:
    """Page and README table, where asked for; their paths."""
    files = []
    if readme is not None and found.published is not None:
        files.append(write_file(readme, refreshed(readme, found.published.results)))
    if page is not None:
        files.append(write_file(page, _page(found, us)))
    return [str(path) for path in files]


def _page(found: Found, us: bool) -> bytes:
    title, ladder, values = "Published values", None, None
    if found.ladder is not None:
        title = f"Crosscheck of {found.ladder.subject.machine.name}"
        ladder = page_words(found.ladder, us)
    if found.published is not None:
        p = found.published
        values = published_words(p.results, p.fall, p.effects, p.corners, p.over)
    finer = None
    if found.convergence is not None:
        finer = convergence_words(found.convergence)
        if found.ladder is None and found.published is None:
            title = "Convergence"
    notes = [*found.warnings, *found.notes]
    if found.defaults:
        notes.append(f"defaults used: {', '.join(found.defaults)}")
    return build_page(title, ladder, values, notes, finer)
