"""A feature of every shape that there is, with the sizes that it needs."""

from typing import Any

from sidehill.scenario.shapes import SHAPES


def item(shape: str, height: float = 0.08, length: float = 0.8, at: float = 8.0) -> dict[str, Any]:
    """A feature table of that shape, [m]; a length only where it must have one."""
    needs = SHAPES[shape].needs
    sizes = {"length": length, "width": 0.8, "time": 0.5}
    given = {name: sizes[name] for name in needs} | ({"y": 0.0} if "width" in needs else {})
    return {"shape": shape, "at": at, "height": height, **given}
