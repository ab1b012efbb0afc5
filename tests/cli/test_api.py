"""The Python API: everything it names exists, nothing is loaded before it is used."""

import inspect
import re
import subprocess
import sys
from pathlib import Path

import pytest
from cli.runner import SIM
from posed_strip import GOOD, posed_strip

import sidehill


def python(code: str) -> str:
    """The output of a fresh interpreter."""
    done = subprocess.run(
        [sys.executable, "-c", code],
        env={"PYTHONPATH": str(SIM), "PATH": ""},
        capture_output=True,
        text=True,
        check=True,
        timeout=60,
    )
    return done.stdout.strip()


@pytest.mark.parametrize("name", sidehill.__all__)
def test_every_name_is_there(name: str) -> None:
    known_as = {home_name: its_name for home_name, (_, its_name) in sidehill._RENAMED.items()}
    assert getattr(sidehill, name).__name__ == known_as.get(name, name)


def test_they_are_listed_and_helped_with() -> None:
    assert set(sidehill.__all__) <= set(dir(sidehill))
    assert sorted(sidehill.__all__) == sidehill.__all__ == sorted({*sidehill._HOME_OF})
    told = python("import sidehill; print(dir(sidehill)); help(sidehill)")
    assert all(name in told for name in sidehill.__all__)


def test_its_documentation_builds_without_a_warning(tmp_path: Path) -> None:
    """With pdoc, every name on one page, its docstring whole."""
    modules = ["sidehill", "!sidehill[.]"]
    done = subprocess.run(
        [sys.executable, "-W", "error", "-m", "pdoc", "-d", "google", *modules, "-o", tmp_path],
        capture_output=True, text=True, check=True, timeout=300,
    )  # fmt: skip
    assert "Warn" not in done.stderr, done.stderr
    page = (tmp_path / "sidehill.html").read_text(encoding="utf-8")
    for name in sidehill.__all__:
        assert f'id="{name}"' in page
    assert "rear_spacer=0.076" in page


def test_every_argument_has_a_line_of_its_own() -> None:
    """Two on one line are run together on the page."""
    count = 0
    for name in sidehill.__all__:
        thing = getattr(sidehill, name)
        if not inspect.isfunction(thing):
            continue
        for argument in inspect.signature(thing).parameters:
            count += 1
            assert not re.search(rf"\S.*[.;] {argument}: ", inspect.getdoc(thing) or ""), name
    assert count > 50


def test_a_strip_is_drawn_from_the_package_alone(tmp_path: Path) -> None:
    strip = posed_strip(*((float(k), GOOD) for k in range(1, 5)))
    assert isinstance(strip, sidehill.Strip)
    picture = strip.plot("a strip")
    assert picture.save(tmp_path / "s.png").read_bytes().startswith(b"\x89PNG")
    assert strip._repr_png_() is not None
    assert strip.plot(kind="svg").content.startswith(b"<?xml")


def test_what_is_in_hand_says_what_it_is_in_one_line() -> None:
    machine, scenario = sidehill.load_machine("bramble"), sidehill.load_scenario("bank-stone")
    outfit = sidehill.Outfit(rear_spacer=0.076)
    study = sidehill.make_study(machine, scenario, {"a": outfit}, vary={"ground.slope": [0.1, 0.2]})
    for thing in (machine, scenario, outfit, study, sidehill.Case(machine, scenario, outfit)):
        assert len(repr(thing)) < 200 and "\n" not in repr(thing)
    assert repr(outfit) == "Outfit(rear_spacer=0.076)"
    assert "2 cases" in repr(study)


def test_other_names_are_not() -> None:
    with pytest.raises(AttributeError, match="'nonsense'"):
        _ = sidehill.nonsense


def test_import_is_cheap() -> None:
    loaded = python("import sidehill, sys; print(*sys.modules)").split()
    assert not {"numpy", "numba", "pydantic", "pandas", "mujoco", "pybullet"} & set(loaded)
