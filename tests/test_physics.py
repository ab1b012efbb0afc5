"""The key of a case is the key of all that decides it: a change of any source that a run passes
through is seen, and of no other.

What a run passes through is found here in two more ways: from the syntax trees of the sources,
and from the modules that are there after a run.
"""

import ast
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from sidehill.engines import here
from sidehill.physics import PACKAGE, RECORD, ROW, closure, version

RUN = """
import sys
from sidehill.case import Case
from sidehill.machine.file import load_machine
from sidehill.machine.outfit import Outfit
from sidehill.run.record import simulate
from sidehill.scenario.file import load_scenario
scenario = load_scenario("{scenario}").with_values({{"run.step": 2e-3, **{values}}})
simulate(Case(load_machine("bramble"), scenario, Outfit(rear_fill=0.5)), "{engine}")
for module in list(sys.modules.values()):
    if getattr(module, "__name__", "").startswith("sidehill"):
        print(module.__file__)
"""
SHORT = '{"course.length": 4.5, "drive.speed": 1.5}'
RUNS = [  # roughness takes long to make, and is the same in every engine
    *((name, "bank-plain", SHORT) for name in here()),
    ("compiled", "bank-rough", SHORT),
    ("compiled", "raise-on-bank", "{}"),
]
OUTSIDE = ("cli/main.py", "film/movie.py", "sheet/make.py", "picture/style.py", "map/draw.py")


def folder(source: str) -> str:
    return source.rpartition("/")[0]


def one_of_each_folder(start: str) -> list[str]:
    """A source of every folder of the closure, and every one at the top of the package."""
    sources = closure(start=start)
    return [
        *{folder(s): s for s in sources if folder(s)}.values(),
        *(s for s in sources if not folder(s)),
    ]


def imported(source: Path) -> list[ast.stmt]:
    tree = ast.parse(source.read_text(encoding="utf-8"))
    return [node for node in ast.walk(tree) if isinstance(node, ast.Import | ast.ImportFrom)]


def file_of(module: str) -> str | None:
    path = PACKAGE.parent.joinpath(*module.split("."))
    for file in (path.with_suffix(".py"), path / "__init__.py"):
        if file.is_file():
            return file.relative_to(PACKAGE).as_posix()
    return None


def by_syntax(start: str) -> set[str]:
    """The closure again, from syntax trees, without the package's own face."""
    reached: set[str] = set()
    waiting = [start]
    while waiting:
        source = waiting.pop()
        if source in reached:
            continue
        reached.add(source)
        modules = []
        for node in imported(PACKAGE / source):
            if isinstance(node, ast.Import):
                modules += [name.name for name in node.names]
            else:
                parent = str(node.module)
                modules += [parent, *(f"{parent}.{name.name}" for name in node.names)]
        for module in modules:
            parts = module.split(".")
            if parts[0] == "sidehill":
                around = [".".join(parts[:n]) for n in range(2, len(parts) + 1)]
                waiting += [file for file in map(file_of, around) if file is not None]
    return reached


@pytest.fixture(scope="module")
def copied(tmp_path_factory: pytest.TempPathFactory) -> Path:
    package = tmp_path_factory.mktemp("copy") / "sidehill"
    shutil.copytree(PACKAGE, package, ignore=shutil.ignore_patterns("__pycache__"))
    return package


def version_with(package: Path, start: str, source: str) -> str:
    """The version with a comment at the end of one source, which is then taken away again."""
    file = package / source
    text = file.read_bytes()
    try:
        file.write_bytes(text + b"# changed\n")
        return version.__wrapped__(start, package)
    finally:
        file.write_bytes(text)


@pytest.mark.parametrize("start", [RECORD, ROW])
def test_a_changed_source_of_any_folder_is_seen(copied: Path, start: str) -> None:
    before = version(start, copied)
    assert before == version(start, PACKAGE)
    unseen = [s for s in one_of_each_folder(start) if version_with(copied, start, s) == before]
    assert unseen == []


@pytest.mark.parametrize("source", OUTSIDE)
def test_a_source_that_no_run_passes_through_changes_nothing(copied: Path, source: str) -> None:
    assert source not in closure(start=ROW)
    for start in (RECORD, ROW):
        assert version_with(copied, start, source) == version(start, copied)


def test_what_decides_a_run_and_a_row_is_among_it() -> None:
    of_a_record, of_a_row = set(closure()), set(closure(start=ROW))
    folders = {folder(source) for source in of_a_record}
    assert folders >= {
        "engines",
        "flat",
        "kernels",
        "machine",
        "run",
        "scenario",
        "statics",
        "urdf",
    }
    assert {"run/simulate.py", "statics/tipping.py", "kernels/tyre.py"} <= of_a_record & of_a_row
    assert set(closure(start="run/simulate.py")) <= of_a_record & of_a_row
    assert "run/outcome.py" in of_a_row
    assert "strip" in {folder(source) for source in of_a_row}


@pytest.mark.parametrize("start", [RECORD, ROW])
def test_the_syntax_trees_say_the_same(start: str) -> None:
    assert set(closure(start=start)) == by_syntax(start)


def test_nothing_in_it_is_imported_by_a_string_or_by_its_place() -> None:
    by_string = {"cluster.py"}  # asks whether an extra is there; nothing of ours
    for source in closure(start=ROW):
        text = (PACKAGE / source).read_text(encoding="utf-8")
        names = {n.id for n in ast.walk(ast.parse(text)) if isinstance(n, ast.Name)}
        names |= {n.attr for n in ast.walk(ast.parse(text)) if isinstance(n, ast.Attribute)}
        if Path(source).name not in by_string:
            assert not names & {"import_module", "__import__", "exec", "eval", "runpy"}, source
        for node in imported(PACKAGE / source):
            if isinstance(node, ast.ImportFrom):
                assert node.level == 0, f"{source}: a relative import"
                assert node.module != "sidehill", f"{source}: a name of the package's own face"


@pytest.mark.parametrize(("engine", "scenario", "values"), RUNS)
def test_every_module_of_a_run_that_was_made_is_among_it(
    engine: str, scenario: str, values: str
) -> None:
    script = RUN.format(engine=engine, scenario=scenario, values=values)
    made = subprocess.run(
        [sys.executable, "-c", script], capture_output=True, text=True, check=True
    )
    loaded = {Path(line).relative_to(PACKAGE).as_posix() for line in made.stdout.split()}
    assert "run/stages.py" in loaded
    assert loaded - {"__init__.py"} <= set(closure())
