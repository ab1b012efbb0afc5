"""A command is one thin file; `*_run` does its work, `*_report` says what came of it."""

import ast
import importlib
from pathlib import Path
from types import ModuleType

import pytest
import typer

from sidehill import cli
from sidehill.cli.main import COMMANDS, app
from sidehill.engines import NAMES as ENGINES

FOLDER = Path(cli.__file__).parent
RUNS = sorted(path.stem for path in FOLDER.glob("*_run.py"))
REPORTS = sorted(path.stem for path in FOLDER.glob("*_report.py"))
NAMES = [module.__name__.rpartition(".")[2] for module in COMMANDS]


def imports(name: str) -> set[str]:
    """Modules, and what is taken from them, that a file of the room names."""
    tree = ast.parse((FOLDER / f"{name}.py").read_text(encoding="utf-8"))
    found: set[str] = set()
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            found |= {item.name for item in node.names}
        elif isinstance(node, ast.ImportFrom):
            found |= {str(node.module), *(f"{node.module}.{item.name}" for item in node.names)}
    return found


def test_every_run_and_report_is_a_commands() -> None:
    assert {name.rpartition("_")[0] for name in (*RUNS, *REPORTS)} <= set(NAMES)


def test_every_file_with_a_command_is_in_the_list_of_commands() -> None:
    files = {path.stem for path in FOLDER.glob("*.py") if "def command(" in path.read_text("utf-8")}
    assert files == set(NAMES)


@pytest.mark.parametrize("module", COMMANDS, ids=NAMES)
def test_a_command_has_examples_of_itself_and_loads_no_engine_before_it_is_asked(
    module: ModuleType,
) -> None:
    name = module.__name__.rpartition(".")[2]
    assert module.EXAMPLES
    assert all(example.startswith(f"sidehill {name}") for example in module.EXAMPLES)
    assert module.command.__doc__
    lines = (FOLDER / f"{name}.py").read_text("utf-8").splitlines()
    assert not any(line.startswith("from sidehill.engines") for line in lines)


@pytest.mark.parametrize("name", RUNS)
def test_work_says_nothing_of_what_came_of_it(name: str) -> None:
    module = importlib.import_module(f"sidehill.cli.{name}")
    assert not any(item.split(".")[0] == "rich" for item in imports(name))
    assert not {"tell", "data", "lines", "table"} & set(vars(module))


@pytest.mark.parametrize("name", REPORTS)
def test_words_are_there_for_people_and_nothing_is_written_for_them(name: str) -> None:
    module = importlib.import_module(f"sidehill.cli.{name}")
    assert callable(module.tell)
    assert "sidehill.files.whole.write_file" not in imports(name)


@pytest.mark.parametrize("name", NAMES)
def test_an_engine_is_chosen_among_all_of_them(name: str) -> None:
    parameters = typer.main.get_command(app).commands[name].params  # type: ignore[attr-defined]
    for parameter in parameters:
        if "--engine" in parameter.opts:
            assert all(engine in parameter.help for engine in ("auto", *ENGINES)), parameter.help
