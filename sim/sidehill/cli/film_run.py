"""The work of `sidehill film`: records found or made, then drawn."""

import re
from collections.abc import Sequence
from dataclasses import asdict, dataclass
from io import BytesIO
from pathlib import Path
from typing import Any

from sidehill.advice.told import records_warnings
from sidehill.cli.progress import progress
from sidehill.engines import choose
from sidehill.files.errors import InputError
from sidehill.files.units import to_si
from sidehill.files.whole import ready_file, ready_folder, write_file
from sidehill.film import film, still, stills
from sidehill.film.encode import KINDS
from sidehill.film.movie import FPS, TEMPO
from sidehill.run.record import Record, load_record
from sidehill.study.study import load_study
from sidehill.sweep.kept import kept_records

GIF_FPS = 10
MOST_GIF, LEAST_GIF = "4 MB", 100_000  # what fits into a message; [bytes] less shows nothing
UNITS = {"kB": 1_000, "MB": 1_000_000}
MOST = 4
RECORD, DRIVEN = ".parquet", "record.parquet"  # of a record; in a folder of `drive`
FOLDER = Path("sidehill-film")


@dataclass(frozen=True)
class Wish:
    """How the film is to be: the keyword arguments of `film`."""

    size: tuple[int, int]
    fps: int
    camera: str = "auto"
    slow: float = TEMPO.slow
    quick: float = TEMPO.quick
    caption: str | None = None
    language: Path | None = None
    mark: Path | None = None
    most: int | None = None
    workers: int | None = None

    def without(self, *names: str) -> dict[str, Any]:
        """The arguments, less some."""
        return {name: value for name, value in asdict(self).items() if name not in names}


def read_size(text: str) -> tuple[int, int]:
    """Width and height [pixels].

    Raises:
        InputError: not two whole numbers.
    """
    found = re.fullmatch(r"([0-9]{1,5})[x×]([0-9]{1,5})", text.strip())
    if found is None:
        raise InputError(f'--size {text}: give width x height in pixels, as "1280x720"')
    return int(found[1]), int(found[2])


def read_most(text: str | None, target: Path) -> int | None:
    """[bytes] that a GIF may have; None for another kind of file.

    Raises:
        InputError: not a size, too small a one, or not asked of a GIF.
    """
    if target.suffix != ".gif":
        if text is not None:
            raise InputError(f"--most {text}: only a GIF (--gif) is made to fit a size")
        return None
    found = re.fullmatch(r"([0-9]{1,4}(?:\.[0-9]{1,3})?) ?(kB|MB)", (text or MOST_GIF).strip())
    if found is None:
        raise InputError(f'--most {text}: give a size in kB or MB, as "4 MB"')
    size = round(float(found[1]) * UNITS[found[2]])
    if size < LEAST_GIF:
        raise InputError(f"--most {text}: allowed: {LEAST_GIF // UNITS['kB']} kB or more")
    return size


def target_of(
    what: Sequence[str], out: Path | None, still: str | None, stills: Path | None, gif: bool
) -> Path:
    """Where the film or picture goes, its folder made sure of.

    Raises:
        InputError: a place or ending that does not do.
    """
    if still is not None and gif:
        raise InputError("--still makes one picture and --gif a moving one; give one of them")
    if stills is not None:
        if still is not None or gif or out is not None:
            raise InputError("--stills makes pictures in its folder: no --still, --gif or --out")
        return ready_folder(stills) / f"{Path(what[0]).stem}.png"
    endings = (".png",) if still is not None else (".gif",) if gif else tuple(KINDS)
    return ready_file(out or FOLDER / f"{Path(what[0]).stem}{endings[0]}", *endings)


def usual_rate(target: Path) -> int:
    """Frames a second where none are asked for."""
    return GIF_FPS if target.suffix == ".gif" else FPS


def gather(
    what: Sequence[str], titles: Sequence[str] | None, options: Sequence[str] | None,
    changes: Sequence[str] | None, engine: str, folder: Path,
) -> tuple[list[Record], list[str]]:  # fmt: skip
    """The records of a command line, and their titles.

    Raises:
        InputError: a mixture, a missing file, or an option that does not belong.
    """
    files = [record_file(name) for name in what]
    if all(files):
        if options or changes:
            raise InputError("--option, --set and --tyre are for a study; a record is what it is")
        return [load_record(file) for file in files if file], list(titles or map(_stem, what))
    if any(files) or len(what) > 1:
        raise InputError(
            f"{', '.join(what)}: give one study, or records ending in {RECORD}, not both"
        )
    if titles:
        raise InputError("--title is for records; the options of a study have names")
    study = load_study(what[0], changes or ())
    chosen = [study.option(name) for name in options] if options else list(study.options)
    if len(chosen) > MOST:
        names = ", ".join(f'"{option.name}"' for option in chosen)
        raise InputError(
            f"{study.file}: {len(chosen)} options, and up to {MOST} can be shown side by side; "
            f"choose with --option: {names}"
        )
    cases = {option.name: study.case(option) for option in chosen}
    name = choose(engine)
    with progress(f"driving in {name}") as say:
        return kept_records(cases, name, folder / "records", say), list(cases)


def record_file(name: str) -> Path | None:
    """The file of a record: one named so, or that in a folder of `drive`; None if it is neither."""
    if (inside := Path(name) / DRIVEN).is_file():
        return inside
    return Path(name) if name.endswith(RECORD) else None


def _stem(name: str) -> str:
    return Path(name).stem


def draw(
    records: list[Record], titles: list[str], target: Path, at: str | None, wish: Wish
) -> dict[str, Any]:
    """Draw the film or the picture; what came of it, plain values."""
    if at is not None:
        asked = wish.without("fps", "slow", "quick", "mark", "most", "workers")
        picture = BytesIO()
        still(records, titles, read_time(at, records), **asked).save(picture, "PNG")
        write_file(target, picture.getvalue())
    else:
        with progress(f"drawing {target.name}") as say:
            film(
                records, titles, target, **asdict(wish),
                progress=lambda done, of, left: say(
                    f"drawing {target.name}: frame {done} of {of}, {left:.0f} s left"
                ),
            )  # fmt: skip
    return {"file": str(target), **told(records, titles)}


def draw_stills(
    records: list[Record], titles: list[str], folder: Path, wish: Wish
) -> dict[str, Any]:
    """Draw a picture of every event; what came of it, plain values."""
    with progress("drawing stills"):
        files = stills(
            records, titles, folder, **wish.without("fps", "slow", "quick", "most", "workers")
        )
    return {"files": [str(file) for file in files], **told(records, titles)}


def told(records: list[Record], titles: list[str]) -> dict[str, Any]:
    """What is said of the runs, plain values."""
    return {
        "titles": titles,
        "cases": [record.meta["key"] for record in records],
        "warnings": records_warnings([record.meta["case"] for record in records], titles),
        "facts": [list(record.outcome.facts) for record in records],
        "why": [record.outcome.why for record in records],
    }


def read_time(text: str, records: Sequence[Record]) -> float | None:
    """[s] of a still; None for first daylight.

    Raises:
        InputError: not a time.
    """
    if text == "daylight":
        return None
    if text == "end":
        return max(float(record.columns["t_s"][-1]) for record in records)
    try:
        return to_si(text, "time")
    except InputError as error:
        raise InputError(f'--still {text}: "daylight", "end", or a time; {error}') from None
