"""How much do rear spacers move the slope at which a wheel lifts, over ordinary compacts?

    python tests/examples/spacers_paper.py 64 renders/spacers-paper

Machines from the spread of compacts (judgement: nobody has measured many), driven along a plain
bank at a slow walk with every spacer. Grip is made plentiful, so that a wheel lifts before the
machine slides: on grass it may slide first. A model compares; it does not permit.
"""

import sys
from pathlib import Path

import numpy as np
import pandas as pd
from matplotlib.figure import Figure

import sidehill as sh

SPACERS = {"as delivered": 0.0, "38 mm": 0.038, "76 mm": 0.076, "100 mm": 0.1}
VARY = {  # text carries its unit; a plain number is SI
    "machine.weighed.cg_height": {"mean": "0.62 m", "spread": "6 %", "low": 0.5, "high": 0.75},
    "machine.rear_tyre.stiffness": {"median": "220 kN/m", "factor": 1.2},
    "machine.front_axle.pivot_height": {"low": "0.36 m", "mode": "0.42 m", "high": "0.46 m"},
    "outfit.operator": {"low": "60 kg", "high": "120 kg"},
}
FIND = {"until": "lifted", "low": "14 deg", "high": "44 deg", "scan": "2 deg", "tolerance": 0.003}
LIMIT, WORDS = "lifted_good_up_to_deg", [name.rpartition(".")[2] for name in VARY]


def study(n: int) -> sh.Study:
    """The design: the same machines for every spacer."""
    walk = {"course": {"length": 4.0}, "drive": {"speed": "2 km/h"}, "ground": {"friction": 1.2}}
    bank = sh.load_scenario("bank-plain", **walk)
    options = {name: sh.Outfit(rear_spacer=size) for name, size in SPACERS.items()}
    plan = {"method": "shapley", "n": n, "seed": 11}
    return sh.make_study("bramble", bank, options, vary=VARY, sample=plan, find=FIND)


def table(results: sh.Results) -> pd.DataFrame:
    """Quantiles of the limit, and what a spacer gains: the same machine with and without."""
    rows = []
    first = sh.measure(results.drawn("as delivered"), LIMIT)
    for name in SPACERS:
        limits = sh.limit_quantiles(results.drawn(name), results.find).set_index("share")
        gain = np.sort(sh.measure(results.drawn(name), LIMIT) - first)
        gain = gain[~np.isnan(gain)]
        told = {f"limit {q:.0%} deg": limits["quantile_deg"][q] for q in (0.05, 0.5, 0.95)}
        told |= {f"gain {q:.0%} deg": np.quantile(gain, q, method="lower") for q in (0.05, 0.5)}
        rows.append({"spacer": name, **told, "machines": len(gain)})
    return pd.DataFrame(rows)


def figure(results: sh.Results) -> Figure:
    """Fragility, how the gain settles with the machines drawn, and what it is due to."""
    page = Figure(figsize=(12.0, 3.8), layout="constrained")
    fragile, settles, due = page.subplots(1, 3)
    first = sh.measure(results.to_pandas("as delivered"), LIMIT)
    for name in SPACERS:
        curve = sh.fragility(results.drawn(name), results.find, ["lifted"])
        fragile.step(curve["slope_deg"], 100.0 * curve["most"], label=name)
        gain = sh.measure(results.to_pandas(name), LIMIT) - first
        counts = [2**k for k in range(1, results.sample.n.bit_length())]
        settles.plot(counts, [np.nanmedian(gain[:count]) for count in counts], "o-", label=name)
    gain = sh.measure(results.to_pandas("76 mm"), LIMIT) - first
    orders = sh.shapley_orders(len(VARY), results.sample)
    for place, one in enumerate(sh.shapley(gain, WORDS, orders).effects):
        due.barh(place, one.share, color="0.6")
        due.plot([one.low, one.high], [place, place], "k|-")
    due.set_yticks(range(len(WORDS)), WORDS)
    fragile.set(xlabel="slope [deg]", ylabel="a wheel lifts, or not proved not to [% of machines]")
    settles.set(xlabel="machines", ylabel="median gain over as delivered [deg]", xscale="log")
    due.set(xlabel="share of the variance of the gain of 76 mm (Shapley)")
    fragile.legend()
    return page


if __name__ == "__main__":
    n, folder = int(sys.argv[1]), Path(sys.argv[2])
    found = sh.run_study(study(n), folder)
    table(found).to_csv(folder / "spacers.csv", index=False)
    figure(found).savefig(folder / "spacers.png", dpi=110)
