"""A load hung from the bucket: its weight at the hook, its swing a pendulum's."""

from math import cos, pi, sin, sqrt

import numpy as np
import pytest

from sidehill.case import Case
from sidehill.engines import here
from sidehill.files.errors import InputError
from sidehill.flat import flatten
from sidehill.kernels.hung import sway
from sidehill.kernels.layout import CASE, DRIVE, STATE, WORK, blank
from sidehill.machine.build import fit
from sidehill.machine.file import load_machine
from sidehill.machine.outfit import Outfit
from sidehill.rest import Rest
from sidehill.run import run
from sidehill.run.table import table_scenario
from sidehill.scenario.file import load_scenario
from sidehill.statics.assembly import from_fitted
from sidehill.statics.slopes import lift_off_slope

BRAMBLE = load_machine("bramble")
HIGH = {"bucket_height": "1.2 m"}
HUNG = Outfit(hung_load="120 kg", rope="0.8 m", **HIGH)
IN_IT = Outfit(bucket_load="120 kg", **HIGH)


def swing(rope: float, lean: float, seconds: float) -> np.ndarray:
    """(n,) [m] sideways place of a load let go at `lean` [rad], its hook held still."""
    case, state, work = blank(CASE), blank(STATE), blank(WORK)
    values, mass = case[0], 250.0
    values["step"], work[0]["gravity"][2] = 1e-3, -9.81
    values["hung_mass"], values["rope"] = mass, rope
    values["rope_stiffness"], values["rope_damping"] = 1e4 * mass, 140.0 * mass
    work[0]["rotation"][:] = np.eye(3)
    state[0]["stage"] = DRIVE
    state[0]["hung_place"][:] = 0.0, rope * sin(lean), -rope * cos(lean)
    places = []
    for _ in range(round(1e3 * seconds)):
        sway(case, state, work)
        places.append(float(state[0]["hung_place"][1]))
    return np.array(places)


@pytest.mark.parametrize(("rope", "lean"), [(0.3, 0.05), (0.8, 0.05), (0.8, 0.5), (3.0, 0.5)])
def test_it_swings_as_a_pendulum_of_its_length(rope: float, lean: float) -> None:
    """2 pi sqrt(l / g) (1 + lean^2 / 16 + 11 lean^4 / 3072): textbook."""
    path = swing(rope, lean, 12.0)
    down = np.nonzero((path[:-1] > 0.0) & (path[1:] <= 0.0))[0]
    crossed = down + path[down] / (path[down] - path[down + 1])
    period = 1e-3 * float(np.diff(crossed).mean())
    exact = 2.0 * pi * sqrt(rope / 9.81) * (1.0 + lean**2 / 16.0 + 11.0 * lean**4 / 3072.0)
    assert period == pytest.approx(exact, rel=2e-3)
    assert np.abs(path[-4000:]).max() == pytest.approx(rope * sin(lean), rel=2e-2)  # undamped


def test_standing_its_weight_acts_at_the_hook_in_closed_form() -> None:
    """The body's CG with a lump at the hook, and the textbook line of lift-off; no rope in it."""
    fitted = fit(BRAMBLE, HUNG)
    bare, loader = from_fitted(fit(BRAMBLE, Outfit(**HIGH))), BRAMBLE.loader
    assert loader is not None
    reach = sqrt(loader.arm_length**2 - (1.2 - loader.arm_pivot[1]) ** 2)
    hook = np.array([loader.arm_pivot[0] + reach + loader.load_reach, 1.2])
    mass = bare.mass + 120.0
    x, h = (bare.mass * np.array([bare.x, bare.h]) + 120.0 * hook) / mass
    a = x / bare.wheelbase
    tangent = bare.rear_track / 2.0 * (1.0 - a) / (h - bare.pin_height * a)
    assert np.tan(lift_off_slope(from_fitted(fitted))) == pytest.approx(tangent, rel=1e-9)


def test_on_tyres_it_lifts_a_wheel_where_the_same_load_at_the_hook_does() -> None:
    lifts = [
        Rest(flatten(Case(BRAMBLE, table_scenario(), outfit))).lift()
        for outfit in (HUNG, HUNG.with_values({"rope": 0.3}), IN_IT)
    ]
    assert lifts[0] == pytest.approx(lifts[1], abs=1e-9)
    assert lifts[0] == pytest.approx(lifts[2], abs=1e-6)


@pytest.mark.parametrize("engine", here())
def test_parked_on_a_bank_it_hangs_still_and_loads_the_wheels_as_at_its_hook(engine: str) -> None:
    bank = {"ground.slope": np.radians(6.0), "drive.speed": 0.0}
    scenario = load_scenario("bank-plain").with_values(bank)
    hung, lumped = (run(Case(BRAMBLE, scenario, outfit), engine) for outfit in (HUNG, IN_IT))
    assert hung.outcome.facts == lumped.outcome.facts
    assert hung.state["load"] == pytest.approx(lumped.state["load"], rel=0.01)
    assert hung.state["balance"][0] == pytest.approx(lumped.state["balance"][0], abs=2e-3)


def test_engines_agree_on_it_while_it_swings() -> None:
    scenario = load_scenario("bank-stone").with_values({"ground.slope": np.radians(4.0)})
    rolls = [run(Case(BRAMBLE, scenario, HUNG), engine).outcome.peak_roll_deg for engine in here()]
    lumped = run(Case(BRAMBLE, scenario, IN_IT), "compiled").outcome.peak_roll_deg
    print(f"peak roll hung {rolls[0]:.2f} deg, in the bucket {lumped:.2f}")
    assert np.ptp(rolls) < 1e-3
    assert abs(rolls[0] - lumped) > 0.05


@pytest.mark.parametrize(
    ("outfit", "course"),
    [
        (Outfit(hung_load="120 kg", rope="0.8 m"), "bank-plain"),
        (Outfit(hung_load="120 kg", rope="1.2 m", **HIGH), "bank-plain"),
        (HUNG, "raise-on-bank"),  # which begins low
    ],
)
def test_a_load_that_would_drag_is_not_driven(outfit: Outfit, course: str) -> None:
    with pytest.raises(InputError, match="would lie on the ground"):
        flatten(Case(BRAMBLE, load_scenario(course), outfit))


def test_statics_warn_of_one_that_lies_on_the_ground() -> None:
    low = fit(BRAMBLE, Outfit(hung_load="120 kg", rope="0.8 m")).warnings
    assert any("lies on the ground" in warning for warning in low)
    assert not any("lies on the ground" in warning for warning in fit(BRAMBLE, HUNG).warnings)
