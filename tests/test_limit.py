"""Limits by search: against a brute scan, shared runs, and answers that are no threshold."""

from math import degrees, radians

import numpy as np
import pytest

from sidehill.case import Case
from sidehill.errors import InputError
from sidehill.limit import Search, Trial, find_limit, find_limits
from sidehill.machine.file import load_machine
from sidehill.machine.outfit import Outfit
from sidehill.scenario.file import load_scenario

TOLERANCE = radians(0.1)


@pytest.fixture(scope="module")
def case() -> Case:
    bank = load_scenario("bank-stone", ["drive.speed=2 km/h", "feature.1.height=60 mm"])
    return Case(load_machine("bramble"), bank, Outfit(bucket_load="200 kg"))


def test_limit_agrees_with_a_brute_scan(case: Case) -> None:
    limit = find_limit(case, tolerance=TOLERANCE, engine="mujoco")
    assert limit.highest_good is not None and limit.lowest_bad is not None
    assert limit.lowest_bad - limit.highest_good <= degrees(TOLERANCE) + 1e-9
    assert limit.is_threshold
    search = Search(case, "slope", "mujoco")
    around = np.arange(limit.highest_good - 1.0, limit.lowest_bad + 1.0, 0.25)
    for slope in around:
        good = search.trial(radians(slope)).is_good("lift")
        if not limit.highest_good < slope < limit.lowest_bad:
            assert good == (slope <= limit.highest_good)


def test_events_come_in_order_and_share_their_runs(case: Case) -> None:
    lift, stop, over = find_limits(
        case, untils=("lift", "stop", "overturn"), tolerance=TOLERANCE, engine="mujoco"
    )
    assert lift.highest_good <= stop.highest_good <= over.highest_good
    assert lift.runs == stop.runs == over.runs
    assert over.verdict_at_limit not in ("crossed", "wheel_lifted", "on_stop")


def tried(case: Case, verdicts: dict[float, str]) -> Search:
    search = Search(case, "slope", "mujoco")
    for slope, verdict in verdicts.items():
        lifted = verdict not in ("crossed", "slid", "stalled")
        search.trials[radians(slope)] = Trial(radians(slope), verdict, lifted, False, False)
    return search


def test_good_above_bad_is_reported_as_bands_and_never_as_a_threshold(case: Case) -> None:
    search = tried(
        case, {2: "crossed", 4: "wheel_lifted", 6: "crossed", 8: "crossed", 10: "overturned"}
    )
    limit = search.answer("lift", TOLERANCE)
    assert [band.good for band in limit.bands] == [True, False, True, False]
    assert not limit.is_threshold
    assert (limit.highest_good, limit.lowest_bad) == pytest.approx((2, 4))


@pytest.mark.parametrize("verdict", ["failed", "not_settled", "stalled", "slid"])
@pytest.mark.parametrize("until", ["lift", "stop", "overturn"])
def test_a_run_that_did_not_come_to_its_end_is_never_good(
    case: Case, verdict: str, until: str
) -> None:
    limit = tried(case, {2: "crossed", 4: verdict}).answer(until, TOLERANCE)
    assert limit.lowest_bad == pytest.approx(4)
    assert limit.verdict_at_limit == verdict


def test_nothing_good_and_nothing_bad_are_none(case: Case) -> None:
    assert tried(case, {2: "wheel_lifted"}).answer("lift", TOLERANCE).highest_good is None
    assert tried(case, {2: "crossed"}).answer("lift", TOLERANCE).lowest_bad is None


@pytest.mark.parametrize(
    ("options", "message"),
    [
        ({"of": "colour"}, "slope, speed, bump"),
        ({"until": "noon"}, "lift, stop, overturn"),
        ({"low": 0.5, "high": 0.1}, "must be below"),
    ],
)
def test_bad_asks_are_refused(case: Case, options: dict[str, object], message: str) -> None:
    with pytest.raises(InputError, match=message):
        find_limit(case, **options)


def test_a_bump_limit_needs_a_bump(case: Case) -> None:
    plain = Case(case.machine, load_scenario("bank-plain"), case.outfit)
    with pytest.raises(InputError, match="no \\[\\[feature\\]\\]"):
        find_limit(plain, of="bump")


def test_auto_searches_compiled_and_asks_the_reference_at_the_ends(case: Case) -> None:
    limit = find_limit(case, tolerance=TOLERANCE)
    assert limit.engine == "compiled"
    assert limit.reference in ("pybullet", "mujoco")
    assert limit.reference_agrees is True


def test_a_disagreement_of_the_reference_is_told(case: Case) -> None:
    search = Search(case, "slope", "auto")
    for slope, verdict in ((2, "crossed"), (3, "overturned")):  # 3 deg does not overturn it
        search.trials[radians(slope)] = Trial(radians(slope), verdict, False, False, False)
    assert search.answer("overturn", TOLERANCE).reference_agrees is False
