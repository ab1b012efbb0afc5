"""Spread of the answers: closed form against Rest, against error propagation, and by design."""

from dataclasses import replace

import numpy as np
import pytest
from crosscheck.subjects import ALL, IDS, loaded
from population import MACHINES

from sidehill.case import Settings
from sidehill.flat import flatten
from sidehill.machine.outfit import Outfit
from sidehill.rest import Rest
from sidehill.run.table import table_scenario
from sidehill.scenario.file import load_scenario
from sidehill.spread import closed as spread
from sidehill.spread import critical, inputs
from sidehill.spread.closed import closed_form_spread, weighed_again
from sidehill.spread.design import Found, Point, design, simulated_spread
from sidehill.spread.inputs import (
    CG_HEIGHT,
    FRONT_LOAD,
    GRIP,
    LATERAL,
    REAR_LOAD,
    REAR_STIFFNESS,
    SECTION_WIDTH,
    Input,
)
from sidehill.spread.interval import Answer, Interval, sampled
from sidehill.spread.softened import Tyres, lift_off_on_tyres
from sidehill.spread.subject import Subject, load_subject

CLOSED_FORM = 0.05  # [deg] lift-off in closed form against compliant statics
LINEAR = 0.05  # closed-form interval against linear error propagation (issue)


@pytest.mark.parametrize(("ratio", "share"), [(100.0, 0.0), (0.4, 0.45), (0.8, 0.9)])
@pytest.mark.parametrize(("name", "outfit"), [ALL[0], ALL[3]], ids=[IDS[0], IDS[3]])
def test_lift_off_on_tyres_in_closed_form(
    name: str, outfit: Outfit, ratio: float, share: float
) -> None:
    subject = load_subject(name, outfit)
    settings = Settings(discs=1 if share == 0.0 else 5, lateral_ratio=ratio)
    flat = flatten(subject.on(table_scenario(), settings))
    flat.case["section"] *= share / 0.9
    front, rear = subject.machine.front_tyre, subject.machine.rear_tyre
    tyres = Tyres(front.stiffness, rear.stiffness, ratio, share * rear.width)
    found = lift_off_on_tyres(subject.tipping, tyres)
    assert np.degrees(found) == pytest.approx(np.degrees(Rest(flat).lift()), abs=CLOSED_FORM)


def test_lift_off_on_tyres_is_vectorised() -> None:
    subject = loaded("bramble")
    front, rear = subject.machine.front_tyre, subject.machine.rear_tyre
    ratios = np.array([0.4, 0.5, 0.8])
    many = lift_off_on_tyres(subject.tipping, Tyres(front.stiffness, rear.stiffness, ratios, 0.2))
    one = [
        float(lift_off_on_tyres(subject.tipping, Tyres(front.stiffness, rear.stiffness, r, 0.2)))
        for r in ratios
    ]
    assert many.tolist() == one
    assert one == sorted(one)


@pytest.mark.parametrize("name", MACHINES)
def test_weighed_again_is_the_machine_built_again(name: str) -> None:
    subject = loaded(name)
    known = inputs.inputs(subject)
    values = {CG_HEIGHT: known[CG_HEIGHT].high, FRONT_LOAD: known[FRONT_LOAD].low}
    values[REAR_LOAD] = known[REAR_LOAD].high
    machine = inputs.with_inputs(subject.machine, subject.outfit, values)
    built = replace(subject, machine=machine).tipping
    quick = weighed_again(subject, {name: np.array(value) for name, value in values.items()})
    for field in ("mass", "x", "y", "h"):
        assert getattr(quick, field) == pytest.approx(getattr(built, field), rel=1e-12)


def linear(answer: Answer, known: dict[str, Input]) -> float:
    """[deg] standard error by central differences at the best values: linear propagation."""
    best = {name: np.array(item.best) for name, item in known.items()}
    shares = []
    for name, item in known.items():
        moved = [answer(best | {name: best[name] + s * 1e-3 * item.error}) for s in (1, -1)]
        shares.append(float(moved[0] - moved[1]) / 2e-3)
    return float(np.hypot.reduce(shares))


