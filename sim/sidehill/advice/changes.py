"""In what an outfit differs from another, in the trade's words."""

from sidehill.machine.file import Machine
from sidehill.machine.loader import pin_height
from sidehill.machine.outfit import Outfit

SPACERS, BALLAST, LOWER_BUCKET, LIGHTER_LOAD = "spacers", "ballast", "lower bucket", "lighter load"
LOADER = "loader"  # which way it changes is asked of the machine
REAR_BOX = "rear box"

KINDS = {  # of every field of an outfit
    "rear_spacer": SPACERS,
    "front_spacer": SPACERS,
    "spacer_mass": SPACERS,
    "rear_track": SPACERS,
    "front_track": SPACERS,
    "rear_fill": BALLAST,
    "front_fill": BALLAST,
    "liquid": BALLAST,
    "rear_wheel_weight": BALLAST,
    "rear_ballast": BALLAST,
    "front_weight": BALLAST,
    "front_axle_swing": "tighter axle stop",
    "rear_pressure": "tyre pressure",
    "front_pressure": "tyre pressure",
    "bucket_load": LOADER,
    "bucket_height": LOADER,
    "hung_load": "hung load",
    "rope": "hung load",
    "operator": "other",
    "operator_lean": "other",
    "attachment": "other",
    "attachment_at": "other",
    "rops": "other",
}

FREE = frozenset({LOWER_BUCKET, LIGHTER_LOAD})

_BOUGHT = {
    "rear_spacer": "rear spacers",
    "front_spacer": "front spacers",
    "rear_track": "rear wheels reset",
    "front_track": "front wheels reset",
    "rear_fill": "filled rear tyres",
    "front_fill": "filled front tyres",
    "rear_wheel_weight": "rear wheel weights",
    "rear_ballast": REAR_BOX,
    "front_weight": "front weight",
    "front_axle_swing": "tighter axle stop",
}


def bought(outfit: Outfit, as_delivered: Outfit) -> frozenset[str]:
    """The things that would have to be bought or done in a workshop, each by its own name."""
    own, other = outfit.model_dump(), as_delivered.model_dump()
    return frozenset(
        name for field, name in _BOUGHT.items() if own[field] != other[field] and own[field]
    )


def changes(machine: Machine, outfit: Outfit, as_delivered: Outfit) -> frozenset[str]:
    """The kinds of change from one outfit to the other; empty when they are equal."""
    own, other = outfit.model_dump(), as_delivered.model_dump()
    differing = {name for name in Outfit.model_fields if own[name] != other[name]}
    found = {KINDS[name] for name in differing} - {LOADER}
    if "bucket_load" in differing:
        lighter = outfit.bucket_load < as_delivered.bucket_load
        found.add(LIGHTER_LOAD if lighter else "heavier load")
    if "bucket_height" in differing and machine.loader is not None:
        lift = pin_height(machine.loader, outfit.bucket_height) - pin_height(
            machine.loader, as_delivered.bucket_height
        )
        found |= {LOWER_BUCKET} if lift < 0.0 else {"higher bucket"} if lift > 0.0 else set()
    return frozenset(found)
