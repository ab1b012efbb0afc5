"""`weigh` from the command line: a loader that was on, the machine it is pasted into."""

import tomllib
from math import radians, tan
from pathlib import Path

import pytest
from cli.runner import answer, refused, run

from sidehill.machine.build import fit
from sidehill.machine.file import load_machine
from sidehill.machine.outfit import Outfit

LENGTHS = '--wheelbase "1.62 m" --front-radius "0.31 m" --rear-radius "0.49 m" --tilt "20 deg"'
SHARP = '--scale-error "0.1 %"'


@pytest.fixture(autouse=True)
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    return tmp_path


def scales(height: str = "carry") -> tuple[str, float, float]:
    """Bramble with its loader on and nobody on the seat, on the scales; bare CG height and mass."""
    machine = load_machine("bramble")
    options = Outfit(bucket_height=height, operator="0 kg")
    parts = fit(machine, options).parts
    mass = sum(part.mass for part in parts)
    x, _, z = sum(part.mass * part.cg for part in parts) / mass
    level = mass * x / 1.62
    lean = tan(radians(20.0))
    raised = mass * (x - (z - 0.49) * lean) / (1.62 - (0.31 - 0.49) * lean)
    text = (
        f'--level-front "{level} kg" --level-rear "{mass - level} kg" --raised-front "{raised} kg"'
    )
    return text, machine.weighed.cg_height, machine.weighed.mass


@pytest.mark.parametrize("height", ["carry", "full"])
def test_the_loader_of_the_file_is_taken_off_again(height: str) -> None:
    text, cg_height, mass = scales(height)
    found = answer(
        f"weigh {text} {LENGTHS} {SHARP} --machine bramble --loader-on --bucket-height {height}"
    )
    assert found["cg_height_m"] == pytest.approx(cg_height, abs=1e-6)
    assert found["mass_kg"] == pytest.approx(mass)
    assert found["front_axle_kg"] == pytest.approx(430.0)
    assert any("taken off again: a loader of 285 kg" in note for note in found["notes"])
    weighed = tomllib.loads(found["weighed_block"])["weighed"]
    assert weighed["roll_inertia"] == "260 kg m^2"
    assert found["warnings"] == []


def test_what_the_loader_is_may_be_given() -> None:
    text, _, _ = scales()
    own = answer(f"weigh {text} {LENGTHS} {SHARP} --machine bramble --loader-on")
    given = answer(
        f'weigh {text} {LENGTHS} {SHARP} --loader-mass "285 kg" --loader-ahead "1.5 m" '
        '--loader-height "0.5 m"'
    )
    assert given["mass_kg"] == pytest.approx(own["mass_kg"])
    assert given["cg_height_m"] != pytest.approx(own["cg_height_m"], abs=1e-3)
    assert any("--machine" in note for note in given["notes"])


@pytest.mark.parametrize(
    ("more", "words"),
    [
        ("--loader-on", ["--loader-on", "--machine"]),
        ('--loader-on --machine bramble --loader-mass "5 kg"', ["give one of both"]),
        ('--loader-mass "285 kg"', ["loader_ahead"]),
    ],
)
def test_half_a_loader_is_refused(more: str, words: list[str]) -> None:
    text, _, _ = scales()
    message = refused(f"weigh {text} {LENGTHS} {SHARP} {more}")
    for word in words:
        assert word in message


def test_a_very_low_cg_is_warned_of_in_text_and_json() -> None:
    line = (
        'weigh --level-front "430 kg" --level-rear "560 kg" --raised-front "455 kg" --low-cg '
        f"{LENGTHS} {SHARP}"
    )
    (warning,) = answer(line)["warnings"]
    assert "look at the readings again" in warning
    assert "WARNING: CG height" in run(line).stdout
    assert "wrong end" in refused(line.replace("--low-cg ", ""))
