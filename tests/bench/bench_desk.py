"""Times of the desk as a person in a browser has them, and its memory over many strips.

Run: PYTHONPATH=sim:tests python tests/bench/bench_desk.py times
or, of memory over so many strips that are scanned coarsely: bench_desk.py memory 500
The desk runs as a process of its own, the page in headless Chromium on the same machine. On a
machine that does other work besides all of it is slower: the load is printed.
"""

import os
import re
import subprocess
import sys
import tempfile
from pathlib import Path
from statistics import median, quantiles
from time import perf_counter, sleep
from typing import Any

from sheet.browser import LAPTOP, browser

MOVES, LET_GO = 80, 12
COARSE = """
from math import radians
from sidehill.cli.main import main
from sidehill.desk import search
search._HOW |= {"scan": radians(2.0), "tolerance": radians(1.0)}
main()
"""
SLIDER = '[data-slides="f-options-2-typed-rear-spacer"]'
# resolves with the milliseconds from a slider's event to each thing that is waited for
WATCH = """([selector, value, kind, wants]) => new Promise((resolve) => {
  const slider = document.querySelector(selector);
  const told = document.querySelector('[data-part="told-2"]');
  const start = performance.now(), seen = {};
  const tests = {
    number: () => told.querySelector('[data-figure-of="lift-off"]') !== old,
    emptied: () => !told.querySelector('.cell'),
    coarse: () => 'emptied' in seen && told.querySelector('.cell'),
    whole: () => 'emptied' in seen && told.textContent.includes('each change narrowed'),
  };
  const old = told.querySelector('[data-figure-of="lift-off"]');
  const look = () => {
    for (const want of wants) if (!(want in seen) && tests[want]()) seen[want] = performance.now() - start;
    if (wants.every((want) => want in seen)) { watcher.disconnect(); resolve(seen); }
  };
  const watcher = new MutationObserver(look);
  watcher.observe(told, { childList: true, subtree: true, characterData: true });
  slider.value = value;
  slider.dispatchEvent(new Event("input", { bubbles: true }));
  if (kind === "change") slider.dispatchEvent(new Event("change", { bubbles: true }));
})"""  # noqa: E501


def main() -> None:
    strips = int(sys.argv[2]) if sys.argv[1] == "memory" else 0
    program = ["-c", COARSE] if strips else ["-m", "sidehill"]
    print(f"load of the machine: {', '.join(f'{load:.1f}' for load in os.getloadavg())}")
    with tempfile.TemporaryDirectory() as folder, browser() as started:
        begun = perf_counter()
        process = subprocess.Popen(
            [sys.executable, *program, "desk", "--no-open", "--folder", folder],
            stdout=subprocess.PIPE, text=True,
        )  # fmt: skip
        try:
            assert process.stdout is not None
            address = re.search(r"http\S+", process.stdout.readline())
            assert address is not None
            page = started.new_page(viewport=LAPTOP)
            page.set_default_timeout(600_000)
            page.goto(address[0], wait_until="domcontentloaded")
            page.locator("#options .card").first.wait_for()
            print(f"start to page: {perf_counter() - begun:.2f} s")
            settle(page)
            if strips:
                remember(page, process.pid, strips)
                return
            tell("slider to new standing numbers", moves(page), "ms")
            for name, times in let_go(page).items():
                tell(f"slider let go to {name} strip", times, "ms")
        finally:
            process.terminate()
            process.wait()


def settle(page: Any) -> None:
    """Until nothing is being computed."""
    while "being computed" in page.locator("#options").inner_text():
        sleep(0.3)


def moves(page: Any) -> list[float]:
    """[ms] of a slider on the move."""
    found = []
    for number in range(MOVES):
        value = 10 + 2 * (number % 60)
        found.append(page.evaluate(WATCH, [SLIDER, value, "input", ["number"]])["number"])
        sleep(0.05)
    return found


def let_go(page: Any) -> dict[str, list[float]]:
    """[ms] to the first slopes of the new strip, and to all of it; everything else at rest."""
    found: dict[str, list[float]] = {"coarse": [], "full": []}
    for number in range(LET_GO):
        value = 11 + 10 * number
        seen = page.evaluate(WATCH, [SLIDER, value, "change", ["emptied", "coarse", "whole"]])
        found["coarse"].append(seen["coarse"])
        found["full"].append(seen["whole"])
        settle(page)
    return found


def remember(page: Any, pid: int, strips: int) -> None:
    """Memory over many strips; on a short plain bank with a box, so that none is known already."""
    page.select_option("#f-bank", "bank-plain")
    page.fill("#f-bank-typed-course-length", "3 m")
    page.fill("#f-options-2-typed-rear-ballast", "40 kg")
    page.fill("#f-options-2-typed-rear-spacer", "150 mm")  # not among those below
    page.wait_for_timeout(2000)
    settle(page)
    begun = perf_counter()
    for number in range(strips):
        if number % 25 == 0:
            settle(page)  # intervals, and what costs nothing, too
        value = 2 * (1 + number % 74)  # more than are kept, so that each is looked for anew
        page.evaluate(WATCH, [SLIDER, value, "change", ["emptied", "whole"]])
        if number in (0, 20, 60) or (number + 1) % 100 == 0:
            files = len(list(Path(f"/proc/{pid}/fd").iterdir()))
            heap = page.evaluate("performance.memory.usedJSHeapSize") / 1e6
            print(
                f"  after {number + 1:4d} strips, {perf_counter() - begun:.0f} s: "
                f"{resident(pid):.0f} MB, {files} open files; the page {heap:.0f} MB",
                flush=True,
            )


def resident(pid: int) -> float:
    """[MB] of a process that are in memory."""
    status = Path(f"/proc/{pid}/status").read_text("utf-8")
    found = re.search(r"VmRSS:\s+(\d+) kB", status)
    assert found is not None
    return int(found[1]) / 1000.0


def tell(what: str, times: list[float], unit: str) -> None:
    worst = quantiles(times, n=20)[-1]
    print(f"{what}: median {median(times):.0f} {unit}, 95th percentile {worst:.0f} {unit}")


if __name__ == "__main__":
    main()
