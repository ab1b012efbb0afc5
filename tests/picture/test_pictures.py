"""Pictures: the same bytes every time, readable in grey, honest about what is missing."""

import json
from io import BytesIO
from itertools import combinations

import numpy as np
import pandas as pd
import pytest
from matplotlib.colors import to_rgb
from matplotlib.figure import Figure
from PIL import Image

from sidehill.case import Case
from sidehill.machine.build import fit
from sidehill.machine.file import load_machine
from sidehill.machine.outfit import Outfit
from sidehill.picture import history, limits, polar
from sidehill.run.record import Record, simulate
from sidehill.scenario.file import load_scenario
from sidehill.sweep.row import columns

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
    for module in (history, limits, polar):
        keep = module.png
        monkeypatch.setattr(
            module, "png", lambda figure, keep=keep: kept.append(figure) or keep(figure)
        )
    return kept


@pytest.fixture(scope="module")
def records() -> dict[str, Record]:
    """One machine that comes across a stone, one that does not even stand."""
    stone = load_scenario("bank-stone")
    return {
        "across": simulate(Case(BRAMBLE, stone), "mujoco"),
        "not standing": simulate(Case(BRAMBLE, stone, LOADED).with_slope(0.6), "mujoco"),
    }


@pytest.fixture(scope="module")
def tilted() -> Record:
    return simulate(Case(BRAMBLE, load_scenario("tilt-table")), "mujoco")


def row(option: str, good: float, judged: str) -> dict[str, object]:
    """An option good up to a slope for every event; NaN: nowhere."""
    found: dict[str, object] = {"option": option, "engine": "mujoco"}
    bands = [{"low": 2.0, "high": 35.0, "good": False}]
    for until in ("lift", "stop", "overturn"):
        found |= {
            f"{until}_highest_good_deg": good,
            f"{until}_lowest_bad_deg": 2.0 if np.isnan(good) else good + 0.05,
            f"{until}_verdict_at_limit": judged,
            f"{until}_is_threshold": not np.isnan(good),
            f"{until}_bands": json.dumps(bands),
        }
    return found


def table(*rows: dict[str, object]) -> pd.DataFrame:
    kinds = columns(("lift", "stop", "overturn"))
    return pd.DataFrame(rows, columns=list(kinds)).astype(kinds)


LIMITS = table(
    row("bucket high, as delivered", 9.1, "overturned"),
    row("bucket low, as delivered", float("nan"), "wheel_lifted"),
    {"option": "bucket low, broken", "engine": "mujoco", "problem": "no such wheel"},
)


def test_same_bytes_every_time(records: dict[str, Record]) -> None:
    assert history.history_picture(records) == history.history_picture(records)
    assert limits.limits_picture(LIMITS, "x") == limits.limits_picture(LIMITS, "x")
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


def test_every_column_has_its_name_and_verdict(
    records: dict[str, Record], drawn: list[Figure]
) -> None:
    history.history_picture(records, "title here")
    said = texts(drawn)
    for word in ("across\nwheel_lifted", "not standing\nnot_settled", "title here"):
        assert word in said
    assert "no drive was run" in said
    assert "it does not permit" in said
    names = {"uphill rear", "downhill front", "a wheel is up", "rear axle at the bump", "axle stop"}
    assert names <= set(said.splitlines())


def test_a_tilt_table_is_drawn_over_its_slope(tilted: Record, drawn: list[Figure]) -> None:
    history.history_picture({"": tilted})
    assert "slope of the table [°]" in texts(drawn)
    assert "overturned" not in texts(drawn)  # it has no verdict


def test_uphill_is_the_side_that_unloads(records: dict[str, Record], drawn: list[Figure]) -> None:
    history.history_picture({"": records["across"]})
    lines = {line.get_label(): line.get_ydata() for line in drawn[-1].axes[1].lines}
    assert lines["uphill rear"][50] < lines["downhill rear"][50]
    assert lines["uphill front"][50] < lines["downhill front"][50]


def test_limit_chart_shows_what_is_missing(drawn: list[Figure]) -> None:
    limits.limits_picture(LIMITS, "x")
    said = texts(drawn)
    assert "lifts a wheel at every slope tried" in said
    assert "not computed: no such wheel" in said
    assert "overturned" in said
    widths = [bar.get_width() for bar in drawn[-1].axes[0].patches]
    assert widths.count(9.1) == 3  # one option has bars, as long as its limits


def test_limit_chart_of_options_that_all_failed(drawn: list[Figure]) -> None:
    limits.limits_picture(table({"option": "a", "engine": "mujoco", "problem": "broken"}), "x")
    assert "not computed: broken" in texts(drawn)


def test_events_differ_in_grey_or_hatch() -> None:
    styles = [(face, hatch) for _, face, hatch in limits._EVENTS.values()]
    weights = np.array([0.299, 0.587, 0.114])  # luma of ITU-R BT.601
    for (one, hatch), (other, other_hatch) in combinations(styles, 2):
        apart = abs(float(weights @ np.subtract(to_rgb(one), to_rgb(other))))
        assert apart > 0.15 or hatch != other_hatch


def test_polar_marks_all_four_sides(drawn: list[Figure]) -> None:
    polar.polar_picture(fit(BRAMBLE, LOADED))
    said = texts(drawn)
    assert "11.2°" in said  # rigid lift-off of the loaded machine, 11.29, rounded down
    assert said.count("11.2°") == 2  # symmetric
    assert "both rear wheels lift first" in said
