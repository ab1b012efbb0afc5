"""One run through every kernel; CI repeats it with numba's bounds checks on."""

from sidehill.case import Case
from sidehill.machine.file import load_machine
from sidehill.machine.outfit import Outfit
from sidehill.rest import Rest
from sidehill.run import run
from sidehill.scenario.file import load_scenario


def test_kernels_stay_inside_their_arrays() -> None:
    """Features, relief, turn, brake, moving loader; then a tilt table with its fall, and a rest."""
    bramble = load_machine("bramble")
    bank = load_scenario("turn-uphill", ["ground.roughness=B", "drive.differential=locked"])
    lifting = load_scenario("raise-on-bank", ["course.length=9 m", "drive.speed=6 km/h"])
    braking = load_scenario("one-brake", ["course.length=6 m"])
    for scenario in (bank, lifting, braking):
        for engine in ("mujoco", "compiled"):
            track = run(Case(bramble, scenario, Outfit(bucket_load="100 kg")), engine)
            assert track.outcome.stability is not None
    table = load_scenario("tilt-table", ["ground.slope=40 deg", "run.step=2 ms"])
    track = run(Case(bramble, table), "compiled", to_rest=True)
    assert track.state["turned_over"][0] > 1.0
    assert Rest(track.flat).move(0.01)
