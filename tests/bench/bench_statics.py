"""Configurations a second of the closed-form statics, on one core.

Run: PYTHONPATH=sim python tests/bench/bench_statics.py
A configuration is one machine of its own in every field but the swing; a sweep is worked in
blocks that stay in the cache.
"""

from time import perf_counter

import numpy as np

from sidehill.statics.slopes import lift_off_slope, overturn_slope, second_stage_slope
from sidehill.statics.tipping import Tipping

BLOCK = 2_048  # 16 KiB an array; from 8,192 on the rate falls by a third
BLOCKS = 800


def block(seed: int) -> Tipping:
    """`BLOCK` machines."""
    random = np.random.default_rng(seed)

    def spread(middle: float) -> np.ndarray:
        return middle * random.uniform(0.9, 1.1, BLOCK)

    return Tipping(
        mass=spread(1200.0),
        x=spread(0.75),
        y=random.uniform(-0.05, 0.05, BLOCK),
        h=spread(0.70),
        axle_mass=spread(130.0),
        axle_h=spread(0.33),
        wheelbase=spread(1.70),
        pin_height=spread(0.45),
        rear_track=spread(1.10),
        front_track=spread(1.05),
        swing=np.radians(10.0),
    )


def rate(*slopes) -> float:
    """Configurations a second when all of `slopes` are asked of each; best of three rounds."""
    machines = [block(seed) for seed in range(8)]
    best = np.inf
    for _ in range(3):
        start = perf_counter()
        for i in range(BLOCKS):
            for slope in slopes:
                slope(machines[i % len(machines)])
        best = min(best, perf_counter() - start)
    return BLOCK * BLOCKS / best


if __name__ == "__main__":
    for slopes in (
        (lift_off_slope,),
        (second_stage_slope,),
        (lift_off_slope, second_stage_slope),
        (overturn_slope,),
    ):
        names = " + ".join(slope.__name__ for slope in slopes)
        print(f"{names}: {rate(*slopes) / 1e6:.1f} million configurations a second")
