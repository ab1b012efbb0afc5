"""Run by an interpreter that has nothing but the built wheel, from another folder."""

import json
import subprocess
import sys
from pathlib import Path


def answer(*words: str) -> str:
    """Standard output of a command that must succeed."""
    command = [sys.executable, "-m", "sidehill", *words]
    return subprocess.run(command, check=True, capture_output=True, text=True).stdout


def main() -> None:
    import sidehill

    home = Path(sidehill.__file__).parent
    assert "site-packages" in home.parts, f"not the installed wheel: {home}"
    assert (home / "_data" / "models" / "bramble.toml").is_file()
    assert (home / "_data" / "scenarios" / "bank-stone.toml").is_file()
    listed = json.loads(answer("list", "--json"))
    assert {"sorrel", "bramble", "hawthorn"} <= set(listed["machines"])
    tip = json.loads(answer("tip", "bramble", "--json"))
    assert 20.0 < tip["lift_off_slope_deg"] < 40.0
    run = json.loads(answer("drive", "bramble", "bank-plain", "--json"))
    assert run["progress"] == "across"
    print("wheel: list, tip and drive work; 3 passed, 0 failed")


if __name__ == "__main__":
    main()
