"""What a record says beside what happened: forces against equilibrium, rates against angles."""

from math import sin
from pathlib import Path

import numpy as np
import pyarrow.parquet as pq
import pytest

from sidehill.case import Case
from sidehill.files.errors import InputError
from sidehill.machine.build import fit
from sidehill.machine.file import load_machine
from sidehill.machine.linkage import WHEELS
from sidehill.machine.outfit import Outfit
from sidehill.run.record import Record, load_record, save_record, simulate
from sidehill.scenario.file import load_scenario

GRAVITY = 9.80665


@pytest.fixture(scope="module")
def plain() -> Record:
    """Along a plain bank, held speed, to its end."""
    return simulate(Case(load_machine("bramble"), load_scenario("bank-plain")), "compiled")


def summed(record: Record, stem: str) -> np.ndarray:
    return sum(record.columns[f"{stem}_{wheel}_n"] for wheel in WHEELS)


def test_the_tyres_hold_the_weight_on_the_slope(plain: Record) -> None:
    """Equilibrium: across, the tyres' forces add up to the weight's part down the slope; the rest
    of the drive is what rolling takes. Downhill is right: the ground pushes to the left."""
    machine, slope = load_machine("bramble"), load_scenario("bank-plain").ground.slope
    weight = fit(machine, Outfit()).mass * GRAVITY
    later = plain.columns["t_s"] > 0.6 * plain.columns["t_s"][-1]
    across = summed(plain, "force_left")[later]
    assert np.mean(across) == pytest.approx(weight * sin(slope), rel=0.01)
    along = summed(plain, "force_forward")[later]
    assert 0.0 <= np.mean(along) < 0.02 * weight


def test_no_tyre_pushes_beyond_its_friction(plain: Record) -> None:
    friction = load_scenario("bank-plain").ground.friction
    for wheel in WHEELS:
        size = np.hypot(*(plain.columns[f"force_{way}_{wheel}_n"] for way in ("forward", "left")))
        assert (size <= friction * plain.columns[f"load_{wheel}_n"] * (1.0 + 1e-9)).all()


def test_speed_and_roll_rate_are_those_of_path_and_roll() -> None:
    record = simulate(Case(load_machine("bramble"), load_scenario("bank-stone")), "compiled")
    time, path = record.columns["t_s"], record.columns["path_m"]
    assert np.trapezoid(record.columns["speed_m_s"], time) == pytest.approx(
        path[-1] - path[0], rel=0.01
    )
    turned = np.trapezoid(record.columns["roll_rate_deg_s"], time)
    roll = record.columns["roll_slope_deg"]
    assert turned == pytest.approx(roll[-1] - roll[0], abs=0.3)
    assert list(record.to_pandas().columns) == list(record.columns)[1:]


def test_every_column_says_its_unit_and_meaning(plain: Record, tmp_path: object) -> None:
    path = tmp_path / "r.parquet"  # type: ignore[operator]
    save_record(plain, path)
    for field in pq.read_schema(path):
        told = {key.decode(): value.decode() for key, value in field.metadata.items()}
        assert told["meaning"]
        assert told["unit"] or field.name.startswith("slip_") or "_q" in field.name
    again = load_record(path)
    assert again.outcome.to_dict() == plain.outcome.to_dict()
    assert repr(again).startswith("Record(Bramble, ")
    assert "<table>" in again._repr_html_()


@pytest.mark.parametrize(
    ("place", "value"),
    [
        ("state", [0.0, {}]),
        ("state", []),
        ("numbers", "nan"),
        ("case", {}),
        ("step", 0.5),
        ("features", [[1.0]]),
        ("urdf", 7),
        ("notes", [None]),
    ],
)
def test_a_record_that_was_sealed_again_with_something_else_in_it_is_refused(
    place: str, value: object, tmp_path: Path
) -> None:
    """The seal says that nothing changed since; it does not say that a run was written."""
    changes = ("course.length=1 m", 'run.step="2 ms"')
    case = Case(load_machine("sorrel"), load_scenario("bank-plain", changes))
    sound, path = simulate(case, "compiled"), tmp_path / "record.parquet"
    save_record(sound, path)
    assert load_record(path).outcome.facts == sound.outcome.facts
    save_record(Record(sound.columns, sound.meta | {place: value}), path)
    with pytest.raises(InputError, match=r"record.parquet: sealed as a record, but it holds no"):
        load_record(path)
    columns = sound.columns | {"roll_slope_deg": sound.columns["roll_slope_deg"] * np.nan}
    save_record(Record(columns, sound.meta), path)
    with pytest.raises(InputError, match="it holds no run"):
        load_record(path)
