"""A study whose cases take milliseconds: a short drive over a stone, with a coarse step."""

from pathlib import Path

from sidehill.study.study import Study, load_study

COMMON = """
title = "Cheap"
machine = "bramble"
scenario = "bank-stone"
[outfit]
bucket_load = "200 kg"
[[option]]
name = "low"
[[option]]
name = "high"
bucket_height = "full"
[vary]
"run.step" = ["2 ms"]
"course.length" = ["4 m"]
"feature.1.at" = ["2.9 m"]
"""
DRIVEN = """
"ground.slope" = { low = "2 deg", high = "22 deg" }
"drive.speed" = { low = "4 km/h", high = "8 km/h" }
"""


def cheap_file(folder: Path, draws: int, vary: str = DRIVEN, more: str = "") -> Path:
    """The file of it, with so many draws of two options each."""
    path = folder / "cheap.toml"
    sample = f'[sample]\nmethod = "latin"\nn = {draws}\nseed = 5\n'
    path.write_text(COMMON + vary + sample + more, encoding="utf-8")
    return path


def cheap_study(folder: Path, draws: int, vary: str = DRIVEN, more: str = "") -> Study:
    """The same, loaded."""
    return load_study(cheap_file(folder, draws, vary, more))
