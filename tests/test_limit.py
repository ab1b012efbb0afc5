"""Limits by search: against a brute scan, shared runs, and answers that are no threshold."""

from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from math import degrees, radians

import numpy as np
import pytest

from sidehill.case import Case
from sidehill.cli.limit_report import engine_words
from sidehill.engines import compiled
from sidehill.files.errors import EngineError, InputError
from sidehill.machine.file import load_machine
from sidehill.machine.outfit import Outfit
from sidehill.scenario.file import load_scenario
from sidehill.strip.limit import Search, find_limit, find_limits
from sidehill.strip.trial import Trial

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


SPACING = 33.0 / 17.0  # [deg] of the grid that a search starts from
FIVE = {
    "sorrel": Outfit(),
    "sorrel with spacers": Outfit(rear_spacer="76 mm"),
    "bramble, bucket high": Outfit(bucket_load="200 kg", bucket_height="full"),
    "bramble, box": Outfit(rear_ballast="250 kg"),
    "hawthorn": Outfit(),
}


@pytest.mark.parametrize("name", FIVE)
@pytest.mark.parametrize("until", ["lift", "overturn"])
def test_limits_of_five_machines_agree_with_a_brute_scan(name: str, until: str) -> None:
    """Every 0.5 deg over the whole range: what is bad below the answer is a band that the
    search's own grid, 18 values from 2 to 35 deg, is too coarse to see."""
    bank = load_scenario("bank-stone", ["drive.speed=4 km/h", "feature.1.height=60 mm"])
    bank = bank.with_values({"run.step": 2e-3})
    case = Case(load_machine(name.partition(" ")[0].strip(",")), bank, FIVE[name])
    limit = find_limit(case, until=until, tolerance=TOLERANCE, engine="compiled")
    search = Search(case, "slope", "compiled")
    slopes = [float(slope) for slope in np.arange(2.0, 35.01, 0.5)]
    search.try_all(radians(slope) for slope in slopes)
    bad = [s for s in slopes if not search.trial(radians(s)).is_good(until)]
    assert limit.lowest_bad is not None
    if limit.highest_good is None:
        assert 2.0 in bad
        return
    assert limit.lowest_bad - limit.highest_good <= degrees(TOLERANCE) + 1e-9
    below = [slope for slope in bad if slope <= limit.highest_good]
    assert not below or below[-1] - below[0] + 0.5 < SPACING
    if limit.is_threshold:
        assert not [s for s in slopes if s >= limit.lowest_bad + SPACING and s not in bad]


def test_the_answer_is_the_same_side_by_side(case: Case) -> None:
    untils = ("lift", "stop", "overturn")
    alone = find_limits(case, untils=untils, tolerance=TOLERANCE, engine="compiled")
    for workers in (2, 3):
        with ThreadPoolExecutor(workers) as threads:
            beside = find_limits(
                case, untils=untils, tolerance=TOLERANCE, engine="compiled", executor=threads
            )
        assert beside == alone


@pytest.mark.parametrize(
    ("low", "high"),
    [(9.0, 13.0), (20.7, 20.9)],  # wide; a tenth of the grid's spacing, just below the answer
)
def test_a_bad_band_below_the_answer_is_found_and_told(
    case: Case, monkeypatch: pytest.MonkeyPatch, low: float, high: float
) -> None:
    """Bad from `low` to `high` deg and above 21, made up: the lower edge is the limit."""

    def made_up(case: Case, value: float, engine: str) -> Trial:
        is_bad = low < degrees(value) < high or degrees(value) > 21.0
        return Trial(value, "overturned" if is_bad else "crossed", is_bad, is_bad, False)

    monkeypatch.setattr("sidehill.strip.limit.run_trial", made_up)
    limit = find_limit(case, until="overturn", tolerance=TOLERANCE, engine="compiled")
    assert [band.good for band in limit.bands] == [True, False, True, False]
    assert not limit.is_threshold
    assert limit.highest_good <= low < limit.lowest_bad
    assert limit.lowest_bad - limit.highest_good <= degrees(TOLERANCE) + 1e-9


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
    assert limit.reference == "mujoco"
    assert limit.reference_agrees is True


def test_what_the_compiled_engine_cannot_run_is_searched_in_the_reference(
    case: Case, monkeypatch: pytest.MonkeyPatch
) -> None:
    def cannot(*_: object) -> None:
        raise EngineError("a wheel is out of balance")

    options = {"low": radians(1.0), "high": radians(12.0), "scan": 4, "tolerance": radians(1.0)}
    asked = find_limit(case, engine="mujoco", **options)
    monkeypatch.setattr(compiled, "_grown", cannot)
    limit = find_limit(case, **options)
    assert (limit.engine, limit.reference) == ("mujoco", None)
    assert limit.fell_back == "a wheel is out of balance"
    assert replace(limit, fell_back=None) == asked
    assert engine_words(limit) == "engine mujoco alone (a wheel is out of balance)"
    with pytest.raises(EngineError, match="out of balance"):
        find_limit(case, engine="compiled", **options)


def test_a_disagreement_of_the_reference_is_told(case: Case) -> None:
    search = Search(case, "slope", "auto")
    for slope, verdict in ((2, "crossed"), (3, "overturned")):  # 3 deg does not overturn it
        search.trials[radians(slope)] = Trial(radians(slope), verdict, False, False, False)
    assert search.answer("overturn", TOLERANCE).reference_agrees is False
