"""No engine, no GL, no X: what a film needs is in the wheels that pip installs."""

import os
import subprocess
import sys
from pathlib import Path

from film.posed import case_of, posed

from sidehill.run.record import save_record

ROOT = Path(__file__).parents[2]

# engines and whatever opens a window are made impossible to import
SCRIPT = """
import sys
from pathlib import Path

class Refuse:
    def find_spec(self, name, path=None, target=None):
        if name.split(".")[0] in ("pybullet", "mujoco", "OpenGL", "pygame", "tkinter"):
            raise ImportError(name)

sys.meta_path.insert(0, Refuse())
from sidehill.film import still
from sidehill.run.record import load_record

image = still([load_record(Path(sys.argv[1]))], ["x"], size=(480, 270))
assert image.size == (480, 270)
loaded = Path("/proc/self/maps")
if loaded.exists():
    text = loaded.read_text()
    for library in ("libGL.", "libEGL", "libX11", "libOSMesa", "libvulkan"):
        assert library not in text, library
print("drawn")
"""


def test_a_still_without_engines_display_or_system_libraries(tmp_path: Path) -> None:
    save_record(posed(case_of("bramble", "bank-stone"), [0.0] * 3), tmp_path / "a.parquet")
    environment = {k: v for k, v in os.environ.items() if k not in ("DISPLAY", "WAYLAND_DISPLAY")}
    environment["PYTHONPATH"] = str(ROOT / "sim")
    done = subprocess.run(
        [sys.executable, "-c", SCRIPT, str(tmp_path / "a.parquet")],
        env=environment, capture_output=True, text=True, check=False,
    )  # fmt: skip
    assert done.stdout.strip() == "drawn", done.stderr
