"""Pictures: the same bytes every time, readable in grey, honest about what is missing."""

from io import BytesIO

import numpy as np
import pytest
from matplotlib.colors import to_hex
from matplotlib.figure import Figure
from PIL import Image

from sidehill.case import Case
from sidehill.machine.build import fit
from sidehill.machine.file import load_machine
from sidehill.machine.linkage import WHEELS
from sidehill.machine.outfit import Outfit
from sidehill.picture import history, polar
from sidehill.picture.colours import PALE_PLUM
from sidehill.run.facts import PROGRESS, STABILITY
from sidehill.run.record import Record, simulate
from sidehill.scenario.file import load_scenario

BRAMBLE = load_machine("bramble")
LOADED = Outfit(bucket_load="250 kg", bucket_height="full")


def pixels(picture: bytes) -> "np.ndarray[tuple[int, ...], np.dtype[np.uint8]]":
    """(rows, columns, 3) of a PNG."""
    return np.asarray(Image.open(BytesIO(picture)).convert("RGB"))


def texts(drawn: list[Figure]) -> str:
    """Every word on the last figure that was drawn."""
    found = drawn[-1].findobj(lambda item: hasattr(item, "get_text"))
    return "\n".join(item.get_text() for item in found)


@pytest.fixture
def drawn(monkeypatch: pytest.MonkeyPatch) -> list[Figure]:
    """The figures that are turned into bytes from here on."""
    kept: list[Figure] = []
    for module in (history, polar):
        keep = module.png
        monkeypatch.setattr(
            module, "png", lambda figure, keep=keep: kept.append(figure) or keep(figure)
        )
    return kept


@pytest.fixture(scope="module")
def records() -> dict[str, Record]:
    """One machine that comes across a stone, one that does not even stand."""
    stone = load_scenario("bank-stone", ("ground.slope=4 deg",))
    return {
        "across": simulate(Case(BRAMBLE, stone), "mujoco"),
        "not standing": simulate(Case(BRAMBLE, stone, LOADED).with_slope(0.6), "mujoco"),
    }


@pytest.fixture(scope="module")
def tilted() -> Record:
    return simulate(Case(BRAMBLE, load_scenario("tilt-table")), "mujoco")


def test_same_bytes_every_time(records: dict[str, Record]) -> None:
    assert history.history_picture(records) == history.history_picture(records)
    fitted = fit(BRAMBLE, LOADED)
    assert polar.polar_picture(fitted) == polar.polar_picture(fitted)


def test_a_users_own_settings_change_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    fitted = fit(BRAMBLE, LOADED)
    plain = polar.polar_picture(fitted)
    monkeypatch.setitem(__import__("matplotlib").rcParams, "font.size", 20.0)
    assert polar.polar_picture(fitted) == plain


def test_what_is_drawn_depends_on_what_is_shown(records: dict[str, Record], tilted: Record) -> None:
    one = history.history_picture({"": records["across"]})
    assert one != history.history_picture({"": tilted})
    assert pixels(history.history_picture(records)).shape[1] >= pixels(one).shape[1]
    assert (pixels(one) < 128).all(axis=2).mean() > 0.002  # something dark on it


def test_every_column_has_its_name_and_facts(
    records: dict[str, Record], drawn: list[Figure]
) -> None:
    history.history_picture(records, "title here")
    said = " ".join(texts(drawn).split())
    for word in ("across a wheel lifts; it comes across", "title here", "it does not permit"):
        assert word in said
    outcome = records["not standing"].outcome
    assert outcome.progress == "not_started"
    assert f"{STABILITY[str(outcome.stability)]}; {PROGRESS['not_started']}" in said
    assert "no drive was run" in said
    names = {"uphill rear", "downhill front", "a wheel is up", "rear axle at the bump"}
    assert names | {"axle stop", "balance angle"} <= set(texts(drawn).splitlines())


def test_a_band_for_every_time_in_which_a_wheel_carried_nothing(
    records: dict[str, Record], drawn: list[Figure]
) -> None:
    """Read off the loads of the record: rows with no load on a wheel for 0.06 s or more."""
    history.history_picture({"": records["across"]})
    columns = records["across"].columns
    time, bands = columns["t_s"], []
    for wheel in WHEELS:
        up = np.concatenate(([False], columns[f"load_{wheel}_n"] <= 0.0, [False]))
        edges = np.flatnonzero(np.diff(up.astype(int)))
        bands += [(time[a], time[b - 1]) for a, b in zip(edges[::2], edges[1::2], strict=True)]
    long = sorted(band for band in bands if band[1] - band[0] > 0.06)
    assert long
    for axes in drawn[-1].axes[:3]:
        drawn_bands = [p for p in axes.patches if p.get_label() == "a wheel is up"]
        drawn_bands += [p for p in axes.patches if to_hex(p.get_facecolor()) == PALE_PLUM]
        spans = {(p.get_x(), p.get_x() + p.get_width()) for p in drawn_bands}
        for low, high in long:
            assert any(abs(a - low) < 0.03 and abs(b - high) < 0.03 for a, b in spans)


def test_the_balance_angle_is_the_records(records: dict[str, Record], drawn: list[Figure]) -> None:
    history.history_picture({"": records["across"]})
    lines = {line.get_label(): line.get_ydata() for line in drawn[-1].axes[1].lines}
    assert np.array_equal(lines["balance angle"], records["across"].columns["balance_angle_deg"])


def test_a_tilt_table_is_drawn_over_its_slope(tilted: Record, drawn: list[Figure]) -> None:
    history.history_picture({"": tilted})
    assert "slope of the table [°]" in texts(drawn)
    assert "not computed" not in texts(drawn)  # it has no facts


def test_uphill_is_the_side_that_unloads(records: dict[str, Record], drawn: list[Figure]) -> None:
    history.history_picture({"": records["across"]})
    lines = {line.get_label(): line.get_ydata() for line in drawn[-1].axes[2].lines}
    assert lines["uphill rear"][50] < lines["downhill rear"][50]
    assert lines["uphill front"][50] < lines["downhill front"][50]


def test_polar_marks_all_four_sides(drawn: list[Figure]) -> None:
    polar.polar_picture(fit(BRAMBLE, LOADED))
    said = texts(drawn)
    assert "11.2°" in said  # rigid lift-off of the loaded machine, 11.29, rounded down
    assert said.count("11.2°") == 2  # symmetric
    assert "both rear wheels lift first" in said
