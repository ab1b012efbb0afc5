"""How far peak rolls and facts still move when step, discs, rim rays or columns are made finer.

A population of random outfits of the shipped machines over a stone or a rut; every coarseness is
held against the finest of its kind.
"""

from collections.abc import Callable
from dataclasses import dataclass
from itertools import pairwise
from math import log

import numpy as np

from sidehill.case import Case, Settings
from sidehill.crosscheck.population import SEED
from sidehill.engines import THREADED
from sidehill.machine.fitted import Array
from sidehill.run import run
from sidehill.run.facts import Facts
from sidehill.workers import mapped

ENGINE = "compiled"
NEAR = 0.01  # [deg]
ROUND_OFF = 1e-6  # [deg] of a median, below which an order says nothing

Change = Callable[[Case], Case]


@dataclass(frozen=True)
class Knob:
    """What is made finer: coarsest first, the finest last, in its own unit."""

    name: str
    unit: str
    sizes: tuple[float, ...]
    usual: float
    to: Callable[[float], Change]


@dataclass(frozen=True)
class Level:
    """One coarseness held against the finest of its knob, over the whole population."""

    knob: str
    size: str
    is_usual: bool
    median: float  # [deg] of peak roll, between the two
    near: float  # share within NEAR
    most: float  # [deg] 95 of 100 lie within
    worst: float  # [deg]
    facts: int  # runs whose facts differ
    order: float | None  # from this coarseness to the next: how fast the median falls; None: none


@dataclass(frozen=True)
class Convergence:
    """What was found, and over how many cases."""

    cases: int
    seed: int
    without_peak: float  # share of runs at the usual coarseness that came to no peak
    levels: tuple[Level, ...]


def _with_step(milliseconds: float) -> Change:
    return lambda case: case.with_scenario({"run.step": 1e-3 * milliseconds})


def _with_discs(discs: float) -> Change:
    return lambda case: _set(case, Settings(discs=int(discs)))


def _finer(times: float) -> Change:
    return lambda case: _set(case, Settings(fineness=int(times)))


def _enveloping(times: float) -> Change:
    return lambda case: _finer(times)(case.with_scenario({"run.tyre": "enveloping"}))


def _set(case: Case, settings: Settings) -> Case:
    return Case(case.machine, case.scenario, case.outfit, settings)


KNOBS = (
    Knob("step of the clock", "ms", (2.0, 1.0, 0.5, 0.25), 1.0, _with_step),
    Knob("discs of a wheel", "", (3, 5, 9, 17), 5, _with_discs),
    Knob("points of a rim, times the usual", "", (1, 2, 4), 1, _finer),
    Knob("columns of an enveloping tyre, times the usual", "", (1, 2, 4), 1, _enveloping),
)


def converge(
    cases: list[Case], seed: int = SEED, say: Callable[[str], None] = lambda _: None
) -> Convergence:
    """Every knob at every coarseness, over the same cases."""
    usual, _ = _peaks(cases)
    levels: list[Level] = []
    for knob in KNOBS:
        found = []
        for size in knob.sizes:
            say(f"{knob.name}: {size:g} {knob.unit}".strip())
            found.append(_peaks([knob.to(size)(case) for case in cases]))
        levels += levels_of(knob, found)
    return Convergence(len(cases), seed, float(np.mean(np.isnan(usual))), tuple(levels))


def _peaks(cases: list[Case]) -> tuple[Array, list[Facts]]:
    """(n,) [deg] peak rolls, NaN without one, and the facts."""
    told = list(mapped(lambda case: run(case, ENGINE).outcome, cases, ENGINE in THREADED))
    return np.array([outcome.peak_roll_deg for outcome in told]), [o.facts for o in told]


def levels_of(knob: Knob, found: list[tuple[Array, list[Facts]]]) -> list[Level]:
    """Every coarseness but the finest, from peaks (n,) [deg] and facts by coarseness."""
    finest, truth = found[-1]
    apart = [np.abs(peaks - finest) for peaks, _ in found[:-1]]
    medians = [float(np.nanmedian(each)) for each in apart]
    orders: list[float | None] = [
        log(a / b) / log(coarse / fine if coarse > fine else fine / coarse)
        if a > b > ROUND_OFF
        else None
        for (a, b), (coarse, fine) in zip(pairwise(medians), pairwise(knob.sizes[:-1]), strict=True)
    ]
    return [
        Level(
            knob=knob.name,
            size=f"{size:g} {knob.unit}".strip(),
            is_usual=size == knob.usual,
            median=median,
            near=float(np.mean(each <= NEAR)),
            most=float(np.nanpercentile(each, 95)),
            worst=float(np.nanmax(each)),
            facts=sum(a != b for a, b in zip(facts, truth, strict=True)),
            order=order,
        )
        for size, each, median, (_, facts), order in zip(
            knob.sizes[:-1], apart, medians, found[:-1], [*orders, None], strict=True
        )
    ]
