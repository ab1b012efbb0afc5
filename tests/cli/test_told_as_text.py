"""What a file or a path calls something is shown as it stands: no markup, no control codes."""

from collections.abc import Iterator
from io import StringIO
from pathlib import Path

import pandas as pd
import pytest
from cli.runner import refused, run
from rich.console import Console
from sweep.cheap import cheap_study

from sidehill.cli import progress as module
from sidehill.files.cells import csv_bytes
from sidehill.study.study import load_study
from sidehill.sweep.run_study import run_study

RED = "\x1b[31m"
MARKUP = ("[/]", "[/red]", "[red]x", "[link=file:///]y[/link]", ":skull:", "a [/bold] b")


@pytest.fixture
def terminal(monkeypatch: pytest.MonkeyPatch) -> Iterator[StringIO]:
    """Standard error as a terminal that keeps what it is sent; progress starts at once."""
    into = StringIO()
    console = Console(file=into, force_terminal=True, markup=False, emoji=False, width=200)
    monkeypatch.setattr(module, "err", lambda: console)
    monkeypatch.setattr(module, "PATIENCE", 0.0)
    yield into


@pytest.mark.parametrize("name", MARKUP)
def test_progress_shows_a_name_with_markup_as_it_is(terminal: StringIO, name: str) -> None:
    with module.progress(f"looking at {name}") as say:
        say(f"driving {name}")
    assert name in terminal.getvalue()


@pytest.mark.parametrize(
    "line",
    [
        "picture bank-stone -o 'a{}b.png'",
        "urdf sorrel -o 'a{}b.urdf'",
        "tip sorrel --out 'a{}b.csv'",
        "drive sorrel bank-plain --out 'a{}b'",
        "sheet demo -o 'a{}b.html'",
        "film demo --still end --out 'a{}b.png'",
        "sweep spacers-and-ballast --out 'a{}b'",
        "schema machine -o 'a{}b.json'",
        "tip 'a{}b.toml'",
    ],
)
@pytest.mark.parametrize("odd", [RED, "\u202e"])
def test_a_path_with_control_characters_is_written_out(
    line: str, odd: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    message = refused(line.format(odd))
    assert message.isprintable()
    assert ("\\x1b[31m" if odd == RED else "\\u202e") in message
    assert not list(tmp_path.iterdir())


def test_no_cell_of_a_table_is_a_formula() -> None:
    table = pd.DataFrame(
        {
            "option": ["=1+1", "plain", None, "-2", "@x", "+y", "\tz"],
            "-number": [-1.5, 2.0, float("nan"), 0.0, 1e300, 3.0, 4.0],
            "whole": [True, False, True, True, True, False, False],
        }
    )
    lines = csv_bytes(table).decode().split("\n")
    assert lines[0] == "option,'-number,whole"
    assert lines[1] == "'=1+1,-1.5,True"
    assert lines[3] == ",,True"
    cells = [line.split(",")[0] for line in lines[1:] if line]
    assert cells == ["'=1+1", "plain", "", "'-2", "'@x", "'+y", "'\tz"]


def test_an_option_named_like_a_formula_is_text_in_a_map_s_table(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    cheap_study(tmp_path, 2)
    text = Path("cheap.toml").read_text(encoding="utf-8")
    Path("cheap.toml").write_text(text.replace('name = "low"', 'name = "=1+1"'), encoding="utf-8")
    run_study(load_study("cheap.toml"), tmp_path / "out", engine="compiled", workers=1)
    drawn = run("map out --of peak_roll_deg -o drawn")
    assert drawn.exit_code == 0, drawn.output
    tables = list(Path("drawn").glob("*.csv"))
    assert tables
    cells = ",".join(file.read_text("utf-8").replace("\n", ",") for file in tables).split(",")
    assert "'=1+1" in cells
    assert not [cell for cell in cells if cell.startswith("=")]
