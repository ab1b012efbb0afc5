"""Seconds a frame of a two-pane film, and whether its pixels are the same every time.

Run: PYTHONPATH=sim python tests/bench/bench_film.py
A 10 s film, 1280x720, 30 frames a second, every frame another picture; first with the kernels
compiled, then again with one thread and with two, comparing the pixels.
"""

import hashlib
import os
import tempfile
from dataclasses import replace
from pathlib import Path
from time import perf_counter, process_time

import numpy as np

from sidehill.case import Case
from sidehill.film.clock import Moment, Tempo
from sidehill.film.crew import drawn
from sidehill.film.encode import Mp4, encoder
from sidehill.film.frame import draw_frame
from sidehill.film.show import Show, build_show
from sidehill.film.words import built_in
from sidehill.machine.file import load_machine
from sidehill.machine.outfit import Outfit
from sidehill.run.record import simulate
from sidehill.scenario.file import load_scenario

FRAMES, FPS, SIZE = 300, 30, (1280, 720)
CHECKED = 24  # frames whose pixels are compared
WARM = 2  # frames before the clock starts


def two_panes() -> Show:
    """Bucket high and low over a stone, `FRAMES` different moments."""
    scenario = load_scenario("bank-stone", ["ground.slope=8 deg"])
    machine, records = load_machine("bramble"), []
    for height in ("full", "carry"):
        outfit = Outfit.model_validate({"bucket_load": "250 kg", "bucket_height": height})
        records.append(simulate(Case(machine, scenario, outfit), "mujoco"))
    show = build_show(records, ["high", "low"], SIZE, FPS, "auto", Tempo(), "", built_in())
    end = min(pane.end for pane in show.panes)
    times = np.linspace(0.0, 0.99 * end, FRAMES)
    return replace(show, moments=tuple(Moment(float(t), 1.0, "run") for t in times))


def seconds_a_frame(show: Show, workers: int) -> tuple[float, float]:
    """Wall time and processor time of drawing and encoding, over the frames, starts included."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "film.mp4"
        started, spent = perf_counter(), sum(os.times()[:4])
        with encoder(path, SIZE, FPS, {}) as writer:
            for frame in drawn(show, show.moments, writer.pack, workers):
                writer.write(frame, 1)
        wall, spent = perf_counter() - started, sum(os.times()[:4]) - spent
        return wall / len(show.moments), spent / len(show.moments)


def core_seconds(show: Show) -> float:
    """Processor time of drawing one frame, least of a dozen: what other load does not change."""
    spent = []
    for moment in show.moments[:: FRAMES // 12]:
        started = process_time()
        Mp4.pack(draw_frame(show, moment))
        spent.append(process_time() - started)
    return min(spent)


def digest(show: Show, workers: int) -> str:
    """Of the pixels of some frames."""
    moments = show.moments[:: FRAMES // CHECKED]
    return hashlib.sha256(b"".join(drawn(show, moments, Mp4.pack, workers))).hexdigest()


def main() -> None:
    """Print what was measured."""
    show = two_panes()
    for moment in show.moments[:WARM]:
        draw_frame(show, moment)
    print(f"cores {os.cpu_count()}, load before {os.getloadavg()[0]:.1f}")
    print(f"{core_seconds(show):.3f} core seconds to draw a frame")
    for workers in (2, 1):
        wall, spent = seconds_a_frame(show, workers)
        print(f"{wall:.3f} s a frame with {workers}, {spent:.3f} core seconds, start included")
    hashes = {digest(show, workers) for workers in (1, 2, 1)}
    print(
        f"pixels of {CHECKED} frames in three runs: {'same' if len(hashes) == 1 else 'DIFFERENT'}"
    )
    assert len(hashes) == 1


if __name__ == "__main__":
    main()
