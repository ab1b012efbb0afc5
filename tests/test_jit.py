"""What a change of a source changes: the kernels' cache, the physics version, or neither."""

import shutil
import subprocess
import sys
from pathlib import Path

import pytest

import sidehill
from sidehill.kernels.jit import Compiler, kernel

PACKAGE = Path(sidehill.__file__).parent
ASK = "from sidehill.jit import PHYSICS_VERSION, kernel; print(kernel.version, PHYSICS_VERSION)"


def versions(root: Path) -> tuple[str, str]:
    asked = subprocess.run(
        [sys.executable, "-c", ASK],
        env={"PYTHONPATH": str(root), "XDG_CACHE_HOME": str(root)},
        capture_output=True,
        text=True,
        check=True,
    )
    kernels, physics = asked.stdout.split()
    return kernels, physics


@pytest.mark.parametrize(
    ("changed", "kernels", "physics"),
    [("tyre.py", True, True), ("flat/values.py", False, True), ("cli/words.py", False, False)],
)
def test_a_changed_source_changes_the_versions_that_rest_on_it(
    tmp_path: Path, changed: str, kernels: bool, physics: bool
) -> None:
    shutil.copytree(PACKAGE, tmp_path / "sidehill", ignore=shutil.ignore_patterns("__pycache__"))
    before = versions(tmp_path)
    with (tmp_path / "sidehill" / changed).open("a", encoding="utf-8") as file:
        file.write("# changed\n")
    after = versions(tmp_path)
    assert (after[0] != before[0], after[1] != before[1]) == (kernels, physics)


def test_a_kernel_in_a_file_that_is_not_hashed_is_refused() -> None:
    apart = Compiler("none", Path(__file__).parent, (), kernel.options, "")
    with pytest.raises(RuntimeError, match=r"test_jit\.py holds a kernel"):

        @apart
        def double(x: float) -> float:
            return 2.0 * x
