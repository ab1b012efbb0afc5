"""Roll traces: drawn over the path, bad ends marked, nothing drawn of what is not known."""

import numpy as np
import pytest
from matplotlib.figure import Figure

from sidehill.case import Case
from sidehill.machine.file import load_machine
from sidehill.machine.outfit import Outfit
from sidehill.picture import traces
from sidehill.picture.history import TOP_ROLL
from sidehill.run.record import Record, simulate
from sidehill.scenario.file import load_scenario

BRAMBLE, STONE = load_machine("bramble"), load_scenario("bank-stone")
HIGH = Outfit(bucket_load="250 kg", bucket_height="full", rear_spacer="76 mm")


@pytest.fixture(scope="module")
def records() -> dict[str, Record]:
    """One that comes across, one that goes over on the stone, one that does not even stand."""
    return {
        "across": simulate(Case(BRAMBLE, STONE), "compiled"),
        "over": simulate(Case(BRAMBLE, STONE, HIGH), "compiled"),
        "not standing": simulate(Case(BRAMBLE, STONE, HIGH).with_slope(0.6), "compiled"),
    }


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
    assert {"across: a wheel lifted", "over: overturned", "not standing: not known"} <= set(said)
    assert "rear axle at the bump" in said


def test_what_is_not_known_has_no_line(figure: Figure) -> None:
    [line] = [one for one in figure.axes[0].lines if str(one.get_label()).startswith("not stand")]
    assert len(line.get_xdata()) == 0


def test_a_fall_is_marked_at_the_top(figure: Figure) -> None:
    axes = figure.axes[0]
    assert axes.get_ylim()[1] == TOP_ROLL
    [mark] = [one for one in axes.lines if one.get_marker() == "^"]
    assert 0.9 * TOP_ROLL < float(np.asarray(mark.get_ydata())[0]) < TOP_ROLL


def test_same_bytes_every_time(records: dict[str, Record]) -> None:
    assert traces.traces_picture(records, "t", "svg") == traces.traces_picture(records, "t", "svg")
