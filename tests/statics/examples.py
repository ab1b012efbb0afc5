"""Machines of the outside examples, and a strategy for any plausible one."""

import numpy as np
from hypothesis import strategies as st

from sidehill.statics.tipping import Tipping


def narrow_tractor(rear_track=1.115, front_track=1.115):
    """Example 1 of OECD Code 6, the roll of a narrow tractor (inputs: values from memory)."""
    return Tipping(
        mass=2565.0,
        x=0.8970,
        y=0.0,
        h=0.7620,
        axle_mass=0.0,
        axle_h=0.4450,
        wheelbase=0.8970 + 1.1490,
        pin_height=0.4450,
        rear_track=rear_track,
        front_track=front_track,
        swing=0.1570,
    )


def tractor_g(*additions):
    """A compact tractor invented for the derived values; additions are (kg, m ahead, m up)."""
    lumps = np.array([(1500.0, 0.75, 0.70), *additions])
    mass = lumps[:, 0].sum()
    x, h = lumps[:, 0] @ lumps[:, 1:] / mass
    return Tipping(
        mass=mass,
        x=x,
        y=0.0,
        h=h,
        axle_mass=0.0,
        axle_h=0.45,
        wheelbase=1.70,
        pin_height=0.45,
        rear_track=1.10,
        front_track=1.05,
        swing=np.radians(10.0),
        inertia=np.diag([450.0, 900.0, 900.0]),
    )


HIGH_BUCKET = (300.0, 2.35, 2.20)
REAR_BOX = (400.0, -0.90, 0.50)
REAR_LIQUID = (220.0, 0.0, 0.45)


@st.composite
def machines(draw):
    """Machines that stand on the level, with an uneven CG and a front axle of some weight."""
    size = draw(st.floats(0.7, 1.5))
    mass = draw(st.floats(300.0, 3000.0))

    def metres(low, high):
        return size * draw(st.floats(low, high))

    return Tipping(
        mass=mass,
        x=metres(0.3, 1.0),
        y=metres(-0.05, 0.05) * draw(st.integers(0, 1)),
        h=metres(0.5, 1.2),
        axle_mass=mass * draw(st.floats(0.0, 0.2)),
        axle_h=metres(0.25, 0.45),
        wheelbase=metres(1.4, 1.9),
        pin_height=metres(0.3, 0.5),
        rear_track=metres(0.9, 1.6),
        front_track=metres(0.2, 1.6),  # narrow: one wheel or two close ones
        swing=np.radians(draw(st.floats(2.0, 14.0))),
        inertia=mass * size**2 * np.diag([0.2, 0.5, 0.5]),
    )
