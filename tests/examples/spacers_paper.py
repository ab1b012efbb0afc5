"""How much do rear spacers move the slope at which a wheel lifts, over ordinary compacts?

    python tests/examples/spacers_paper.py 64 renders/spacers-paper

Machines from the spread of compacts (judgement: nobody has measured many), pushed along a plain
bank with more grip than grass has: driven, some spin or slide before a wheel lifts, and the pull
presses the rear wheels down. A model compares; it does not permit.
"""

import sys
from pathlib import Path

import numpy as np
import pandas as pd
from matplotlib.figure import Figure

import sidehill as sh

SPACERS = {"as delivered": 0.0, "38 mm": 0.038, "76 mm": 0.076}
VARY = {  # text carries its unit; a plain number is SI
    "machine.weighed.cg_height": {"mean": "0.62 m", "spread": "6 %", "low": 0.5, "high": 0.75},
    "machine.rear_tyre.stiffness": {"median": "220 kN/m", "factor": 1.2},
    "machine.front_axle.pivot_height": {"low": "0.36 m", "mode": "0.42 m", "high": "0.46 m"},
    "outfit.operator": {"low": "60 kg", "high": "120 kg"},
}
FIND = {"until": "lifted", "low": "18 deg", "high": "36 deg", "scan": "2 deg", "tolerance": 0.0012}
LIFTS, WORDS = "lifted_first_bad_deg", [name.rpartition(".")[2] for name in VARY]


def study(n: int) -> sh.Study:
    walk = {"drive": {"speed": "2 km/h", "hold": "pushed"}, "course": {"length": 3.0}}
    bank = sh.load_scenario("bank-plain", **walk, ground={"friction": 1.2})
    fitted = {name: sh.Outfit(rear_spacer=size) for name, size in SPACERS.items()}
    plan = sh.Sample(method="shapley", n=n, seed=11)
    return sh.make_study("bramble", bank, fitted, vary=VARY, sample=plan, find=FIND)


def gain(own: pd.DataFrame, first: pd.DataFrame) -> np.ndarray:
    """[deg] by which the lowest slope at which each machine was seen to lift a wheel is higher."""
    return sh.measure(own, LIFTS) - sh.measure(first, LIFTS)


def table(results: sh.Results) -> pd.DataFrame:
    """Quantiles of the limit, and what a spacer gains: the same machine with and without."""
    rows = {}
    for name in SPACERS:
        limits = sh.limit_quantiles(results.drawn(name), results.find).set_index("share")
        known = pd.Series(gain(results.drawn(name), results.drawn("as delivered"))).dropna()
        told = {f"limit {q:.0%} deg": limits["quantile_deg"][q] for q in (0.05, 0.5, 0.95)}
        told |= {f"gain {q:.0%} deg": np.quantile(known, q, method="lower") for q in (0.05, 0.5)}
        rows[name] = told | {"gain known": len(known)} | dict(limits.iloc[0][["draws", "unproved"]])
    return pd.DataFrame.from_dict(rows, orient="index")


def figure(results: sh.Results) -> Figure:
    """Fragility, how the gain settles with the machines drawn, and what the slope is due to."""
    fragile, settles, due = (page := Figure((12.0, 3.8), layout="constrained")).subplots(1, 3)
    for name in SPACERS:
        curve = sh.fragility(results.drawn(name), results.find, ["lifted"])
        fragile.step(curve["slope_deg"], 100.0 * curve["most"], label=name)
        every = gain(results.drawn(name), results.drawn("as delivered"))
        medians = {2**k: np.nanmedian(every[: 2**k]) for k in range(2, len(every).bit_length())}
        settles.plot(medians.keys(), medians.values(), "o-")
    slopes = sh.measure(results.to_pandas("76 mm"), LIFTS)
    shares = sh.shapley(slopes, WORDS, sh.shapley_orders(len(VARY), results.sample)).effects
    ends = np.array([[one.share - one.low, one.high - one.share] for one in shares]).T
    due.barh(WORDS, [one.share for one in shares], xerr=np.abs(ends), color="0.6")
    fragile.set(xlabel="slope [deg]", ylabel="a wheel lifts, or may [% of machines]")
    settles.set(xlabel="machines", ylabel="median gain over as delivered [deg]")
    settles.set_xscale("log", base=2)
    due.set(xlabel="share of the spread of that slope, with 76 mm")
    fragile.legend(title="a model compares;\nit does not permit")
    return page


if __name__ == "__main__":
    found = sh.run_study(study(int(sys.argv[1])), folder := Path(sys.argv[2]))
    table(found).to_csv(folder / "spacers.csv", index_label="spacer")
    figure(found).savefig(folder / "spacers.png", dpi=110)