def narrowed(known: dict[str, Input], share: float) -> dict[str, Input]:
    """The same inputs with a part of their spread."""
    return {
        name: replace(
            item,
            low=item.best - share * (item.best - item.low),
            high=item.best + share * (item.high - item.best),
        )
        for name, item in known.items()
    }


def answers(subject: Subject) -> dict[str, tuple[Answer, tuple[str, ...]]]:
    return {
        "lift-off": (spread.lift_off_answer(subject), (*spread.BODY, *spread.TYRE_INPUTS)),
        "overturn": (spread.overturn_answer(subject), spread.BODY),
    }


@pytest.mark.parametrize("which", ["lift-off", "overturn"])
@pytest.mark.parametrize(("name", "outfit"), ALL, ids=IDS)
def test_interval_against_linear_error_propagation(name: str, outfit: Outfit, which: str) -> None:
    """At a quarter of the spreads, where a straight line is one; the whole spread is printed."""
    subject = load_subject(name, outfit)
    answer, names = answers(subject)[which]
    known = {n: item for n, item in inputs.inputs(subject).items() if n in names}
    for share in (0.25, 1.0):
        part = narrowed(known, share)
        found, expected = sampled(which, answer, part), linear(answer, part)
        half = (found.high - found.low) / 2 / 1.96
        print(f"{name} {which} at {share} of the spread: {half / expected - 1:+.3f}")
        if share < 1.0:
            assert found.error == pytest.approx(expected, rel=LINEAR)
            assert half == pytest.approx(expected, rel=LINEAR)


@pytest.mark.parametrize("which", ["lift-off", "overturn"])
def test_a_weighed_machine_is_linear_at_its_whole_spread(which: str) -> None:
    """CG height to 5 %: 1 % off linear, so 5 % is kept by the default spreads too."""
    subject = load_subject("hawthorn", Outfit())
    answer, names = answers(subject)[which]
    known = {n: item for n, item in inputs.inputs(subject).items() if n in names}
    found = sampled(which, answer, known)
    assert (found.high - found.low) / 2 / 1.96 == pytest.approx(linear(answer, known), rel=LINEAR)


def test_default_spreads_are_those_stated() -> None:
    known = inputs.inputs(load_subject("bramble", Outfit()))
    assert known[CG_HEIGHT].error == pytest.approx(0.15 * 0.60)  # estimated
    assert inputs.inputs(load_subject("hawthorn", Outfit()))[CG_HEIGHT].error == pytest.approx(
        0.05 * 0.72
    )  # weighed
    assert known[FRONT_LOAD].error == pytest.approx(4.30)
    assert known[REAR_STIFFNESS].error == pytest.approx(44e3)
    assert (known[LATERAL].low, known[LATERAL].high) == (0.4, 0.8)
    assert (known[SECTION_WIDTH].low, known[SECTION_WIDTH].high) == (0.0, 0.9)
    assert known[GRIP].error == pytest.approx(0.14)


def test_a_ratio_outside_the_usual_range_widens_it() -> None:
    subject = load_subject("bramble", Outfit())
    machine = subject.machine.with_values({"rear_tyre.lateral_ratio": 0.3})
    assert inputs.inputs(replace(subject, machine=machine))[LATERAL].low == 0.3


def test_the_lower_bound_leads_and_the_largest_contributor_is_named() -> None:
    lift_off, overturn = closed_form_spread(loaded("bramble"))
    for found in (lift_off, overturn):
        assert found.low < found.best < found.high
        assert found.largest == CG_HEIGHT  # estimated: 15 %
        assert found.shares[CG_HEIGHT] <= 1.01 * found.error
    weighed = closed_form_spread(loaded("hawthorn"))[0]
    assert weighed.largest == REAR_STIFFNESS


