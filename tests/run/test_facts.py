"""The two facts of a run: each by a named run, in order, and judged again from its record."""

from typing import Any

import numpy as np
import pytest
from facts_by_hand import leans, stability_by_hand
from population import random_cases

from sidehill.case import Case
from sidehill.engines import here, open_engine
from sidehill.flat import flatten
from sidehill.kernels.layout import (
    ACROSS,
    BROKEN,
    CUT,
    HALTED,
    LEANING,
    OVERTURNED,
    RESTED,
    SLID,
    STATE,
    STUCK,
    TILT,
    Records,
    blank,
)  # fmt: skip
from sidehill.machine.file import load_machine
from sidehill.machine.outfit import Outfit
from sidehill.run import run
from sidehill.run.facts import PROGRESS, STABILITY, is_good, is_short_of
from sidehill.run.outcome import Outcome, progress, stability
from sidehill.run.record import simulate
from sidehill.run.stages import drive, launch, settle
from sidehill.run.track import Track
from sidehill.scenario.file import load_scenario

STEP = 1e-3
HIGH = {"bucket_load": "250 kg", "bucket_height": "full"}
LOW = {"bucket_load": "250 kg"}


def driven(course: str, machine: str = "bramble", outfit: Any = None, *changes: str) -> Outcome:
    case = Case(load_machine(machine), load_scenario(course, changes), Outfit(**(outfit or {})))
    return run(case, "compiled").outcome


RUNS = {  # each fact: course, outfit, changes of the course
    "planted": ("bank-plain", {}, ()),
    "hopped": ("bank-stone", LOW, ('ground.slope="5 deg"', 'drive.speed="3 km/h"')),
    "lifted": ("bank-stone", LOW, ('ground.slope="10 deg"', 'drive.speed="3 km/h"')),
    "on_stop": ("bank-stone", LOW, ('ground.slope="16 deg"', 'drive.speed="3 km/h"')),
    "overturned": ("raise-on-bank", LOW, ('ground.slope="21 deg"',)),
    "not_started": ("bank-plain", HIGH, ('ground.slope="14 deg"',)),
    "over": ("raise-on-bank", LOW, ('ground.slope="21 deg"',)),
    "slid": ("wet-grass", {}, ("feature=[]",)),
    "stuck": (
        "bank-stone",
        {},
        ('ground.slope="0 deg"', "ground.friction=0.12", "drive.four_wheel=false",
         'feature.1.height="300 mm"', 'drive.speed="2 km/h"'),
    ),
    "halted": ("bank-plain", {}, ('drive.brake={at="4 m",wheels="both"}',)),
    "leaning": ("bank-stone", HIGH, ('ground.slope="7 deg"', 'drive.speed="4 km/h"')),
    "across": ("bank-plain", {}, ()),
    }  # fmt: skip


@pytest.mark.parametrize("name", RUNS)
def test_every_fact_is_reached_by_a_run(name: str) -> None:
    course, outfit, changes = RUNS[name]
    found = driven(course, "bramble", outfit, *changes)
    assert name in (found.stability, found.progress), found.why


def test_a_run_whose_time_runs_out_is_cut() -> None:
    """Time cut short by hand: a run that is still under way then is nothing to rely on."""
    case = Case(load_machine("bramble"), load_scenario("bank-plain", ['course.length="40 m"']))
    flat = flatten(case)
    flat.case["most_steps"], flat.case["extra_steps"] = 3000.0, 0.0
    with open_engine("compiled", flat) as engine:
        cut = Track(flat, engine, engine.init(), flat.rows(), lambda _: None)
        assert settle(cut) and launch(cut) and not drive(cut)
    assert cut.outcome.facts == ("planted", "cut", True)
    assert not cut.outcome.is_good


def ended(finish: float = ACROSS, **values: Any) -> Records:
    """The state of a run that was set going, with what was tracked."""
    state = blank(STATE)
    state["finish"], state["started"], state["step"] = finish, 1.0, 9000.0
    for name, value in values.items():
        state[name] = value
    return state


@pytest.mark.parametrize("engine", here())
@pytest.mark.parametrize("height", ["carry", "full"])
def test_a_machine_that_goes_over_forward_on_the_level_cannot_stand(
    engine: str, height: str
) -> None:
    outfit = Outfit(bucket_load="2000 kg", bucket_height=height)
    level = load_scenario("bank-plain", ["ground.slope=0 deg"])
    record = simulate(Case(load_machine("bramble"), level, outfit), engine)
    assert record.outcome.facts == ("overturned", "not_started", False)
    assert leans(record)[1].min() < -60.0


def test_stability_is_the_worst_that_fits() -> None:
    bad = {"longest_up": [0, 0, 600, 0], "most_gap": [0, 0, 0.2, 0], "hung": 1.0}
    assert stability(ended(OVERTURNED, **bad), STEP) == "overturned"
    assert stability(ended(RESTED, **bad), STEP) == "overturned"
    assert stability(ended(**bad), STEP) == "on_stop"
    assert stability(ended(**(bad | {"hung": 0.0})), STEP) == "lifted"
    assert stability(ended(longest_up=[0, 500, 0, 0]), STEP) == "hopped"
    assert stability(ended(longest_up=[0, 501, 0, 0]), STEP) == "lifted"
    assert stability(ended(longest_up=[0, 60, 0, 0], most_gap=[0, 0.051, 0, 0]), STEP) == "lifted"
    assert stability(ended(), STEP) == "planted"


