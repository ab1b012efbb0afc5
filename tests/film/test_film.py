"""Films as files: whole or not at all, the right length, and plain words for what is wrong."""

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

import imageio_ffmpeg
import numpy as np
import pytest
from film.posed import case_of, posed
from PIL import Image

from sidehill.files.errors import InputError, SidehillError
from sidehill.film import film, still
from sidehill.film.same import differences
from sidehill.kernels.layout import BROKEN, CUT, RUNNING
from sidehill.run.record import Record, load_record, save_record

SMALL = (480, 270)
Change = Callable[[Record], Record]


@pytest.fixture(scope="module")
def record() -> Record:
    """A tenth of a second on a bank."""
    return posed(case_of("bramble", "bank-stone"), [0.0] * 11)


def without(record: Record, *names: str) -> Record:
    kept = {name: values for name, values in record.columns.items() if name not in names}
    return replace(record, columns=kept)


def with_meta(record: Record, **meta: Any) -> Record:
    return replace(record, meta=record.meta | meta)


def test_an_mp4_has_its_frames_size_and_case(record: Record, tmp_path: Path) -> None:
    out = film([record], ["plain"], tmp_path / "new" / "bank.mp4", size=SMALL, fps=10, workers=1)
    frames = imageio_ffmpeg.read_frames(str(out))
    meta = next(frames)
    assert meta["size"] == SMALL
    assert meta["fps"] == 10
    assert meta["codec"] == "h264"
    assert meta["pix_fmt"].startswith("yuv420p")
    assert sum(1 for _ in frames) == 1 + 10 + 50 + 60  # the run, the hold, the cards
    assert record.meta["key"].encode() in out.read_bytes()
    assert [path.name for path in out.parent.iterdir()] == ["bank.mp4"]


def test_a_gif_has_its_length(record: Record, tmp_path: Path) -> None:
    out = film([record], ["plain"], tmp_path / "bank.gif", size=SMALL, fps=10, workers=1)
    with Image.open(out) as image:
        assert image.size == SMALL
        length = 0
        for k in range(getattr(image, "n_frames", 1)):
            image.seek(k)
            length += image.info["duration"]
    assert length == 12100  # [ms]


def test_progress_counts_to_the_end(record: Record, tmp_path: Path) -> None:
    told: list[tuple[int, int, float]] = []
    film([record], ["x"], tmp_path / "a.gif", size=SMALL, fps=5, workers=1,
         progress=lambda *now: told.append(now))  # fmt: skip
    assert [done for done, _, _ in told] == sorted({done for done, _, _ in told})
    assert told[-1][:2] == (told[-1][1], told[0][1])
    assert told[-1][2] == 0.0


@pytest.mark.parametrize(
    ("kind", "stop", "workers"),
    [
        ("mp4", KeyboardInterrupt, 2),
        ("mp4", ZeroDivisionError, 1),
        ("gif", KeyboardInterrupt, 1),
        ("gif", ZeroDivisionError, 2),
    ],
)
def test_what_is_stopped_leaves_nothing(
    record: Record, tmp_path: Path, kind: str, stop: type[BaseException], workers: int
) -> None:
    old = tmp_path / f"bank.{kind}"
    old.write_bytes(b"the film before")

    def interrupt(done: int, total: int, left: float) -> None:
        raise stop

    with pytest.raises(stop):
        film([record], ["x"], old, size=SMALL, fps=5, workers=workers, progress=interrupt)
    assert [path.name for path in tmp_path.iterdir()] == [old.name]
    assert old.read_bytes() == b"the film before"


def test_a_folder_where_the_file_should_be(record: Record, tmp_path: Path) -> None:
    (tmp_path / "x.mp4").mkdir()
    with pytest.raises(InputError, match="a folder"):
        film([record], ["x"], tmp_path / "x.mp4", size=SMALL)


def test_a_place_that_cannot_be_written(record: Record, tmp_path: Path) -> None:
    (tmp_path / "file").write_text("not a folder")
    with pytest.raises(InputError, match="file: a file, not a folder"):
        film([record], ["x"], tmp_path / "file" / "x.mp4", size=SMALL)


def test_a_kind_of_file_that_is_not_made(record: Record, tmp_path: Path) -> None:
    with pytest.raises(InputError, match=r"\.mp4 or \.gif"):
        film([record], ["x"], tmp_path / "x.avi", size=SMALL)


@pytest.mark.parametrize(
    ("request_", "told"),
    [
        ({"size": (481, 270)}, "even"),
        ({"size": (480, 271)}, "481x270|480x271"),
        ({"size": (100, 100)}, "480x270"),
        ({"size": (9000, 9000)}, "3840x2160"),
        ({"fps": 0}, "5 to 60"),
        ({"camera": "drone"}, "downhill"),
        ({"slow": 0.5}, "slow motion"),
        ({"slow": float("nan")}, "slow motion"),
        ({"caption": "x" * 200}, "120"),
    ],
)
def test_a_request_that_makes_no_film(
    record: Record, tmp_path: Path, request_: dict[str, Any], told: str
) -> None:
    with pytest.raises(InputError, match=told):
        film([record], ["x"], tmp_path / "x.mp4", **request_)
    assert not list(tmp_path.iterdir())


