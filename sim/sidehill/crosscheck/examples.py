"""The machines of the published examples."""

import numpy as np

from sidehill.crosscheck.code6 import NarrowTractor
from sidehill.statics.tipping import Tipping

# OECD Code 6 / EU 1322/2014 Annex IX / Directive 2010/22/EU, examples 1 and 2: values from memory
CODE6_1 = NarrowTractor(
    cg_height=0.7620,
    cg_to_rear_axle=0.8970,
    cg_to_front_axle=1.1490,
    rear_tyre_diameter=1.2930,
    front_tyre_diameter=0.8800,
    frame_height=2.1000,
    frame_behind_cg=0.2800,
    frame_width=0.7780,
    pin_height=0.4450,
    rear_track=1.1150,
    rear_tyre_width=0.1950,
    swing=0.1570,
    mass=2565.0,
    roll_inertia=295.0,
)
CODE6_2 = NarrowTractor(
    cg_height=0.7653,
    cg_to_rear_axle=0.7970,
    cg_to_front_axle=1.1490,
    rear_tyre_diameter=1.4800,
    front_tyre_diameter=0.8800,
    frame_height=2.1000,
    frame_behind_cg=0.2800,
    frame_width=0.7780,
    pin_height=0.4450,
    rear_track=1.1150,
    rear_tyre_width=0.1950,
    swing=0.1570,
    mass=1800.0,
    roll_inertia=250.0,
)

HIGH_BUCKET = (300.0, 2.35, 2.20)  # kg, m ahead of the rear axle, m up
REAR_BOX = (400.0, -0.90, 0.50)
REAR_LIQUID = (220.0, 0.0, 0.45)


def tractor_g(*additions: tuple[float, float, float]) -> Tipping:
    """A compact tractor invented for derived values, with lumps added to its body."""
    lumps = np.array([(1500.0, 0.75, 0.70), *additions])
    mass = float(lumps[:, 0].sum())
    x, h = lumps[:, 0] @ lumps[:, 1:] / mass
    return Tipping(
        mass=mass,
        x=float(x),
        y=0.0,
        h=float(h),
        axle_mass=0.0,
        axle_h=0.45,
        wheelbase=1.70,
        pin_height=0.45,
        rear_track=1.10,
        front_track=1.05,
        swing=float(np.radians(10.0)),
    )
