"""The rungs: against formulas, in their order, against each other, and what cannot be computed."""

from math import atan, degrees

import pytest
from crosscheck.subjects import ALL, IDS, loaded, without

from sidehill.crosscheck import compliant, rigid
from sidehill.crosscheck.compliant import tyre_rungs
from sidehill.crosscheck.ladder import TABLES, climb
from sidehill.crosscheck.rigid import rigid_rungs
from sidehill.crosscheck.rung import FIGURES, Rung, step
from sidehill.crosscheck.table import TABLE, table_rung
from sidehill.files.errors import InputError
from sidehill.machine.outfit import Outfit
from sidehill.scenario.file import load_scenario
from sidehill.spread.subject import AXLES, INERTIA, TYRES, Subject, load_subject

LIFT_OFF, SECOND_STAGE = 0.03, 0.2  # [deg] tilt table against compliant statics (design)


def by_name(rungs: tuple[Rung, ...], start: str) -> Rung:
    return next(rung for rung in rungs if rung.name.startswith(start))


@pytest.mark.parametrize(("name", "outfit"), ALL, ids=IDS)
def test_rigid_rungs_by_their_formulas(name: str, outfit: Outfit) -> None:
    subject = load_subject(name, outfit)
    rungs, cg, t = rigid_rungs(subject), subject.fitted.cg, subject.tipping
    length, pin = subject.machine.body.wheelbase, subject.machine.front_axle.pivot_height
    half, a = subject.fitted.rear_track / 2, cg[0] / length
    ends = half + a * (subject.fitted.front_track / 2 - half)
    expected = {
        rigid.FOUR_WHEELS: ends / cg[2],
        rigid.GROUND_TRIANGLE: half * (1 - a) / cg[2],
        rigid.PIN_TRIANGLE: half * (1 - a) / (cg[2] - pin * a),
        rigid.AXLE_MASS: half * (1 - t.x / length) / (t.h - pin * t.x / length),
    }
    for rung, tangent in expected.items():
        found = by_name(rungs, rung.name)
        assert found.lift_off == pytest.approx(degrees(atan(tangent)), abs=1e-6)
        assert found.overturn == found.lift_off
        assert found.second_stage is None


def test_what_each_rung_changes_has_its_sign() -> None:
    rungs = check_signs(loaded("hawthorn"))
    # soft ground ends the rest on four wheels before the uphill rear wheel's load is gone
    assert "falls away while the uphill rear wheel still carries" in rungs[-1].missing


@pytest.mark.slow
@pytest.mark.parametrize(("name", "outfit"), ALL, ids=IDS)
def test_what_each_rung_changes_has_its_sign_everywhere(name: str, outfit: Outfit) -> None:
    check_signs(load_subject(name, outfit))


def check_signs(subject: Subject) -> tuple[Rung, ...]:
    rungs = rigid_rungs(subject) + tyre_rungs(subject)

    def change(rung: Rung, figure: str = "lift_off") -> float:
        found = step(rungs, by_name(rungs, rung.name), figure)
        assert found is not None
        return found.change

    assert change(rigid.GROUND_TRIANGLE) < -10.0
    assert change(rigid.PIN_TRIANGLE) > 1.0
    assert change(rigid.AXLE_MASS) < 0.0
    assert change(rigid.STOP) == change(rigid.FALL) == 0.0
    assert change(rigid.STOP, "overturn") > 1.0
    assert change(rigid.FALL, "overturn") < -1.0
    assert change(compliant.VERTICAL) < -1.0
    assert change(compliant.LATERAL) < 0.0
    assert change(compliant.SECTION, "second_stage") > 0.3
    assert change(compliant.SOFT) < -1.5
    for figure in ("lift_off", "second_stage"):  # on even ground it is the same law
        assert change(compliant.ENVELOPING, figure) == pytest.approx(0.0, abs=1e-9)
    assert all(rung.is_computed for rung in rungs)
    return rungs


def test_every_rung_is_measured_from_one_above_it() -> None:
    names: list[str] = []
    for rung in (
        *rigid.RIGID,
        compliant.VERTICAL,
        compliant.LATERAL,
        compliant.SECTION,
        compliant.ENVELOPING,
        compliant.SOFT,
        TABLE,
    ):
        assert rung.over is None or rung.over in names
        assert rung.assumption.endswith(".")
        assert rung.fails.endswith(".")
        names.append(rung.name)
    assert [rung.over for rung in rigid.RIGID[1:]] == [rung.name for rung in rigid.RIGID[:-1]]


def test_steps_skip_rungs_without_the_figure() -> None:
    a = Rung("a", "", "", None, overturn=20.0)
    b = Rung("b", "", "", "a", lift_off=9.0)
    c = Rung("c", "", "", "b", lift_off=8.5, overturn=19.0)
    found = step((a, b, c), c, "overturn")
    assert found is not None
    assert (found.change, found.since) == (-1.0, "a")
    assert step((a, b, c), c, "second_stage") is None
    assert step((a, b, c), b, "lift_off") is None


