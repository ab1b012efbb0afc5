"""Text from files stays text: no evaluation, no pickles, no shell, no HTML or formulae."""

import ast
import csv
import json
from pathlib import Path
from xml.etree import ElementTree

import pytest
from cli.runner import run
from sweep.cheap import cheap_file

import sidehill
from sidehill.files.library import find

PACKAGE = Path(sidehill.__file__).parent
SOURCES = sorted(PACKAGE.rglob("*.py"))
FORBIDDEN_CALLS = {"eval", "exec", "compile", "__import__", "system", "popen"}
FORBIDDEN_MODULES = {
    "pickle",
    "cPickle",
    "marshal",
    "shelve",
    "yaml",
    "dill",
    "joblib",
    "telnetlib",
}
OWN_COMPILE = {"spec.compile", "re.compile"}  # a model of an engine's, a regular expression


def dotted(node: ast.expr) -> str:
    """`a.b.c` of a call's function."""
    if isinstance(node, ast.Attribute):
        return f"{dotted(node.value)}.{node.attr}"
    return node.id if isinstance(node, ast.Name) else "?"


def faults(source: str) -> list[str]:
    """What a source does that no source may."""
    found = []
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.Import):
            found += [item.name for item in node.names]
        elif isinstance(node, ast.ImportFrom):
            found.append(node.module or "")
        elif isinstance(node, ast.Call):
            name = dotted(node.func)
            if name.rpartition(".")[2] in FORBIDDEN_CALLS and name not in OWN_COMPILE:
                found.append(f"{name}()")
            if any(word.arg == "shell" for word in node.keywords):
                found.append("shell=")
            allowed = {word.arg: ast.unparse(word.value) for word in node.keywords}
            if allowed.get("allow_pickle", "False") != "False":
                found.append("allow_pickle=")
    modules = {name for name in found if name.partition(".")[0] in FORBIDDEN_MODULES}
    return sorted(modules | {name for name in found if name.endswith(("()", "="))})


@pytest.mark.parametrize("source", SOURCES, ids=lambda path: path.relative_to(PACKAGE).as_posix())
def test_no_source_evaluates_text(source: Path) -> None:
    assert faults(source.read_text(encoding="utf-8")) == []


def test_the_search_finds_what_it_is_for() -> None:
    text = "import pickle\nfrom yaml import load\neval(x)\nos.system(y)\nrun(z, shell=True)"
    assert faults(text) == ["eval()", "os.system()", "pickle", "shell=", "yaml"]
    assert faults("re.compile(x)\nnp.load(f, allow_pickle=False)") == []


HOSTILE = "--> <script>alert(1)</script>-"


@pytest.fixture
def hostile(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> str:
    """A machine whose texts are HTML."""
    monkeypatch.chdir(tmp_path)
    text = find("machine", "sorrel").read_text(encoding="utf-8").splitlines()
    for key in ("name", "summary", "source"):
        place = next(k for k, line in enumerate(text) if line.startswith(f"{key} ="))
        text[place] = f"{key} = '{HOSTILE}'"
    Path("own.toml").write_text("\n".join(text), encoding="utf-8")
    return "own.toml"


def test_names_are_text_in_pages_urdf_and_json(hostile: str) -> None:
    page = run(f"crosscheck {hostile} --statics-only --page page.html")
    assert page.exit_code == 0, page.output
    html = Path("page.html").read_text(encoding="utf-8")
    assert "<script>alert(1)" not in html
    assert "&lt;script&gt;alert(1)" in html
    urdf = ElementTree.fromstring(run(f"urdf {hostile}").stdout)
    assert {child.tag for child in urdf} == {"material", "link", "joint"}
    assert json.loads(run(f"tip {hostile} --json").stdout)["machine"] == HOSTILE


def test_no_cell_of_the_data_dictionary_is_a_formula(tmp_path: Path) -> None:
    """A spreadsheet would compute a cell that begins so, whatever the quotes around it."""
    study = cheap_file(tmp_path, 1)
    hostile = '"=HYPERLINK(1)"'
    text = study.read_text(encoding="utf-8").replace('name = "low"', f"name = {hostile}")
    study.write_text(text.replace('title = "Cheap"', f"title = {hostile}"), encoding="utf-8")
    found = run(f"sweep {study} --engine compiled --workers 1 --out {tmp_path / 'out'}")
    assert found.exit_code == 0, found.output
    with (tmp_path / "out" / "columns.csv").open(encoding="utf-8", newline="") as file:
        cells = [cell for row in csv.reader(file) for cell in row]
    assert len(cells) > 100
    assert not [cell for cell in cells if cell.startswith(("=", "+", "-", "@", "\t", "\r"))]


def test_rich_markup_in_a_name_is_text(hostile: str) -> None:
    Path(hostile).write_text(
        Path(hostile).read_text(encoding="utf-8").replace(HOSTILE, "[red]x[/red]"), encoding="utf-8"
    )
    assert "[red]x[/red]" in run(f"tip {hostile}").stdout