def test_progress_is_the_first_that_fits() -> None:
    assert progress(ended(OVERTURNED, started=0.0, slid=1.0)) == "not_started"
    assert progress(ended(OVERTURNED, slid=1.0)) == "over"
    for finish in (SLID, STUCK, HALTED, LEANING, ACROSS, CUT):
        assert progress(ended(finish, slid=1.0)) == "slid"
    found = [progress(ended(finish)) for finish in (STUCK, HALTED, LEANING, ACROSS, CUT)]
    assert found == ["stuck", "halted", "leaning", "across", "cut"]


def test_bad_numbers_and_tilt_tables_have_no_facts() -> None:
    for state in (ended(BROKEN), ended(CUT, stage=TILT)):
        assert stability(state, STEP) is None
        assert progress(state) is None


def test_only_a_calm_run_that_arrived_and_met_everything_is_good() -> None:
    good = {(s, p) for s in (*STABILITY, None) for p in (*PROGRESS, None) if is_good(s, p, True)}
    assert good == {(s, p) for s in ("planted", "hopped") for p in ("across", "halted")}
    assert not is_good("planted", "across", False)
    assert not is_good("planted", "across", None)


def test_a_run_that_did_not_get_there_proves_nothing() -> None:
    """Stuck before the stone, it is short of no event; leaning on its stop it did not go over."""
    assert not is_short_of("overturned", "planted", "stuck", False)
    assert not is_short_of("overturned", "planted", "slid", True)
    assert is_short_of("overturned", "on_stop", "leaning", True)
    assert not is_short_of("on_stop", "on_stop", "leaning", True)
    assert not is_short_of("not_across", "planted", "leaning", True)


def plain(case: Case) -> Case:
    """The same without its feature, a row of the record every step."""
    return case.with_scenario({"feature": [], "run.rate": 1000.0})


def check_by_hand(cases: list[Case]) -> None:
    seen = set()
    for case in cases:
        record = simulate(case, "compiled")
        found = record.outcome
        if found.progress == "not_started":
            continue  # its record is that of the start, which counts from its first moment
        assert found.stability == stability_by_hand(record), (case.key(), found.why)
        seen.add(found.stability)
    assert len(seen) > 2


def steep(seed: int, count: int) -> list[Case]:
    """Turns uphill and downhill and plain banks, fast and steep enough to lift wheels."""
    rng, cases = np.random.default_rng(seed), []
    for case in random_cases(count, seed=seed):
        turn = load_scenario(("turn-downhill", "turn-uphill", "bank-plain")[rng.integers(3)])
        slope, speed = np.radians(rng.uniform(4.0, 22.0)), rng.uniform(1.0, 5.5)
        scenario = turn.with_values(
            {"feature": [], "ground.slope": slope, "drive.speed": speed, "run.rate": 1000.0}
        )
        cases.append(Case(case.machine, scenario, case.outfit))
    return cases


def test_stability_is_what_poses_and_loads_say() -> None:
    check_by_hand(steep(5, 40))


@pytest.mark.slow
@pytest.mark.parametrize("seed", [1, 2, 3])
def test_stability_is_what_poses_and_loads_say_of_many(seed: int) -> None:
    check_by_hand(steep(seed, 300))


def test_peak_roll_keeps_its_side() -> None:
    """A machine that leans uphill has a negative peak, however little it leant downhill before."""
    record = simulate(
        Case(load_machine("bramble"), load_scenario("turn-downhill", ['drive.speed="14 km/h"'])),
        "compiled",
    )
    roll = record.columns["roll_slope_deg"]
    larger = roll[np.argmax(np.abs(roll))]
    assert record.outcome.peak_roll_deg == pytest.approx(larger, abs=0.2)
    assert np.sign(record.outcome.peak_roll_deg) == np.sign(larger)


def test_an_axle_that_cannot_swing_has_no_stop_to_meet() -> None:
    """Statics take it as rigid: a run that stays on its wheels reports no hit of a stop."""
    stiff = driven("bank-plain", "sorrel", {"front_axle_swing": "0 deg"}, "course.length=2 m")
    assert (stiff.stability, stiff.progress, stiff.stop_hits) == ("planted", "across", 0)


def test_a_fall_that_is_followed_changes_nothing_of_what_was_told_before_it() -> None:
    """It slides on for a while: that is neither further along the course nor a feature met."""
    changes = ('ground.slope="24 deg"', 'drive.speed="8 km/h"', 'run.step="2 ms"')
    case = Case(load_machine("bramble"), load_scenario("bank-stone", changes), Outfit())
    short, whole = run(case, "compiled").outcome, simulate(case, "compiled").outcome
    assert short.progress == "over"
    assert (whole.facts, whole.why, whole.path_m) == (short.facts, short.why, short.path_m)
