"""Limits, verdicts and tables in words: nothing missing is made to look good."""

import pandas as pd
import pytest

from sidehill.cli import comparison
from sidehill.run.outcome import VERDICTS as ALL
from sidehill.run.words import VERDICTS, peak, threshold
from sidehill.strip.limit import Band, Limit
from sidehill.strip.words import bands, limit
from sidehill.sweep.row import columns

GOOD, BAD = Band(2.0, 14.24, True), Band(14.28, 35.0, False)


def found(until: str, good: float | None, bad: float | None, judged: str | None, *seen: Band):
    return Limit("slope", until, good, bad, judged, "deg", 0.05, 9, seen, "mujoco", None, None)


def test_every_verdict_has_words() -> None:
    assert tuple(VERDICTS) == ALL


@pytest.mark.parametrize(
    ("answer", "said"),
    [
        (
            found("lift", 14.24, 14.28, "wheel_lifted", GOOD, BAD),
            "good up to 14.2 deg (25 %), then lifts a wheel",
        ),
        (
            found("overturn", 14.24, 14.28, "stalled", GOOD, BAD),
            "good up to 14.2 deg (25 %), then stalled: it came to a halt before the end",
        ),
        (
            found("lift", None, 2.0, "wheel_lifted", Band(2.0, 35.0, False)),
            "lifts a wheel at every slope tried (from 2.0 deg (3 %))",
        ),
        (
            found("stop", None, 2.0, "wheel_lifted", Band(2.0, 35.0, False)),
            "comes onto its axle stop at every slope tried (from 2.0 deg (3 %))",
        ),
        (
            found("lift", None, 2.0, "wheel_lifted", Band(2.0, 6.0, False), Band(10.0, 35.0, True)),
            "lifts a wheel at the lowest slope tried (2.0 deg (3 %)), good above: no threshold",
        ),
        (
            found("lift", 35.0, None, None, Band(2.0, 35.0, True)),
            "none found up to 35.0 deg (70 %), the highest tried",
        ),
        (
            found("lift", 14.24, 14.28, "wheel_lifted", GOOD, BAD, Band(36.0, 37.0, True)),
            "good up to 14.2 deg (25 %) and then lifts a wheel, but good and bad values "
            "alternate: no threshold",
        ),
    ],
)
def test_a_limit_in_one_line(answer: Limit, said: str) -> None:
    assert limit(answer) == said


def test_other_quantities_have_their_units() -> None:
    bump = Limit(
        "bump",
        "lift",
        0.0999,
        0.101,
        "wheel_lifted",
        "m",
        0.001,
        9,
        (GOOD, BAD),
        "mujoco",
        None,
        None,
    )
    assert limit(bump) == "good up to 99 mm (3.9 in), then lifts a wheel"
    speed = Limit(
        "speed", "lift", 1.0, 1.1, "wheel_lifted", "m/s", 0.1, 9, (GOOD, BAD), "mujoco", None, None
    )
    assert limit(speed, us=True) == "good up to 2.2 mph (3.6 km/h), then lifts a wheel"
    assert bands((GOOD,), "deg") == ["good  2.0 deg (3 %) to 14.2 deg (25 %)"]


def test_unknown_numbers_say_so() -> None:
    assert threshold(None) == "not computed"
    assert peak(None) == peak(float("nan")) == "not computed"
    assert peak(9.91) == "10.0 deg"
    assert threshold(9.99) == "9.9 deg (17 %)"


def table(**changes: object) -> pd.DataFrame:
    """A table of one option, good until it stalls."""
    row: dict[str, object] = {
        "option": "bucket high, as delivered",
        "engine": "mujoco",
        "mass_kg": 1605.2,
        "compliant_lift_off_slope_deg": 9.87,
    }
    for until in ("lift", "stop", "overturn"):
        row |= {
            f"{until}_highest_good_deg": 14.24,
            f"{until}_lowest_bad_deg": 14.28,
            f"{until}_verdict_at_limit": "wheel_lifted" if until == "lift" else "stalled",
            f"{until}_is_threshold": True,
            f"{until}_bands": '[{"low": 2.0, "high": 35.0, "good": false}]',
        }
    kinds = columns(("lift", "stop", "overturn"))
    return pd.DataFrame([row | changes], columns=list(kinds)).astype(kinds)


def test_cells_of_a_comparison() -> None:
    [cells] = comparison.rows(table())
    assert cells == [
        "bucket high, as delivered",
        "1,606 kg",
        "9.8 deg (17 %)",
        "14.2 deg (25 %)",
        "14.2 deg (25 %), stalled",
        "14.2 deg (25 %), stalled",
    ]
    assert any("no good result" in note for note in comparison.footnotes(table()))


def test_none_good_is_said_in_the_cell_and_below() -> None:
    none = table(lift_highest_good_deg=float("nan"), lift_is_threshold=False)
    assert comparison.rows(none)[0][3] == "throughout"
    assert any("at every slope tried (from 2.0 deg" in note for note in comparison.footnotes(none))


def test_a_failed_option_is_never_a_number() -> None:
    failed = table(problem="no such thing")
    assert comparison.rows(failed)[0][3:] == ["not computed: no such thing"] * 3
    assert comparison.footnotes(failed)


def test_a_limit_that_the_reference_engine_disputes_is_marked() -> None:
    disputed = table(stop_reference="pybullet", stop_reference_agrees=False)
    assert comparison.rows(disputed)[0][4].endswith("(?)")
    assert any("do not use this limit" in note for note in comparison.footnotes(disputed))
    assert not any("(?)" in note for note in comparison.footnotes(table()))


def test_no_threshold_is_marked() -> None:
    assert comparison.rows(table(stop_is_threshold=False))[0][4].endswith("(!)")
