"""When a run ends: laws of longer courses, features that nothing meets, and no end in mid-fall."""

from collections import Counter

import numpy as np
import pytest
from population import any_cases, random_cases

from sidehill.case import Case
from sidehill.kernels.layout import CUT, LEANING
from sidehill.run import run
from sidehill.run.outcome import Outcome
from sidehill.workers import mapped

COARSE = {"run.step": 2e-3}
SAME = 1e-6  # [deg], [m] of peaks
ROCKS = 2.0  # [deg] in the last second: slip and stick rocks a sliding or stuck one to and fro


def outcome(case: Case) -> Outcome:
    return run(case, "compiled").outcome


def facts(found: Outcome) -> tuple[object, ...]:
    return found.stability, found.progress, found.met


def peaks(found: Outcome) -> list[float]:
    return [
        found.peak_roll_deg, found.peak_pitch_deg, found.most_daylight_m,
        found.least_balance_angle_deg, found.least_lift_off_angle_deg,
    ]  # fmt: skip


def far_stone(case: Case) -> Case:
    """With a stone 3 m to the side of the path, on which no wheel comes."""
    stone = case.scenario.feature[0].model_dump() | {"wheels": None, "y": 3.5, "shape": "bump"}
    stone |= {"at": 7.5, "length": 0.6, "height": 0.1}
    features = [feature.model_dump() for feature in case.scenario.feature]
    return case.with_scenario({"feature": [*features, stone]})


CHANGES = {
    "a longer course over plain ground": lambda c: c.with_scenario({"course.length": 30.0}),
    "a feature that no wheel meets": far_stone,
    "another rate of the record": lambda c: c.with_scenario({"run.rate": 50.0}),
}


def check_changes(cases: list[Case]) -> None:
    def look(case: Case) -> list[Outcome]:
        base = case.with_scenario(COARSE)
        return [outcome(base), *(outcome(change(base)) for change in CHANGES.values())]

    for case, (base, *others) in zip(cases, mapped(look, cases, True), strict=True):
        for name, other in zip(CHANGES, others, strict=True):
            assert facts(other) == facts(base), (name, case.key(), base.why, other.why)
            if base.progress not in ("over", "slid"):
                assert peaks(other) == pytest.approx(peaks(base), abs=SAME), (name, case.key())


def test_what_does_not_matter_changes_no_fact_and_no_peak() -> None:
    check_changes(random_cases(25, seed=21))


@pytest.mark.slow
def test_what_does_not_matter_changes_no_fact_and_no_peak_of_a_thousand() -> None:
    check_changes(random_cases(1000, seed=22))


def check_ends(cases: list[Case]) -> Counter[str]:
    """No record ends while the machine falls, unless past 60 deg, leaning, or cut.

    It falls if a wheel is up and the body rolls on, faster than it rocks about where it hangs.
    """

    def look(case: Case) -> tuple[Outcome, bool, float, int]:
        track = run(case, "compiled")
        rows = track.written()
        rate = np.diff(rows["roll_slope"][-2:])[0] / np.diff(rows["t_s"][-2:])[0]
        last = np.degrees(np.ptp(rows["roll_slope"][rows["t_s"] >= rows["t_s"][-1] - 1.0]))
        rolls = (rows["load"][-1] == 0.0).any() and abs(np.degrees(rate)) > 1.0
        return track.outcome, bool(rolls), float(last), int(track.state["finish"][0])

    counts: Counter[str] = Counter()
    for case, (found, rolls, last, finish) in zip(cases, mapped(look, cases, True), strict=True):
        assert found.stability is not None, case.key()
        counts[f"{found.stability}, {found.progress}"] += 1
        if rolls and found.stability != "overturned" and finish not in (LEANING, CUT):
            assert found.progress in ("slid", "stuck") and last <= ROCKS, (case.key(), found.why)
            counts["rocking at the end"] += 1
        if found.stability == "overturned":
            assert found.progress in ("over", "not_started")
    return counts


def test_no_run_ends_in_mid_fall() -> None:
    check_ends(any_cases(60, seed=4))


@pytest.mark.slow
@pytest.mark.parametrize("seed", range(5))
def test_no_run_of_many_ends_in_mid_fall(seed: int) -> None:
    print(check_ends(any_cases(1000, seed=seed)).most_common())


def check_balance(cases: list[Case]) -> tuple[int, int]:
    """Misses of both kinds: lost balance and did not go over; went over and kept it."""
    found = mapped(outcome, cases, True)
    lost = [o for o in found if o.least_balance_angle_deg == 0.0 and o.stability != "overturned"]
    kept = [o for o in found if o.least_balance_angle_deg > 0.0 and o.stability == "overturned"]
    return len(lost), len(kept)


def test_the_balance_angle_is_lost_by_what_goes_over_and_by_nothing_else() -> None:
    cases = [case.with_scenario(COARSE) for case in random_cases(60, seed=31)]
    assert check_balance(cases) == (0, 0)


@pytest.mark.slow
@pytest.mark.parametrize("seed", range(32, 37))
def test_the_balance_angle_on_twenty_thousand_runs(seed: int) -> None:
    cases = [case.with_scenario(COARSE) for case in random_cases(4000, seed=seed)]
    assert check_balance(cases) == (0, 0)
