"""The outfit's options are the outfit's fields, on every command that takes them."""

from itertools import chain

import pytest
import typer
from cli.runner import answer, run

from sidehill.advice.changes import KINDS
from sidehill.cli.main import app
from sidehill.cli.outfit import REMARKS
from sidehill.machine.outfit import Outfit

VALUES = {
    "rear_spacer": "76 mm",
    "front_spacer": "2 in",
    "spacer_mass": "9 kg",
    "rear_track": "1.1 m",
    "front_track": "1.1 m",
    "bucket_load": "551 lb",
    "bucket_height": "full",
    "hung_load": "120 kg",
    "rope": "0.9 m",
    "operator": "95 kg",
    "operator_lean": "0.1 m",
    "rear_fill": "75 %",
    "front_fill": "0.5",
    "liquid": "beet juice",
    "rear_wheel_weight": "40 kg",
    "rear_ballast": "250 kg",
    "front_weight": "60 kg",
    "front_axle_swing": "4 deg",
    "rear_pressure": "0.6 bar",
    "front_pressure": "12 psi",
    "attachment": "tiller",
    "attachment_at": "lowered",
    "rops": "folded",
}


def test_every_field_is_tried_here() -> None:
    assert set(VALUES) == set(Outfit.model_fields)
    assert set(REMARKS) <= set(Outfit.model_fields)


def test_every_field_is_a_kind_of_change() -> None:
    assert set(KINDS) == set(Outfit.model_fields)


@pytest.mark.parametrize("command", ["tip", "urdf", "drive", "limit"])
def test_every_command_has_every_field(command: str) -> None:
    parameters = typer.main.get_command(app).commands[command].params  # type: ignore[attr-defined]
    options = set(chain.from_iterable(parameter.opts for parameter in parameters))
    assert {f"--{name.replace('_', '-')}" for name in Outfit.model_fields} <= options


@pytest.mark.parametrize("name", list(VALUES))
def test_every_field_reaches_the_machine(name: str) -> None:
    """Each option changes the answer as the same field does in Python."""
    needed = {"spacer_mass": "--rear-spacer 3in", "liquid": "--rear-fill 0.75"}
    needed["hung_load"] = "--bucket-height full"
    needed["rope"] = "--hung-load 120kg --bucket-height full"
    needed["attachment_at"] = "--attachment tiller"
    option = f'--{name.replace("_", "-")} "{VALUES[name]}"'
    base = f"tip bramble {needed.get(name, '')}"
    changed, plain = answer(f"{base} {option}"), answer(base)
    changed.pop("defaults"), plain.pop("defaults")
    assert changed != plain


def test_nothing_given_is_the_default_outfit() -> None:
    assert run("tip bramble").stdout.count("operator = 80 kg") == 1
