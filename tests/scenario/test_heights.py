"""Heights of one's own: by laws, what a shipped feature does an array of the same heights does."""

from dataclasses import replace
from pathlib import Path
from typing import Any

import numpy as np
import pytest

import sidehill as sh
from sidehill.kernels.height import height
from sidehill.run.outcome import Outcome

COURSE = {"course.length": 7.0, "drive.speed": 1.4, "ground.slope": 0.26, "run.step": 0.002}
PLAIN = sh.load_scenario("bank-plain", **COURSE)
MACHINE, OUTFIT = sh.load_machine("bramble"), sh.Outfit(bucket_load=200, bucket_height="carry")
START, STEP = 3.0, 0.05
PATH = START + STEP * np.arange(61)
ACROSS = STEP * np.arange(-24, 25)


def stone() -> np.ndarray:
    """(49, 61) [m] a stone 90 mm high, 0.8 m by 0.6 m, 4.5 m along and 0.5 m to the left, written
    out: a cosine squared along, flat across, its outer fifths falling as a cubic."""
    along = np.cos(np.pi / 0.8 * np.clip(PATH - 4.5, -0.4, 0.4)) ** 2
    inside = np.clip((0.3 - np.abs(ACROSS - 0.5)) / 0.12, 0.0, 1.0)
    return 0.09 * np.outer(inside**2 * (3.0 - 2.0 * inside), along)


def ground(rows: np.ndarray, across: Any = ACROSS) -> sh.Heights:
    return sh.Heights(start=START, spacing=STEP, across=across, height=rows)


def drive(engine: str = "compiled", **changes: Any) -> Outcome:
    return sh.simulate(sh.Case(MACHINE, PLAIN.with_values(changes), OUTFIT), engine).outcome


def facts(outcome: Outcome) -> tuple[Any, ...]:
    return outcome.stability, outcome.progress, outcome.met


def test_an_array_of_a_stone_is_the_stone() -> None:
    feature = {"shape": "bump", "y": 0.5, "at": 4.5, "height": 0.09, "length": 0.8, "width": 0.6}
    one, other = drive(feature=[feature]), drive(heights=ground(stone()))
    assert facts(one) == facts(other)
    assert one.peak_roll_deg > 2.0 + drive().peak_roll_deg  # it is a stone
    assert other.peak_roll_deg == pytest.approx(one.peak_roll_deg, abs=0.02)


@pytest.mark.parametrize("law", ["point", "enveloping"])
def test_a_short_stone_is_found_wherever_a_wheel_meets_it(law: str) -> None:
    """Shorter than the rim's curve: a search that goes on from where it was would stay behind."""
    rows = np.zeros((1, 61))
    rows[0, 29:32] = 0.03, 0.06, 0.03  # 4.5 m along, 0.2 m long, right across
    ridge = {"shape": "ridge", "at": 4.5, "height": 0.06, "length": 0.2}
    slow = {"run.tyre": law, "drive.speed": 0.5}
    one = drive(feature=[ridge], **slow)
    other = drive(heights=ground(rows, across=(0.0,)), **slow)
    assert facts(one) == facts(other)
    for name in ("peak_pitch_deg", "peak_roll_deg"):
        assert getattr(other, name) == pytest.approx(getattr(one, name), abs=0.25)


def test_flat_heights_change_nothing() -> None:
    one, other = drive(), drive(heights=ground(np.zeros((1, 61)), across=(0.0,)))
    assert facts(one) == facts(other)
    assert other.peak_roll_deg == pytest.approx(one.peak_roll_deg, abs=1e-9)


def test_it_is_the_same_in_a_mirror() -> None:
    rows = stone()
    one = drive(heights=ground(rows))
    other = drive(heights=ground(rows[::-1]), **{"ground.downhill": "left"})
    assert facts(one) == facts(other)
    assert other.peak_roll_deg == pytest.approx(one.peak_roll_deg, abs=1e-6)


