"""What a change of a source changes: the kernels' cache, or not."""

import shutil
import subprocess
import sys
from pathlib import Path

import pytest

import sidehill
from sidehill.kernels.jit import Compiler

PACKAGE = Path(sidehill.__file__).parent
ASK = "from sidehill.kernels.jit import kernel; print(kernel.version)"


def version(root: Path) -> str:
    asked = subprocess.run(
        [sys.executable, "-c", ASK],
        env={"PYTHONPATH": str(root), "XDG_CACHE_HOME": str(root)},
        capture_output=True,
        text=True,
        check=True,
    )
    return asked.stdout.strip()


@pytest.mark.parametrize(
    ("changed", "kernels"), [("kernels/tyre.py", True), ("flat/values.py", False)]
)
def test_a_changed_source_changes_the_version_that_rests_on_it(
    tmp_path: Path, changed: str, kernels: bool
) -> None:
    shutil.copytree(PACKAGE, tmp_path / "sidehill", ignore=shutil.ignore_patterns("__pycache__"))
    before = version(tmp_path)
    with (tmp_path / "sidehill" / changed).open("a", encoding="utf-8") as file:
        file.write("# changed\n")
    assert (version(tmp_path) != before) == kernels


def test_a_kernel_in_a_file_that_is_not_hashed_is_refused() -> None:
    apart = Compiler("none", Path(__file__).parent, (), "")
    with pytest.raises(RuntimeError, match=r"test_jit\.py holds a kernel"):

        @apart
        def double(x: float) -> float:
            return 2.0 * x
