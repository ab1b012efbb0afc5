"""Stiffness of a tyre from size, pressure and age, and what an outfit's pressure does to it."""

from math import nan

import pytest

from sidehill.case import Case
from sidehill.files.errors import InputError
from sidehill.flat import flatten
from sidehill.machine.bare import Tyre
from sidehill.machine.build import fit
from sidehill.machine.file import Machine, load_machine
from sidehill.machine.outfit import Outfit
from sidehill.machine.pressure import stiffness_at, stiffnesses
from sidehill.scenario.file import load_scenario
from sidehill.spread.inputs import REAR_STIFFNESS, inputs, with_inputs
from sidehill.spread.subject import load_subject

INCH, YEAR = 0.0254, 365.25 * 86400.0
PSI = 6894.757


def tyre(width: float, rim: float, pressure: float, age: float = nan, **more: float) -> Tyre:
    """A tyre by section and rim [in], pressure [bar] and age [years]."""
    table = {
        "diameter": (rim + 2.0 * width) * INCH,
        "width": width * INCH,
        "rim_diameter": rim * INCH,
        "track": 1.5,
        "mass": 30.0,
        "pressure": pressure * 1e5,
    } | more
    if age == age:
        table["age"] = age * YEAR
    return Tyre.model_construct(**table)


@pytest.mark.parametrize(
    ("width", "rim", "new", "old"),
    [
        (6.0, 16.0, 176, 204),
        (8.3, 24.0, 197, 225),
        (9.5, 24.0, 207, 235),
        (12.4, 24.0, 231, 259),
        (12.4, 16.0, 211, 239),
    ],
)
def test_usual_sizes(width: float, rim: float, new: float, old: float) -> None:
    """At 1 bar, new and 5 years old, kN/m: Lines and Murphy 1991, J. Terramechanics 28(1), 49-64
    (values from memory); worked out by hand from the relation."""
    assert stiffness_at(tyre(width, rim, 1.0)) / 1e3 == pytest.approx(new, abs=0.6)
    assert stiffness_at(tyre(width, rim, 1.0, age=5.0)) / 1e3 == pytest.approx(old, abs=0.6)


def test_one_published_tyre() -> None:
    """495/70 R24: 328 kN/m at 1 bar, 645 at 3 (Keen 2001, FISITA EAEC01/01041, abstract). It
    supports the pressure term alone; the rest within 15 %."""
    low, high = (stiffness_at(tyre(495.0 / 25.4, 24.0, bar)) / 1e3 for bar in (1.0, 3.0))
    assert low == pytest.approx(328, rel=0.15)
    assert high == pytest.approx(645, rel=0.15)
    assert (high - low) / 2.0 == pytest.approx((645 - 328) / 2.0, rel=0.01)


def test_a_measured_stiffness_moves_by_the_pressure_term_alone() -> None:
    known = tyre(12.4, 24.0, 1.2, stiffness=300e3)
    assert stiffness_at(known) == 300e3
    assert stiffness_at(known, 1.2e5) == pytest.approx(300e3)
    term = stiffness_at(tyre(12.4, 24.0, 2.0)) - stiffness_at(tyre(12.4, 24.0, 1.0))  # a bar
    assert stiffness_at(known, 0.7e5) == pytest.approx(300e3 - 0.5 * term)


def bramble(**fields: object) -> Machine:
    return load_machine("bramble").with_values({f"rear_tyre.{k}": v for k, v in fields.items()})


def test_six_psi_reaches_the_run_in_every_spring_of_the_tyre() -> None:
    machine, bank = load_machine("bramble"), load_scenario("bank-plain")
    usual, soft = (
        flatten(Case(machine, bank, Outfit(**given))).case[0]
        for given in ({}, {"rear_pressure": "6 psi"})
    )
    rear = machine.rear_tyre
    assert rear.rim_diameter is not None
    slope = 0.34 * (rear.width / INCH) * (rear.rim_diameter / INCH) * 1e3 / 1e5  # [N/m/Pa]
    expected = 220e3 - slope * (1.1e5 - 6.0 * PSI)
    assert soft["stiffness"][2:] == pytest.approx([expected] * 2, rel=1e-6)
    assert soft["shear"][2:] == pytest.approx([0.5 * expected] * 2, rel=1e-6)
    assert soft["stiffness"][:2] == pytest.approx(usual["stiffness"][:2])
    ratio = (expected / 220e3) ** 0.5
    assert soft["damping"][2:] == pytest.approx(usual["damping"][2:] * ratio, rel=1e-6)


def test_a_file_without_a_stiffness_says_where_it_comes_from() -> None:
    data = load_machine("bramble").model_dump(exclude_unset=True)
    del data["rear_tyre"]["stiffness"]
    machine = Machine.model_validate(data, context={"si": True})
    assert stiffnesses(machine, Outfit())[1] == pytest.approx(219e3, rel=0.01)
    notes = " ".join(fit(machine, Outfit()).notes)
    assert "rear tyres 21" in notes
    assert "taken as new, the softest" in notes
    assert "values from memory, good to about 20 %" in notes
    assert "front tyres" not in notes


def test_refused() -> None:
    with pytest.raises(InputError, match=r"rear_tyre\.pressure.*allowed: a pressure"):
        bare = load_machine("bramble").model_dump(exclude_unset=True)
        for name in ("stiffness", "pressure"):
            del bare["rear_tyre"][name]
        load_machine("bramble").with_values({"rear_tyre": bare["rear_tyre"]})
    data = load_machine("bramble").model_dump(exclude_unset=True)
    del data["rear_tyre"]["pressure"]
    plain = Machine.model_validate(data, context={"si": True})
    with pytest.raises(InputError, match=r"rear_pressure .* lacks rear_tyre\.pressure"):
        fit(plain, Outfit(rear_pressure="6 psi"))
    with pytest.raises(InputError, match="leaves less than 30 kN/m"):
        fit(bramble(stiffness=60e3), Outfit(rear_pressure="0.3 bar"))


def test_a_harder_tyre_than_the_file_says_is_warned_of() -> None:
    warned = fit(load_machine("bramble"), Outfit(rear_pressure="2 bar")).warnings
    assert any("never above what tyre and rim are marked for" in text for text in warned)
    soft = fit(load_machine("bramble"), Outfit(rear_pressure="0.5 bar")).warnings
    assert not any("marked for" in text for text in soft)


def test_the_interval_is_about_the_stiffness_at_the_outfits_pressure() -> None:
    subject = load_subject("bramble", Outfit(rear_pressure="0.6 bar"))
    best = inputs(subject)[REAR_STIFFNESS].best
    assert best == pytest.approx(stiffnesses(subject.machine, subject.outfit)[1])
    assert best < 190e3
    changed = with_inputs(subject.machine, subject.outfit, {REAR_STIFFNESS: 1.2 * best})
    assert stiffnesses(changed, subject.outfit)[1] == pytest.approx(1.2 * best)
    changed = with_inputs(subject.machine, subject.outfit, {REAR_STIFFNESS: best})
    assert stiffness_at(changed.rear_tyre) == pytest.approx(220e3)