def test_another_engine_does_the_same() -> None:
    one, other = (drive(engine, heights=ground(stone())) for engine in ("compiled", "mujoco"))
    assert facts(one) == facts(other)
    assert other.peak_roll_deg == pytest.approx(one.peak_roll_deg, abs=1e-3)


def test_the_ground_goes_through_every_height() -> None:
    random = np.random.default_rng(4)
    for spacing, across in ((0.04, (-0.2, 0.2)), (0.12, (-0.6, -0.48, 0.0)), (0.3, (0.1,))):
        rows = 0.01 * random.uniform(size=(len(across), 11)) * (np.arange(11) > 1)
        made = sh.Heights(start=3.0, spacing=spacing, across=across, height=rows)
        flat = sh.flatten(sh.Case(MACHINE, PLAIN.with_values({"heights": made})))
        if len(across) != 2:  # two are a ramp between them, whose ends need no line of the grid
            for row, left in zip(rows, across, strict=True):
                there = [height(3.0 + k * spacing, left, flat.ground) for k in range(11)]
                assert there == pytest.approx(row, abs=1e-12)
        for row, left in ((rows[0], across[0] - 0.8), (rows[-1], across[-1] + 0.8)):
            beside = [height(3.0 + k * spacing, left, flat.ground) for k in range(11)]
            assert beside == pytest.approx(row, abs=1e-12)  # beyond the outermost, as it is
        far = [height(x, y, flat.ground) for x, y in ((0.5, 0.0), (5.0, 9.0), (12.0, 0.0))]
        assert far == pytest.approx([0.0, 0.0, 0.0], abs=1e-12)


def test_a_file_of_profiles_is_the_array(tmp_path: Path) -> None:
    """Centimetres and millimetres, left before right, a start of its own."""
    left, right = 0.03 * np.sin(np.arange(41) / 3.0) ** 2, np.zeros(41)
    lines = [f"{5 * k},{1000 * z:.6f},0" for k, z in enumerate(left)]
    text = "\n".join(["path [cm],left [mm],right [mm]", *lines])
    (tmp_path / "bank.csv").write_text(text + "\n", encoding="utf-8")
    shipped = Path(sh.__file__).parents[2] / "scenarios" / "bank-plain.toml"
    own = shipped.read_text(encoding="utf-8") + '\n[heights]\nfile = "bank.csv"\nstart = "3 m"\n'
    (tmp_path / "own.toml").write_text(own, encoding="utf-8")
    read = sh.load_scenario(tmp_path / "own.toml").heights
    made = sh.Heights(start=3.0, spacing=0.05, across=(-0.2, 0.2), height=[right, left])
    assert read is not None and read.across == made.across and read.spacing == made.spacing
    assert np.array(read.height) == pytest.approx(np.array(made.height), abs=1e-8)
    assert sh.read_heights(tmp_path / "bank.csv", 3.0) == read


def test_every_height_is_in_the_key() -> None:
    rows = stone()
    case = sh.Case(MACHINE, PLAIN.with_values({"heights": ground(rows)}), OUTFIT)
    again = sh.Case(MACHINE, PLAIN.with_values({"heights": ground(rows.copy())}), OUTFIT)
    assert case.key() == again.key() == sh.Case.from_resolved(case.resolved()).key()
    rows[30, 30] += 1e-6
    other = replace(case, scenario=PLAIN.with_values({"heights": ground(rows)}))
    assert other.key() != case.key()


