"""A step too long for what it has to resolve: refused or `failed`, never a peak that went bad."""

import pytest

from sidehill.case import Case
from sidehill.engines import here
from sidehill.files.errors import InputError
from sidehill.machine.file import Machine, load_machine
from sidehill.machine.outfit import Outfit
from sidehill.run import run
from sidehill.run.outcome import Outcome
from sidehill.run.record import Record, simulate
from sidehill.scenario.file import Scenario, load_scenario

LIGHTER = 0.35  # of sorrel's front axle, as of a garden tractor


def course(step: float) -> Scenario:
    values = {"run.step": step, "run.rate": 50.0, "drive.speed": 1.5, "ground.slope": 0.1}
    return load_scenario("bank-stone").with_values(values)


def outcome(machine: Machine, outfit: Outfit, step: float, engine: str = "compiled") -> Outcome:
    return run(Case(machine, course(step), outfit), engine).outcome


def record_of(machine: Machine, outfit: Outfit, step: float, engine: str) -> Record:
    """The record of what went bad, which is a record all the same."""
    return simulate(Case(machine, course(step), outfit), engine)


def stiff(stiffness: float) -> Machine:
    """Sorrel on tyres as hard as that [N/m]."""
    return load_machine("sorrel").with_values(
        {f"{end}_tyre.stiffness": stiffness for end in ("front", "rear")}
    )


@pytest.mark.parametrize("engine", here())
@pytest.mark.parametrize(
    ("machine", "outfit", "step"),
    [
        (stiff(1e7), Outfit(), 4e-3),
        (stiff(1e7), Outfit(), 2e-3),
        (stiff(1e7), Outfit(), 1e-3),
        (stiff(2e6), Outfit(), 4e-3),
        (load_machine("sorrel"), Outfit(front_axle_swing="0 deg"), 4e-3),
    ],
)
def test_a_run_that_went_bad_has_no_peaks(
    machine: Machine, outfit: Outfit, step: float, engine: str
) -> None:
    try:
        found = outcome(machine, outfit, step, engine)
    except InputError as error:
        assert "run.step" in str(error)
        return
    if found.stability is not None:  # it did not go bad after all: then it is converged, or no use
        fine = outcome(machine, outfit, step / 4.0)
        converged = abs(found.peak_roll_deg - fine.peak_roll_deg) < 0.5
        assert converged or not found.is_good
        return
    assert not found.is_good
    assert record_of(machine, outfit, step, engine).outcome.stability is None
    told = found.to_dict()
    assert told["peak_roll_deg"] is None
    assert set(told["peak_load_n"].values()) == {None}
    assert told["spells"] == []


def test_a_light_front_axle_at_its_stop_is_refused_or_converged() -> None:
    sorrel = load_machine("sorrel")
    light = sorrel.with_values(
        {
            "front_tyre.mass": LIGHTER * sorrel.front_tyre.mass,
            "front_axle.mass": LIGHTER * sorrel.front_axle.mass,
            "front_tyre.track": LIGHTER**0.5 * sorrel.front_tyre.track,
        }
    )
    outfit = Outfit(front_axle_swing="0.05 rad")
    try:
        usual, fine = (outcome(light, outfit, step) for step in (1e-3, 0.25e-3))
    except InputError as error:
        assert "run.step" in str(error)
        return
    if usual.stability is None:
        return
    for wheel, load in fine.peak_load_n.items():
        assert usual.peak_load_n[wheel] == pytest.approx(load, rel=0.05)
