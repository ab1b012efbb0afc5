"""Sizes and times of replays: size, seconds to make it and to be ready, script a frame, heap.

Run: PYTHONPATH=sim:tests python tests/bench/bench_replay.py [MINUTES]

One, two and four runs across the shipped stone, at 1280x720 in a Chromium that draws in software.
The frames of ten minutes are run through as fast as they go, every 60th is drawn; MINUTES, if
given, are looped in real time as well. The heap is read after the waste is collected.
"""

import sys
import tempfile
from pathlib import Path
from time import monotonic
from typing import Any

from film.posed import case_of
from replay.screen import DRAWN
from sheet.browser import browser, opened

from sidehill.replay import write_replay
from sidehill.run.record import simulate

SIZE = {"width": 1280, "height": 720}
FRAMES = 200
OUTFITS: tuple[dict[str, Any], ...] = (
    {"bucket_load": "250 kg", "bucket_height": "full"},
    {"bucket_load": "250 kg"},
    {"bucket_load": "250 kg", "rear_spacer": "76 mm"},
    {"bucket_load": "250 kg", "rear_ballast": "250 kg"},
)
COST = """(frames) => {
  const costs = [];
  for (let k = 0; k < frames; k++) {
    replay.seek((replay.clock.end * k) / frames);
    const begun = performance.now();
    replay.frame(0);
    costs.push(performance.now() - begun);
  }
  costs.sort((a, b) => a - b);
  return [costs[frames >> 1], costs[Math.floor(0.99 * frames)]];
}"""


TEN_MINUTES = """async () => {
  replay.clock.isLooping = true;
  replay.clock.isPlaying = true;
  for (let k = 0; k < 36000; k++) {
    replay.frame(1 / 60);
    if (k % 60 === 0) replay.draw();
    if (k % 600 === 0) await new Promise((done) => setTimeout(done));
  }
  replay.clock.isPlaying = false;
}"""
HEAP = "(gc(), performance.memory.usedJSHeapSize / 1e6)"


def main(minutes: float) -> None:
    """Print a line for each number of runs."""
    records = [
        simulate(case_of("bramble", "bank-stone", ["ground.slope=12 deg"], outfit), "compiled")
        for outfit in OUTFITS
    ]
    write_replay(Path(tempfile.mkdtemp()) / "warm.html", records[:1], ["warm"])
    for count in (1, 2, 4):
        file = Path(tempfile.mkdtemp()) / "replay.html"
        begun = monotonic()
        write_replay(file, records[:count], [f"run {k + 1}" for k in range(count)])
        made = monotonic() - begun
        with browser(*DRAWN, "--js-flags=--expose-gc", "--enable-precise-memory-info") as started:
            page = opened(started, file)
            page.set_viewport_size(SIZE)
            page.wait_for_selector("html[data-ready]", state="attached", timeout=120_000)
            ready = page.evaluate("replay.readyAt")
            middle, slow = page.evaluate(COST, FRAMES)
            print(
                f"{count} runs: {file.stat().st_size / 1e6:.2f} MB, made in {made:.1f} s, ready in "
                f"{ready / 1000:.1f} s, script a frame {middle:.2f} ms (1 in 100: {slow:.2f} ms)"
            )
            before = page.evaluate(HEAP)
            page.evaluate(TEN_MINUTES)
            print(f"  heap {before:.2f} MB, after ten minutes' frames {page.evaluate(HEAP):.2f} MB")
            if count == 2 and minutes > 0:
                looping(page, minutes)


def looping(page: Any, minutes: float) -> None:
    """The heap minute by minute of looping."""
    page.evaluate("replay.clock.isLooping = true; replay.clock.toggle()")
    for minute in range(int(minutes) + 1):
        print(f"  looping, minute {minute}: heap {page.evaluate(HEAP):.2f} MB")
        page.wait_for_timeout(60_000 if minute < minutes else 0)


if __name__ == "__main__":
    main(float(sys.argv[1]) if len(sys.argv) > 1 else 0.0)