@pytest.mark.parametrize(
    ("changes", "said"),
    [
        ({"height": [[0.0, 0.1]]}, r"height\.1 = .*from 0 m to 0.1 m at a path of 3 m: too steep"),
        ({"height": [[0.0]]}, "allowed: a profile for each of across"),
        ({"height": [[0.0, 0.0], [0.0, 0.0]]}, "2 profiles of .* for 1 offsets"),
        ({"across": (0.2, 0.0), "height": [[0.0, 0.0]] * 2}, "from right to left"),
        ({"across": (0.0, 0.1, 0.17), "height": [[0.0, 0.0]] * 3}, "a gap of 0.07 m"),
        ({"height": [[0.0, float("nan")]]}, "not a finite number"),
    ],
)
def test_what_does_not_fit_is_refused(changes: dict[str, Any], said: str) -> None:
    good = {"start": START, "spacing": STEP, "across": (0.0,), "height": [[0.0, 0.0]]}
    for build in (
        lambda: PLAIN.with_values({"heights": good | changes}),
        lambda: sh.Heights(**(good | changes)),
    ):
        with pytest.raises(sh.InputError, match=f"(?s){said}"):
            build()


@pytest.mark.parametrize(
    ("scenario", "changes", "said"),
    [
        ("bank-plain", {"course.length": 4.0}, r"reach from 3 m to 6 m; allowed: on the course"),
        ("bank-plain", {"ground.roughness": "C"}, r"ground.roughness.*beside \[heights\]"),
        ("turn-uphill", {}, 'on path "contour"'),
        ("tilt-table", {}, "heights.*leave it out"),
    ],
)
def test_where_it_cannot_lie_is_refused(scenario: str, changes: Any, said: str) -> None:
    with pytest.raises(sh.InputError, match=f"(?s){said}"):
        sh.load_scenario(scenario, heights=ground(stone()), **changes)


def test_it_starts_on_a_plane() -> None:
    """What does not begin with nothing rises before; that must lie ahead of the front wheels."""
    early = sh.Heights(start=START, spacing=STEP, across=(0.0,), height=np.full((1, 9), 0.05))
    with pytest.raises(sh.InputError, match=r"off the plane from 1\.00 m .*move heights.start"):
        drive(heights=early)
    assert sh.flatten(sh.Case(MACHINE, PLAIN.with_values({"heights": ground(stone())})))


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("path [m],left [mm]\n0,0\n1,x\n", 'row 3, column "left \\[mm\\]": "x": not a number'),
        ("path [m],left [mm]\n0,0\n1\n", "row 3: 1 values for 2 columns"),
        ("path [m],left [mm]\n0,0\n1,0\n1.5,0\n", "rows 2 and 3: path 0 m, 1 m; allowed: rising"),
        ("path,left [mm]\n0,0\n1,0\n", r'column "path": allowed: path \[m\] first'),
        ("path [m],left [kg]\n0,0\n1,0\n", r'column "left \[kg\]": .*allowed: left \[mm\]'),
        ("path [m],left [mm]\n", "needed: a head"),
    ],
)
def test_a_file_that_cannot_be_used_says_where(tmp_path: Path, text: str, said: str) -> None:
    file = tmp_path / "bank.csv"
    file.write_text(text, encoding="utf-8")
    with pytest.raises(sh.InputError, match=f"bank.csv: {said}"):
        sh.read_heights(file)


@pytest.mark.parametrize(
    ("table", "said"),
    [
        ('file = "../bank.csv"', "leads out of the file's own folder"),
        ('file = "none.csv"', "cannot be read as CSV"),
        ('start = "3 m"', "file"),
        ('file = "a.csv"\nspacing = "5 cm"', "spacing"),
    ],
)
def test_a_table_that_cannot_be_used_says_where(tmp_path: Path, table: str, said: str) -> None:
    shipped = Path(sh.__file__).parents[2] / "scenarios" / "bank-plain.toml"
    folder = tmp_path / "inner"
    folder.mkdir()
    text = shipped.read_text(encoding="utf-8") + f"\n[heights]\n{table}\n"
    (folder / "own.toml").write_text(text, encoding="utf-8")
    with pytest.raises(sh.InputError, match=f"own.toml, line .*{said}"):
        sh.load_scenario(folder / "own.toml")
