"""The command lines that the desk tells make the same files, byte for byte."""

import shlex
from pathlib import Path

import pytest
from cli.runner import process
from desk.conftest import OWN, eventually, opened

from sidehill.desk.commands import film_line, replay_line, sheet_line

pytestmark = pytest.mark.slow


@pytest.mark.parametrize("kind", ["sheet", "replay", "film"])
def test_desk_and_terminal_make_the_same_file(kind: str, tmp_path: Path) -> None:
    folder = tmp_path / "desk"
    with opened(folder) as desk:
        desk.searches.end()
        own = [(f"tractor/own/{path}", text) for path, text in OWN.items()]
        desk.change([("tractor/kind", "own"), *own, ("bank/base", "bank-plain"),
                     ("bank/typed/course.length", "3 m")], False)  # fmt: skip
        desk.option("remove", 3)
        names = [way.name for way in desk.question.ways]
        news: list[tuple[str, ...]] = []
        desk.jobs._tell = lambda *told: news.append(told)
        desk.make(kind, names, quick=True)
        eventually(lambda: news and news[-1][1] != "at work", 900.0)
        assert news[-1][1] == "done", news[-1]
        made = (folder / news[-1][2]).read_bytes()
    line = {
        "sheet": sheet_line(True, False), "film": film_line(names), "replay": replay_line(names)
    }[kind]  # fmt: skip
    (folder / news[-1][2]).unlink()
    result = process(shlex.join(shlex.split(line)[1:]), folder, 900.0)
    assert result.returncode == 0, result.stderr
    assert (folder / news[-1][2]).read_bytes() == made
