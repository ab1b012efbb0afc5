"""Laws of a run, on machines and courses that nobody has drawn. Every step is a row."""

from collections.abc import Mapping
from math import degrees, radians
from typing import Any

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from properties.energy import in_springs, mechanical
from properties.generated import between, case_of, course_tables, machine_tables, outfit_tables
from scipy.spatial.transform import Rotation

from sidehill.case import Case
from sidehill.files.errors import InputError
from sidehill.kernels.ends import OVER
from sidehill.kernels.layout import Vector
from sidehill.machine.build import fit
from sidehill.machine.linkage import WHEELS
from sidehill.run import Track, run
from sidehill.run.outcome import Outcome
from sidehill.run.record import build_record
from sidehill.statics.report import tip

STEP = 2e-3  # [s] as in `course_tables`
FEW = settings(max_examples=25)


def driven(case: Case) -> Track:
    """The run; a machine that the course does not suit is drawn again."""
    try:
        return run(case, "compiled")
    except InputError:
        assume(False)
        raise


def cases(**fixed: Mapping[str, Any]) -> st.SearchStrategy[Case]:
    """Cases on short courses; `fixed`: fields of the scenario's ground and drive."""
    return st.builds(case_of, machine_tables(), outfit_tables(), course_tables(**fixed))


def gained(track: Track) -> float:
    """Energy that comes from nowhere, as a share of the most that was in motion.

    Not of what was lost: a machine that rolls up a grade and back loses next to nothing.
    """
    total, model = mechanical(track), track.flat.model[0]
    allowed = np.minimum.accumulate(total + in_springs(track))
    fastest = (track.written()["velocity"] ** 2).sum(axis=1).max()
    return float((total - allowed).max() / (0.5 * model["mass"].sum() * fastest))


@given(cases(drive={"hold": "coast"}))
@FEW
def test_energy_never_grows_without_drive(case: Case) -> None:
    """Coasting over stones and holes: no more comes back than tyres held.

    What the step of the clock adds is small; where it is not, it shrinks with the step.
    """
    track = driven(case)
    assume(len(track.written()) > 100)
    share = gained(track)
    if share > 2e-3:
        step = case.scenario.run.step / 2.0
        finer = driven(case.with_scenario({"run.step": step, "run.rate": 1.0 / step}))
        assert gained(finer) < 0.6 * share < 6e-3


def clearance(case: Case, track: Track, wheel: int) -> Vector:
    """(n,) [m] from a wheel's lowest corner to the height of the tallest thing on the ground."""
    record, name = build_record(case, track), f"wheel_{WHEELS[wheel]}"
    lean = Rotation.from_quat(record.quaternion(name)).apply([0.0, 1.0, 0.0])[:, 2]
    flat = track.flat.case[0]
    reach = flat["radius"][wheel] * np.sqrt(1.0 - lean**2)
    reach += 0.5 * flat["section"][wheel] * np.abs(lean)
    tallest = max(f.height * (f.shape == "bump") for f in case.scenario.feature)
    high: Vector = record.place(name)[:, 2] - reach - tallest
    return high


@given(cases())
@FEW
def test_a_wheel_in_the_air_carries_no_load(case: Case) -> None:
    track = driven(case)
    for wheel in range(4):
        loads = track.written()["load"][:, wheel]
        assert (loads >= 0.0).all()
        assert (loads[clearance(case, track, wheel) > 0.0] == 0.0).all()


@st.composite
def parked(draw: st.DrawFn) -> Case:
    """Parked across a slope well below lift-off and within friction."""
    case = draw(cases(drive={"speed": 0.0}))
    lift_off = tip(fit(case.machine, case.outfit), downhill="right").lift_off_slope_deg
    assume(lift_off is not None and lift_off > 12.0)
    steepest = radians(min(lift_off - 8.0, 22.0))
    slope = draw(between(0.3, 1.0)) * steepest
    return case.with_scenario(
        {"ground.slope": slope, "ground.grade": 0.0, "ground.friction": 1.0, "feature": []}
    )


