"""Outfits: what they take, and what a machine refuses or warns of."""

from math import radians

import pytest
from machine.fixtures import without

from sidehill.files.errors import InputError
from sidehill.machine.build import fit
from sidehill.machine.file import load_machine
from sidehill.machine.outfit import Outfit

BRAMBLE = load_machine("bramble")


@pytest.mark.parametrize(
    ("options", "said"),
    [
        ({"rear_spacr": "76 mm"}, 'rear_spacr: unknown key; did you mean "rear_spacer"?'),
        ({"rear_spacer": 76}, "rear_spacer = 76: not plausible; allowed: a length from -300 mm"),
        ({"rear_spacer": "76"}, 'rear_spacer = "76": a bare number, without a unit'),
        ({"rear_spacer": "3 kg"}, 'rear_spacer = "3 kg": "kg" does not measure a length'),
        ({"rear_spacer": "3 m"}, 'rear_spacer = "3 m": not plausible; allowed: a length from'),
        ({"rear_fill": 1.2}, "rear_fill = 1.2: not plausible; allowed: a ratio from 0 to 1"),
        ({"operator": "-80 kg"}, 'operator = "-80 kg": not plausible; allowed: a mass from 0 kg'),
        ({"bucket_height": "high"}, 'bucket_height = "high": not a finite number; give a length'),
        ({"liquid": "brine"}, 'allowed: "water", "calcium chloride 3.5 lb/gal"'),
        ({"liquid": "1.2 kg"}, 'liquid = "1.2 kg": "kg" does not measure a density'),
        ({"attachment_at": "up"}, "attachment_at = \"up\": allowed: 'raised' or 'lowered'"),
        ({"rops": "off"}, "rops = \"off\": allowed: 'up' or 'folded'"),
    ],
)
def test_refused_before_any_machine(options: dict[str, object], said: str) -> None:
    with pytest.raises(InputError) as refusal:
        Outfit(**options)
    assert str(refusal.value).startswith("outfit: ")
    assert said in str(refusal.value)


def test_in_python_a_number_is_si_and_text_carries_its_unit() -> None:
    assert Outfit(rear_spacer=0.076) == Outfit(rear_spacer="76 mm")
    assert Outfit(rear_ballast=250, front_axle_swing=radians(4.0)) == Outfit(
        rear_ballast="250 kg", front_axle_swing="4 deg"
    )


@pytest.mark.parametrize(
    ("tables", "options", "said"),
    [
        (["ballast"], {"rear_ballast": "250 kg"}, "[ballast] rear_box; add it"),
        (["ballast"], {"front_weight": "50 kg"}, "[ballast] front; add it"),
        (["loader"], {"bucket_load": "250 kg"}, "a [loader] table; add it"),
        (["loader"], {"bucket_height": "full"}, "a [loader] table; add it"),
        (["rops"], {"rops": "folded"}, "[rops] folded_height; add it"),
        (["attachment"], {"attachment": "tiller"}, "an [[attachment]] of that name; it has: none"),
        ([], {"attachment": "plough"}, "it has: tiller, mid mower, front pusher"),
        ([], {"bucket_height": "2.8 m"}, "bucket_height 2,800 mm (110.2 in): out of the arm's"),
        ([], {"front_axle_swing": "12 deg"}, "allowed: up to the machine's own, 10.0 deg"),
        ([], {"rear_spacer": "-180 mm"}, "rear_spacer -180 mm (-7.1 in): the rear tyres would go"),
        ([], {"rear_track": "0.6 m"}, "rear_track 600 mm (23.6 in) with rear_spacer 0 mm"),
        ([], {"front_spacer": "-40 mm"}, "a track of at least 960 mm (37.8 in), which leaves 750"),
    ],
)
def test_refused_by_the_machine(tables: list[str], options: dict[str, object], said: str) -> None:
    with pytest.raises(InputError) as refusal:
        fit(without("bramble", *tables), Outfit(**options))
    assert said in str(refusal.value)
    assert next(iter(options)) in str(refusal.value)


@pytest.mark.parametrize(
    ("options", "warning"),
    [
        ({"bucket_load": "421 kg"}, "OVERLOADED: 421 kg (929 lb) in the bucket, over the loader's"),
        ({"rops": "folded"}, "HAZARD: roll bar folded"),
        ({"rear_ballast": "300 kg"}, "1,655 kg (3,649 lb) in all, over the 1,600 kg (3,527 lb)"),
        ({"operator_lean": "0.2 m"}, "do not rely on it"),
    ],
)
def test_allowed_with_a_warning(options: dict[str, object], warning: str) -> None:
    assert not fit(BRAMBLE, Outfit()).warnings
    assert any(warning in line for line in fit(BRAMBLE, Outfit(**options)).warnings)


def test_no_roll_bar_is_said() -> None:
    assert any("no roll bar" in line for line in fit(without("bramble", "rops"), Outfit()).warnings)


def test_at_the_rating_is_no_overload() -> None:
    assert not fit(BRAMBLE, Outfit(bucket_load="420 kg")).warnings[1:]


def test_reversed_rim_narrows_without_a_part() -> None:
    narrow = fit(BRAMBLE, Outfit(rear_spacer="-25 mm"))
    assert narrow.rear_track == pytest.approx(0.95)
    assert not any(part.name.startswith("spacer") for part in narrow.parts)
    assert any("reversed rim" in line for line in narrow.notes)


def test_reset_track_takes_spacers_on_top() -> None:
    fitted = fit(BRAMBLE, Outfit(rear_track="1.2 m", rear_spacer="50 mm"))
    assert fitted.rear_track == pytest.approx(1.3)
    assert fitted.front_track == BRAMBLE.front_tyre.track


def test_stop_can_be_tightened() -> None:
    assert fit(BRAMBLE, Outfit(front_axle_swing="4 deg")).swing == pytest.approx(0.0698132)
    assert fit(BRAMBLE, Outfit()).swing == BRAMBLE.front_axle.swing


def test_defaults_and_estimates_are_noted() -> None:
    notes = " | ".join(fit(BRAMBLE, Outfit(rear_spacer="25 mm", rear_fill=0.75)).notes)
    assert "rear spacers 6 kg (13 lb) each: 6 kg a 25 mm, by default" in notes
    assert "operator of 80 kg (176 lb) on the seat, the default" in notes
    assert "pitch and yaw inertia estimated from [body]" in notes
    assert "72 kg (159 lb) of water in each rear tyre" in notes
    notes = " | ".join(fit(load_machine("sorrel"), Outfit(operator="70 kg")).notes)
    assert "roll, pitch and yaw inertia estimated" in notes
    assert "default" not in notes
