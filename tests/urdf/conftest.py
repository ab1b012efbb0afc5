"""Shipped machines in outfits that exercise every drawing."""

from collections.abc import Callable

import pytest

from sidehill.files.library import shipped
from sidehill.machine.build import fit
from sidehill.machine.file import Machine, load_machine
from sidehill.machine.fitted import Fitted
from sidehill.machine.outfit import Outfit

OUTFITS: dict[str, dict[str, object]] = {
    "bare": {"operator": "0 kg"},
    "as delivered": {},
    "bucket high": {"bucket_load": "200 kg", "bucket_height": "full"},
    "spacers": {"rear_spacer": "76 mm", "front_spacer": "38 mm", "bucket_load": "100 kg"},
    "reset rims": {"rear_track": "1.45 m", "front_track": "1.40 m", "rear_spacer": "25 mm"},
    "ballast": {"rear_ballast": "250 kg", "front_weight": "90 kg", "rear_wheel_weight": "35 kg"},
    "liquid": {"rear_fill": 0.75, "front_fill": 0.4, "liquid": "beet juice"},
    "attachment": {"attachment": "tiller", "attachment_at": "lowered", "rops": "folded"},
    "leaning": {"operator_lean": "0.15 m", "front_axle_swing": "4 deg"},
}


@pytest.fixture(params=shipped("machine"))
def machine(request: pytest.FixtureRequest) -> Machine:
    """Each shipped machine in turn."""
    return load_machine(request.param)


@pytest.fixture(params=OUTFITS)
def fitted(machine: Machine, request: pytest.FixtureRequest) -> Fitted:
    """Each shipped machine in each outfit."""
    return fit(machine, Outfit.model_validate(OUTFITS[request.param]))


@pytest.fixture
def dress(machine: Machine) -> Callable[..., Fitted]:
    """Each shipped machine, in the outfit that a test asks for."""
    return lambda **options: fit(machine, Outfit.model_validate(options))
