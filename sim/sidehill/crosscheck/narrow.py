"""The narrow tractor of the Code 6 examples as a machine that can be simulated."""

from math import radians

from sidehill.crosscheck.code6 import NarrowTractor
from sidehill.files.spec import build
from sidehill.files.toml import Document
from sidehill.machine.file import Machine

_AXLE, _AXLE_WHEEL, _WHEEL = 200.0, 35.0, 60.0  # [kg] chosen: the example splits no mass
_LENGTH, _WIDTH, _HEIGHT = 3.2, 1.2, 1.25  # [m] chosen; for pitch and yaw inertia


def narrow_machine(t: NarrowTractor) -> Machine:
    """The machine of those inputs; what they leave open is chosen, tyres typical of the class.

    Stiffness, lateral ratio and damping: values from memory (small rear tyres 150 to 320 kN/m,
    small front 120 to 220 kN/m, 0.4 to 0.8 of it sideways, damping ratio 0.05 to 0.15).
    """
    wheelbase = t.cg_to_rear_axle + t.cg_to_front_axle
    front = t.mass * t.cg_to_rear_axle / wheelbase
    tyre = {"width": t.rear_tyre_width, "track": t.rear_track}
    tyre |= {"lateral_ratio": 0.5, "damping_ratio": 0.10}
    small, large = {"stiffness": 200e3, "mass": _AXLE_WHEEL}, {"stiffness": 300e3, "mass": _WHEEL}
    data = {
        "name": "Code 6 example",
        "summary": "narrow track tractor of a published roll-over example",
        "source": "OECD Code 6 / EU 1322/2014 Annex IX, values from memory; the rest chosen",
        "weighed": {
            "front_axle": front,
            "rear_axle": t.mass - front,
            "cg_height": t.cg_height,
            "cg_height_from": "weighed",
            "roll_inertia": t.roll_inertia,
        },
        "body": {"wheelbase": wheelbase, "length": _LENGTH, "width": _WIDTH, "height": _HEIGHT},
        "front_axle": {
            "pivot_height": t.pin_height,
            "swing": t.swing,
            "mass": _AXLE,
            "cg_height": t.pin_height,  # where it bears on no slope
        },
        "front_tyre": tyre | small | {"diameter": t.front_tyre_diameter, "rim_diameter": 0.45},
        "rear_tyre": tyre | large | {"diameter": t.rear_tyre_diameter, "rim_diameter": 0.70},
        "seat": {"x": 0.20, "height": 1.30},
        "steering": {"max_angle": radians(50.0)},
        "drive": {"driven": "four", "max_torque": 6e3, "brake_torque": 8e3, "brakes": "rear"},
        "rops": {
            "height": t.frame_height,
            "width": t.frame_width,
            "x": t.cg_to_rear_axle - t.frame_behind_cg,
        },
    }
    return build(Machine, Document("Code 6 example", data), si=True)
