"""The drawing library that ships is what its script builds from the registry's package."""

import shutil
import subprocess
from pathlib import Path

import pytest

import sidehill.replay

HOME = Path(sidehill.replay.__file__).parent / "three"


def test_the_shipped_bytes_are_a_fresh_build(tmp_path: Path) -> None:
    if shutil.which("npm") is None:
        pytest.skip("no npm on the path")
    ping = subprocess.run(["npm", "ping"], capture_output=True, timeout=60, check=False)
    if ping.returncode:
        pytest.skip("offline: no package registry can be reached")
    fresh = tmp_path / "three.min.js"
    subprocess.run(["bash", HOME / "build.sh", fresh], check=True, capture_output=True, timeout=300)
    assert fresh.read_bytes() == (HOME / "three.min.js").read_bytes()


def test_its_licence_ships_with_it() -> None:
    text = (HOME / "LICENSE").read_text(encoding="utf-8")
    assert text.startswith("The MIT License") and "three.js authors" in text