@pytest.mark.parametrize(("records", "titles"), [(0, 0), (5, 5), (2, 1)])
def test_as_many_titles_as_records_and_no_more_than_four(
    record: Record, records: int, titles: int
) -> None:
    with pytest.raises(InputError, match="records"):
        still([record] * records, ["x"] * titles)


@pytest.mark.parametrize(
    ("change", "told"),
    [
        (lambda r: without(r, "bucket_x_m"), 'column "bucket_x_m"'),
        (lambda r: without(r, "load_rear_left_n"), 'column "load_rear_left_n"'),
        (lambda r: without(r, "t_s"), 'column "t_s"'),
        (lambda r: with_meta(r, urdf="<robot/>"), "nothing to draw"),
        (lambda r: with_meta(r, urdf=r.meta["urdf"].replace('"chassis"', '"hull"')),
         'no link "chassis"'),
        (lambda r: replace(r, meta={k: v for k, v in r.meta.items() if k != "urdf"}), "no urdf"),
        (lambda r: replace(r, columns={k: v[:1] for k, v in r.columns.items()}), "1 rows"),
        (lambda r: replace(r, columns=r.columns | {"t_s": r.columns["t_s"] * 0.0}), "time order"),
        (lambda r: replace(r, columns=r.columns | {"chassis_x_m": r.columns["t_s"] * np.nan}),
         "not finite"),
        (lambda r: with_meta(r, state=r.meta["state"][:-7]), "cannot be read"),
    ],
)  # fmt: skip
def test_a_record_that_cannot_be_drawn(record: Record, change: Change, told: str) -> None:
    with pytest.raises(InputError, match=r"record|URDF") as error:
        still([change(record)], ["x"])
    assert told in str(error.value)


def test_a_wheel_that_the_urdf_lacks(record: Record) -> None:
    urdf = record.meta["urdf"].replace('name="wheel_rear_left"', 'name="wheel_spare"')
    with pytest.raises(InputError, match="wheel_spare"):
        still([with_meta(record, urdf=urdf)], ["x"])


def test_a_run_that_was_broken_off() -> None:
    with pytest.raises(InputError, match="cut short"):
        still([posed(case_of("bramble", "bank-stone"), [0.0] * 3, finish=RUNNING)], ["x"])


def test_a_file_cut_short(record: Record, tmp_path: Path) -> None:
    save_record(record, tmp_path / "a.parquet")
    whole = (tmp_path / "a.parquet").read_bytes()
    (tmp_path / "a.parquet").write_bytes(whole[: len(whole) // 2])
    with pytest.raises(SidehillError, match="cut short"):
        load_record(tmp_path / "a.parquet")


def test_runs_that_got_nowhere_are_no_film() -> None:
    lost = posed(case_of("bramble", "bank-stone"), [], finish=CUT, started=0.0)
    with pytest.raises(InputError, match="nothing to film"):
        still([lost, lost], ["a", "b"])


def test_a_failed_run_is_grey_beside_one_that_went_well(record: Record) -> None:
    failed = posed(case_of("bramble", "bank-stone"), [0.0] * 3, finish=BROKEN)
    image = np.asarray(still([record, failed], ["a", "b"], 0.05, size=SMALL))
    right = image[100:200, 260:460].reshape(-1, 3).astype(int)
    assert np.median(np.ptp(right, axis=1)) < 12
    assert np.median(right) > 100


@pytest.mark.parametrize(
    "changes", [["ground.slope=12 deg"], ["ground.slope=9 deg", "ground.friction=0.5"]]
)
def test_a_film_of_two_slopes_says_so(record: Record, changes: list[str]) -> None:
    other = posed(case_of("bramble", "bank-stone", changes), [0.0] * 11)
    plain = still([record, record], ["a", "b"], 0.05, size=(960, 540))
    told = still([record, other], ["a", "b"], 0.05, size=(960, 540))
    bar = (0, 500, 600, 540)
    assert plain.crop(bar).tobytes() != told.crop(bar).tobytes()


def test_scenarios_that_cannot_be_compared_are_refused(record: Record) -> None:
    wet = posed(case_of("bramble", "wet-grass"), [0.0] * 11)
    with pytest.raises(InputError, match="different scenarios"):
        still([record, wet], ["a", "b"])
    table = posed(case_of("bramble", "tilt-table"), [0.0] * 11)
    with pytest.raises(InputError, match="tilt table"):
        still([record, table], ["a", "b"])


def test_two_machines_in_one_film_are_said_to_be_two(record: Record) -> None:
    other = posed(case_of("hawthorn", "bank-stone"), [0.0] * 11)
    assert differences([record, record]) == []
    assert differences([record, other]) == ["machine"]