def check_table(subject: Subject, engine: str) -> Rung:
    section = tyre_rungs(subject)[2]
    table = table_rung(subject, engine)
    assert table.over == section.name
    assert table.lift_off == pytest.approx(section.lift_off, abs=LIFT_OFF)
    assert table.second_stage == pytest.approx(section.second_stage, abs=SECOND_STAGE)
    assert table.overturn is not None
    assert table.lift_off <= table.overturn < table.second_stage
    return table


def test_the_tilt_table_stands_on_the_rung_below_it() -> None:
    table = check_table(loaded("bramble"), "mujoco")
    rigid_fall = rigid_rungs(loaded("bramble"))[-1]
    assert table.overturn < rigid_fall.overturn  # tyres that give are on the unsafe side


@pytest.mark.slow
@pytest.mark.parametrize("engine", TABLES)
@pytest.mark.parametrize(("name", "outfit"), ALL, ids=IDS)
def test_every_tilt_table_stands_on_the_rung_below_it(
    name: str, outfit: Outfit, engine: str
) -> None:
    pytest.importorskip(engine)
    check_table(load_subject(name, outfit), engine)


GAPS = {
    AXLES: ("weighed.rear_axle",),
    TYRES: ("rear_tyre.stiffness",),
    INERTIA: ("body.length", "body.width", "body.height"),
}
TELLS = {TYRES: ("rear_tyre.pressure",)}  # what would tell it as well
COMPUTED = {AXLES: 1, TYRES: 6, INERTIA: 11}  # rungs from the top of the ladder


@pytest.mark.parametrize("kind", GAPS)
def test_a_gap_leaves_the_rest_standing(kind: str, tmp_path) -> None:
    outfit = Outfit(bucket_load="100 kg")
    whole = load_subject("bramble", outfit)
    lost = (*GAPS[kind], *TELLS.get(kind, ()))
    lame = load_subject(without("bramble", tmp_path, *lost), outfit)
    assert lame.gaps == {kind: GAPS[kind]}
    rungs = rigid_rungs(lame) + tyre_rungs(lame) + (table_rung(lame, "mujoco"),)
    for place, rung in enumerate(rungs):
        assert rung.is_computed == (place < COMPUTED[kind])
        if not rung.is_computed:
            assert all(field in rung.missing for field in GAPS[kind])
            assert "bramble-without.toml" in rung.missing
    if kind != AXLES:
        for ours, theirs in zip(rungs, rigid_rungs(whole), strict=False):
            figures = [getattr(ours, figure) for figure in FIGURES]
            assert figures == [getattr(theirs, figure) for figure in FIGURES]


def test_without_an_axle_load_only_the_bare_tractor_is_left(tmp_path) -> None:
    lame = load_subject(without("bramble", tmp_path, "weighed.rear_axle"), Outfit())
    found = rigid_rungs(lame)[0]
    assert found.lift_off == pytest.approx(degrees(atan(1.00 / 2 / 0.60)))  # T / 2h of the file
    assert "bare tractor" in found.missing


def test_a_gap_reaches_every_part(tmp_path) -> None:
    lost = ("front_tyre.stiffness", "front_tyre.pressure")
    lame = load_subject(without("sorrel", tmp_path, *lost), Outfit())
    found = climb(lame, load_scenario("bank-stone")).to_dict()
    for part in ("remainder", "crossings"):
        assert "front_tyre.stiffness is missing" in found[part]
    assert all("front_tyre.stiffness" in text for text in found["intervals"].values())
    assert [rung["name"] for rung in found["rungs"][-2:]] == [
        f"tilt table in {engine}" for engine in TABLES
    ]
    assert all("front_tyre.stiffness" in rung["missing"] for rung in found["rungs"][6:])


def test_other_faults_of_a_file_are_refused(tmp_path) -> None:
    with pytest.raises(InputError, match=r"wheelbase"):
        load_subject(without("bramble", tmp_path, "body.wheelbase"), Outfit())
    with pytest.raises(InputError, match="no machine called"):
        load_subject("brambel", Outfit())


def test_a_machine_that_tips_by_itself_has_no_rung_and_no_other_part() -> None:
    subject = load_subject("bramble", Outfit(bucket_load="1400 kg"))
    found = climb(subject, load_scenario("bank-stone"))
    assert not any(rung.is_computed for rung in found.rungs)
    assert all("tips forward" in rung.missing for rung in found.rungs)
    assert "tips forward" in str(found.remainder)
    assert "tips forward" in str(found.crossings)
    assert all("tips forward" in str(why) for why in found.intervals.values())
