"""Roll traces: drawn over the path, bad ends marked, nothing drawn of what is not known."""

from dataclasses import replace

import numpy as np
import pytest
from matplotlib.figure import Figure

from sidehill.case import Case
from sidehill.kernels.layout import BROKEN
from sidehill.machine.file import load_machine
from sidehill.machine.outfit import Outfit
from sidehill.picture import traces
from sidehill.picture.history import TOP_ROLL
from sidehill.run.record import Record, simulate
from sidehill.scenario.file import load_scenario

BRAMBLE = load_machine("bramble")
STONE = load_scenario("bank-stone", ("ground.slope=4 deg",))
LARGE = load_scenario(
    "bank-stone", ("ground.slope=8 deg", "feature.1.height=200 mm", "drive.speed=1 km/h")
)
HIGH = Outfit(bucket_load="250 kg", bucket_height="full")


@pytest.fixture(scope="module")
def records() -> dict[str, Record]:
    """One that comes across, one that goes over on the stone, one that does not even stand."""
    return {
        "across": simulate(Case(BRAMBLE, STONE), "compiled"),
        "over": simulate(Case(BRAMBLE, LARGE, HIGH), "compiled"),
        "not standing": simulate(Case(BRAMBLE, STONE, HIGH).with_slope(0.6), "compiled"),
        "failed": broken(simulate(Case(BRAMBLE, STONE), "compiled")),
    }


def broken(record: Record) -> Record:
    """The same with numbers that went bad."""
    state = record.state.copy()
    state["finish"] = BROKEN
    return replace(record, meta=record.meta | {"state": state.view(float).tolist()})


@pytest.fixture
def figure(records: dict[str, Record], monkeypatch: pytest.MonkeyPatch) -> Figure:
    kept: list[Figure] = []
    monkeypatch.setattr(traces, "image", lambda figure, kind: kept.append(figure) or b"")
    traces.traces_picture(records, "t")
    return kept[0]


def test_roll_over_path(figure: Figure, records: dict[str, Record]) -> None:
    line = figure.axes[0].lines[0]
    assert np.array_equal(line.get_xdata(), records["across"].columns["path_m"])
    assert np.array_equal(line.get_ydata(), records["across"].columns["roll_slope_deg"])


def test_the_legend_says_how_each_ended(figure: Figure) -> None:
    said = [text.get_text() for text in figure.legends[0].get_texts()]
    wanted = {
        "across: a wheel lifts; it comes across",
        "over: it goes over on the way",
        "not standing: it goes over; it cannot stand there on four wheels",
        "failed: not computed",
    }
    assert wanted <= set(said)
    assert "rear axle at the bump" in said


def test_what_is_not_known_has_no_line(figure: Figure) -> None:
    [line] = [one for one in figure.axes[0].lines if str(one.get_label()).startswith("failed")]
    assert len(line.get_xdata()) == 0


def test_a_fall_is_marked_at_the_top(figure: Figure) -> None:
    axes = figure.axes[0]
    assert axes.get_ylim()[1] == TOP_ROLL
    [mark] = [one for one in axes.lines if one.get_marker() == "^"]
    assert 0.9 * TOP_ROLL < float(np.asarray(mark.get_ydata())[0]) < TOP_ROLL


def test_same_bytes_every_time(records: dict[str, Record]) -> None:
    assert traces.traces_picture(records, "t", "svg") == traces.traces_picture(records, "t", "svg")