@given(parked())
@settings(max_examples=10)
def test_a_parked_machine_stays_where_it_is(case: Case) -> None:
    track = driven(case)
    outcome, rows = track.outcome, track.written()
    assert outcome.facts == ("planted", "halted", True)
    # what is left of settling: it ends while it still turns at up to 2e-4 rad/s, and its grip of
    # 1.5 gives way to the ground's
    assert np.ptp(rows["roll_slope"]) < radians(0.1)
    assert np.ptp(rows["position"], axis=0).max() < 2e-3  # [m]


def longest_up(track: Track) -> float:
    """[s] the longest that any wheel carried nothing, the setting off aside."""
    rows = track.written()
    up = rows["load"][rows["t_s"] >= 0.25 - 1e-9] == 0.0
    counts, longest = np.zeros(4), 0.0
    for row in up:
        counts = np.where(row, counts + 1, 0)
        longest = max(longest, counts.max())
    return longest * STEP


@given(cases())
@settings(max_examples=60)
def test_the_facts_are_those_that_the_record_shows(case: Case) -> None:
    """Read again from the rows, which hold every step, without what the run itself tracked."""
    track = driven(case)
    outcome, rows = track.outcome, track.written()
    if outcome.stability is None:
        assert np.isnan(outcome.peak_roll_deg)
        assert outcome.to_dict()["peak_roll_deg"] is None
        return
    if outcome.progress == "not_started":
        assert not outcome.is_good
        return
    peaks_agree(outcome, rows)
    over = (np.abs(rows["roll_slope"]) >= OVER) | (np.abs(rows["pitch_slope"]) >= OVER)
    assert (outcome.stability == "overturned") == over.any() == (outcome.progress == "over")
    longest = longest_up(track)
    if abs(longest - 0.05) > 2 * STEP and outcome.stability != "overturned":
        assert (longest > 0.05) == (outcome.stability != "planted")
    if longest > 0.5 + 2 * STEP:
        assert outcome.stability not in ("planted", "hopped")
    if outcome.progress == "across":
        assert (rows["load"][rows["t_s"] > rows["t_s"][-1] - 1.0 + 2 * STEP] > 0.0).all()
        end = case.scenario.feature[0].at + case.scenario.feature[0].extent / 2.0
        assert rows["path"][-1] >= max(end, case.scenario.course.length or 0.0)
    if outcome.progress == "stuck":
        places = rows["position"][-round(2.9 / STEP) :, :2]
        asked = 0.1 * 3.0 * case.scenario.drive.speed
        assert np.linalg.norm(places - places[0], axis=1).max() <= 2.0 * asked


def peaks_agree(outcome: Outcome, rows: Any) -> None:
    for peak, angles in (
        (outcome.peak_roll_deg, rows["roll_slope"]),
        (outcome.peak_pitch_deg, rows["pitch_slope"]),
    ):
        assert peak == pytest.approx(degrees(angles[np.argmax(np.abs(angles))]), abs=1e-9)
    for wheel, name in enumerate(WHEELS):
        loads = rows["load"][:, wheel]
        assert outcome.min_load_n[name] == loads.min()
        assert outcome.peak_load_n[name] == loads.max()


@pytest.mark.slow
@pytest.mark.parametrize(
    ("law", "drawn"),
    [
        (test_energy_never_grows_without_drive, cases(drive={"hold": "coast"})),
        (test_a_wheel_in_the_air_carries_no_load, cases()),
        (test_the_facts_are_those_that_the_record_shows, cases()),
    ],
)
def test_the_same_laws_on_many_more(law: Any, drawn: st.SearchStrategy[Case]) -> None:
    @settings(max_examples=500)
    @given(drawn)
    def many(case: Case) -> None:
        law.hypothesis.inner_test(case)

    many()
