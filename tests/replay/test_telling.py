"""What is told while a run plays, held against the columns of runs that were driven."""

from typing import Any

import numpy as np
import pytest
from film.posed import case_of

from sidehill.film.pane import build_pane
from sidehill.replay import telling
from sidehill.replay.run import Run, read_run
from sidehill.run.record import Record, simulate

ROW = 0.011  # [s] between rows of a record, and a step
LOAD = {"bucket_load": "250 kg"}
HIGH = {**LOAD, "bucket_height": "full"}
WHEELS = ("front_left", "front_right", "rear_left", "rear_right")


def driven(slope: str, downhill: str, outfit: dict[str, Any], scenario: str) -> Record:
    changes = [f"ground.slope={slope}", f"ground.downhill={downhill}"]
    return simulate(case_of("bramble", scenario, changes, outfit), "compiled")


def told(record: Record) -> Run:
    return read_run(record, build_pane(record, "run"))


def up(record: Record) -> np.ndarray:
    """(n, 4) rows at which a wheel carries nothing, up to 60 deg."""
    loads = np.stack([record.columns[f"load_{wheel}_n"] for wheel in WHEELS], axis=1)
    upright = np.cumsum(np.abs(record.columns["roll_slope_deg"]) >= 60.0) == 0
    return (loads <= 0.0) & upright[:, None]


@pytest.mark.parametrize("downhill", ["right", "left"])
@pytest.mark.parametrize("outfit", [HIGH, LOAD], ids=["high", "low"])
def test_moments_and_bands_are_where_the_columns_have_them(
    downhill: str, outfit: dict[str, Any]
) -> None:
    """A stone at 9.25 deg: the uphill rear wheel comes up, the body falls onto its stop."""
    record = driven("9.25 deg", downhill, outfit, "bank-stone")
    run, rows, times = told(record), up(record), record.columns["t_s"]
    assert run.facts is not None
    names = {moment.name: moment.time for moment in run.moments}
    bands = telling.bands(run.pane, run.facts)
    for band in bands:
        inside = (times > band["from"] + ROW) & (times < band["to"] - ROW)
        assert rows[inside, band["wheel"]].all()
        assert "uphill" in band["text"] or "downhill" in band["text"]
    covered = np.zeros_like(rows)
    for band in bands:
        covered[(times >= band["from"] - ROW) & (times <= band["to"] + ROW), band["wheel"]] = True
    for wheel in range(len(WHEELS)):  # short spells, and setting off, do not count
        edges = np.diff(np.concatenate([[False], rows[:, wheel] & ~covered[:, wheel], [False]]))
        for first, past in np.flatnonzero(edges).reshape(-1, 2):
            assert times[past - 1] - times[first] < 0.05 or times[first] < 0.25 + ROW
    gaps = np.stack([record.columns[f"daylight_{wheel}_m"] for wheel in WHEELS], axis=1)
    assert names["most daylight"] == times[np.argmax(np.where(rows, gaps, 0.0).max(axis=1))]
    assert names["stopped"] == times[-1]
    assert record.outcome.stability == "on_stop"
    pin = np.abs(record.columns["pin_deg"])
    row = np.searchsorted(times, names["on its stop"])
    assert pin[row] >= np.degrees(run.pane.swing) - 0.11
    assert (pin[: row - 1][rows[: row - 1, 2:].any(axis=1)] < np.degrees(run.pane.swing)).all()
    tones = [badge["tone"] for badge in telling.badges(run.facts.outcome)]
    assert telling.GOOD not in tones and tones[0] == telling.AMBER


def test_one_that_goes_over() -> None:
    """States end in overturning and in what is for illustration; nothing is followed after."""
    record = driven("16 deg", "right", HIGH, "bank-stone")
    run = told(record)
    assert record.outcome.stability == "overturned"
    assert run.facts is not None and run.pane.over is not None
    past = next(moment.time for moment in run.moments if "60 deg" in moment.name)
    row = np.searchsorted(record.columns["t_s"], past)
    roll = np.abs(record.columns["roll_slope_deg"])
    assert roll[row] >= 60.0 - 1e-6 and (roll[:row] < 60.0).all()
    states = {state["text"]: state for state in telling.states(run.pane, run.facts)}
    assert states["overturning"]["to"] == past
    assert states["past 60 deg: for illustration"]["from"] == past
    assert states["past 60 deg: for illustration"]["to"] == run.pane.end
    assert run.facts.daylight[row + 1 :].max() == 0.0
    assert telling.figures(run.pane)["largest roll to the slope"] == "past 60 deg"


def test_four_loaded_wheels_across_are_good() -> None:
    record = driven("10 deg", "right", {}, "bank-plain")
    run = told(record)
    assert run.facts is not None and record.outcome.is_good
    assert [badge["tone"] for badge in telling.badges(run.facts.outcome)] == [telling.GOOD] * 2
    assert [moment.name for moment in run.moments] == ["stopped"]
    figures = telling.figures(run.pane)
    assert figures["most daylight under a wheel"] == "none"
    assert figures["stability"].startswith("planted: ")
    assert figures["progress"].startswith("across: ")