def test_samples_are_the_same_on_every_run() -> None:
    assert closed_form_spread(loaded("sorrel")) == closed_form_spread(loaded("sorrel"))


def test_what_has_no_answer_belongs_to_the_upper_end() -> None:
    known = {"a": Input("a", 1.0, 0.0, 2.0, False, "")}

    def answer(values):
        return np.where(values["a"] > 1.8, np.nan, values["a"])

    found = sampled("a", answer, known)
    assert found.low == pytest.approx(0.05, abs=0.02)
    assert np.isnan(found.high)


def quick(subject: Subject) -> object:
    """A simulation that is closed form: what the design must come near to."""

    def simulate(point: Point) -> Found:
        values = {name: np.array(value) for name, value in point.values.items()}
        return Found(float(spread.lift_off_answer(subject)(values)), "fine")

    return simulate


@pytest.mark.parametrize("name", MACHINES)
def test_the_design_gives_the_interval_that_sampling_gives(name: str) -> None:
    subject = loaded(name)
    names = [n for n in inputs.inputs(subject) if n != GRIP]
    found = simulated_spread("lift-off", subject, quick(subject), names, "mujoco")
    assert isinstance(found, Interval)
    expected = closed_form_spread(subject)[0]
    assert found.best == pytest.approx(expected.best, abs=1e-9)
    assert found.low == pytest.approx(expected.low, abs=0.1 * expected.error)
    assert found.largest == expected.largest
    assert "fine 17" in found.note  # two an input and the best, which has all of its section


def test_a_design_point_changes_one_input() -> None:
    subject = load_subject("bramble", Outfit())
    points = design(subject)
    low = points[CG_HEIGHT, inputs.inputs(subject)[CG_HEIGHT].low].subject.machine
    assert low.weighed.cg_height == pytest.approx(0.7 * 0.60)
    assert low.rear_tyre == subject.machine.rear_tyre
    assert points[SECTION_WIDTH, 0.0].settings == Settings(discs=1)
    assert points[SECTION_WIDTH, 0.9].settings == Settings()


@pytest.mark.parametrize(
    ("slope", "words"),
    [
        (lambda values: None, "not even the level"),
        (lambda values: None if values[GRIP] < 0.5 else 9.0, "with friction off the best"),
        (lambda values: 9.0 if values[GRIP] == 0.7 else 3.0, "do not add up"),
    ],
)
def test_a_design_without_an_interval_says_why(slope, words: str) -> None:
    subject = load_subject("bramble", Outfit())

    def simulate(point: Point) -> Found:
        return Found(slope(point.values), "stuck")

    found = simulated_spread("x", subject, simulate, [GRIP, CG_HEIGHT], "mujoco")
    assert isinstance(found, str)
    assert words in found
    assert "stuck" in found


@pytest.mark.slow
def test_critical_slope_of_a_course_by_simulation() -> None:
    """Friction and CG height alone, to be quick."""
    scenario = load_scenario("bank-stone").with_values(
        {"feature.1.height": 0.05, "drive.speed": 0.7, "drive.differential": "locked"}
    )
    found = critical.critical_spread(
        load_subject("hawthorn", Outfit()), scenario, "lifted", "compiled"
    )
    assert isinstance(found, Interval)
    assert found.low < found.best < found.high
    assert found.best < closed_form_spread(load_subject("hawthorn", Outfit()))[0].best
    assert "a wheel lifts" in found.note


def test_overturn_by_simulation_has_the_tyres_in_it() -> None:
    found = critical.overturn_spread(loaded("hawthorn"), "compiled")
    assert isinstance(found, Interval)
    assert found.low < found.best < found.high
    assert found.best < closed_form_spread(loaded("hawthorn"))[1].best
    assert found.shares[REAR_STIFFNESS] > 0.05
