"""A replay in a headless Chromium that draws in software, and what is seen of it."""

from io import BytesIO
from pathlib import Path
from typing import Any

import numpy as np
from PIL import Image
from sheet.browser import opened

DRAWN = ("--use-angle=swiftshader", "--enable-unsafe-swiftshader")
WITHOUT_3D = ("--disable-gpu", "--disable-3d-apis")
READY = 60_000  # [ms] on a busy machine
LINKS = """(time) => replay.stage.worlds.map((world) => {
  world.figure.put(time);
  return world.run.motion.links.map((name, k) => {
    const link = world.figure.links[k];
    return [name, link.position.toArray(), link.quaternion.toArray()];
  });
})"""


def ready(started: Any, file: Path) -> Any:
    """A page of the file whose first picture is there."""
    page = opened(started, file)
    page.wait_for_selector("html[data-ready]", state="attached", timeout=READY)
    return page


def settled(page: Any, script: str = "null") -> None:
    """Lets a script act, and the page show what came of it."""
    page.evaluate(script)
    page.evaluate("() => new Promise((done) => requestAnimationFrame(() => setTimeout(done, 50)))")


def picture(page: Any, run: int) -> np.ndarray:
    """(h, w, 3) what is seen in a pane, gauges and words left aside."""
    hidden = "for (const e of document.querySelectorAll('.gauge,.state,.always,.gap,.mark'))"
    page.evaluate(f"() => {{ {hidden} e.style.opacity = 0; }}")
    shot = page.locator(f'.pane[data-run="{run}"] .view').screenshot()
    page.evaluate(f"() => {{ {hidden} e.style.opacity = ''; }}")
    return np.asarray(Image.open(BytesIO(shot)).convert("RGB"), dtype=int)


def plum(pixels: np.ndarray) -> int:
    """Pixels of a machine's plum: more red and blue than green."""
    red, green, blue = np.moveaxis(pixels, 2, 0)
    return int(((red > green + 25) & (blue > green + 15)).sum())


def changed(before: np.ndarray, after: np.ndarray) -> float:
    """Share of pixels that are plainly another colour."""
    return float((np.abs(before - after).max(axis=2) > 30).mean())
