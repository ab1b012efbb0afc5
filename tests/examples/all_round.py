"""Standing still, which way does the ground have to fall for a wheel to lift first? As data.

    python tests/examples/all_round.py renders/all-round

Lift-off in every direction, rigid tyres, as delivered and with rear spacers: statics alone, which
overstates what a machine does that is driven over a stone. A model compares; it does not
permit.
"""

import sys
from pathlib import Path

import numpy as np
import pandas as pd
from matplotlib.figure import Figure

import sidehill as sh

DIRECTIONS = np.arange(0.0, 361.0, 2.0)  # [deg] nose downhill, counterclockwise
SPACERS = {"as delivered": 0.0, "rear spacers 76 mm": 0.076}


def table() -> pd.DataFrame:
    """A row a direction, a column a fitting [deg]."""
    found = {"direction_deg": DIRECTIONS}
    for name, size in SPACERS.items():
        fitted = sh.fit(sh.load_machine("bramble"), sh.Outfit(rear_spacer=size))
        slope = sh.round_slope(sh.tipping_of(fitted), np.radians(DIRECTIONS)).slope
        found[f"{name}_deg"] = np.degrees(slope)
    return pd.DataFrame(found)


def figure(found: pd.DataFrame) -> Figure:
    """The same on a compass that points to where the nose does."""
    page = Figure(figsize=(6.0, 6.0), layout="constrained")
    axes = page.add_subplot(projection="polar", theta_offset=np.pi / 2.0)
    for name in SPACERS:
        axes.plot(np.radians(found["direction_deg"]), found[f"{name}_deg"], label=name)
    axes.set_title("a wheel lifts, standing still on rigid tyres [deg]")
    page.legend(loc="outside lower center", title="a model compares; it does not permit")
    return page


if __name__ == "__main__":
    folder = Path(sys.argv[1])
    folder.mkdir(parents=True, exist_ok=True)
    known = table()
    known.to_csv(folder / "all-round.csv", index=False)
    figure(known).savefig(folder / "all-round.png", dpi=110)
