"""What the tyres carry, and how they hold the slope, as a stone goes by: one record as a frame.

    python tests/examples/tyre_forces.py renders/tyre-forces

A model compares; it does not permit.
"""

import sys
from pathlib import Path
from textwrap import fill

from matplotlib.figure import Figure

import sidehill as sh

WHEELS = ("front_left", "front_right", "rear_left", "rear_right")


def drive() -> sh.Record:
    """A loaded machine over the shipped stone, a little shorter a way than it ships."""
    bank = sh.load_scenario("bank-stone", ["course.length=6 m", "feature.1.at=3.5 m"])
    outfit = sh.Outfit(bucket_load=200, bucket_height="carry")  # a plain number is SI
    return sh.simulate(sh.Case(sh.load_machine("bramble"), bank, outfit), "compiled")


def figure(record: sh.Record) -> Figure:
    """Load, force across and roll over the path."""
    frame = record.to_pandas().set_index("path_m")
    page = Figure(figsize=(8.0, 7.0), layout="constrained")
    load, across, roll = page.subplots(3, 1, sharex=True)
    for wheel in WHEELS:
        load.plot(frame[f"load_{wheel}_n"], label=wheel.replace("_", " "))
        across.plot(frame[f"force_left_{wheel}_n"])
    roll.plot(frame["roll_slope_deg"], color="0.3")
    load.set(ylabel="load [N]")
    across.set(ylabel="force to the left [N]")
    roll.set(ylabel="roll to the slope [deg]", xlabel="path of the rear axle [m]")
    page.legend(*load.get_legend_handles_labels(), loc="outside lower center", ncols=4)
    page.suptitle(fill(f"{record.outcome.why}. A model compares; it does not permit.", 90))
    return page


if __name__ == "__main__":
    folder = Path(sys.argv[1])
    folder.mkdir(parents=True, exist_ok=True)
    run = drive()
    run.to_pandas().to_csv(folder / "forces.csv")
    figure(run).savefig(folder / "forces.png", dpi=110)
