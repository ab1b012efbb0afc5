"""How much is enough by driven facts: judged again run by run, by code of the test's own."""

from math import degrees, radians

import pytest

from sidehill.advice.driven_enough import GOALS, driven_enough
from sidehill.advice.look import Means
from sidehill.advice.setting import Setting, settings
from sidehill.case import Case
from sidehill.machine.build import fit
from sidehill.machine.file import load_machine
from sidehill.machine.outfit import Outfit
from sidehill.run import run
from sidehill.run.outcome import read
from sidehill.scenario.file import load_scenario
from sidehill.statics.axles import axle_loads

WANTED = radians(10.0)
MEANS = Means("compiled", quick=True)
DOWN, HOP = GOALS
NEITHER = dict.fromkeys(GOALS, False)


@pytest.fixture(scope="module")
def case() -> Case:
    """Bramble with a loaded bucket low, at walking pace over a stone of 60 mm."""
    bank = load_scenario("bank-stone").with_values(
        {"feature.1.height": 0.06, "drive.speed": 1.1, "ground.slope": WANTED}
    )
    return Case(load_machine("bramble"), bank, Outfit(bucket_load="250 kg"))


def worst_up(case: Case, slope: float) -> tuple[float, float, bool]:
    """Longest time a wheel was up [s], most daylight [m], and whether it got there over all."""
    track = run(case.with_slope(slope), "compiled")
    found = read(track.state, track.flat.case)
    arrived = found.progress in ("across", "halted") and bool(found.met)
    return found.longest_spell_s, found.most_daylight_m, arrived


def is_enough(case: Case, goal: str) -> bool:
    """Every whole degree up to the wanted slope, by the numbers and not by the words."""
    for slope in range(1, 11):
        spell, daylight, arrived = worst_up(case, radians(slope))
        most = (0.0, 1.0) if goal == DOWN else (0.5, 0.05)
        if not arrived or spell > most[0] or (goal == HOP and daylight > most[1]):
            return False
    return True


def named(case: Case, start: str) -> Setting:
    return next(item for item in settings(case, us=False) if item.name.startswith(start))


@pytest.mark.parametrize("name", ["rear spacers", "rear box", "speed"])
def test_the_answer_is_enough_and_one_step_less_is_not(case: Case, name: str) -> None:
    setting = named(case, name)
    for found in driven_enough(case, setting, WANTED, MEANS, NEITHER):
        if found.value is None:
            assert not any(is_enough(setting.change(case, v), found.goal) for v in setting.values)
            continue
        assert found.value in setting.values
        assert is_enough(setting.change(case, found.value), found.goal)
        place = setting.values.index(found.value)
        worse = setting.values[:place] if setting.is_least else setting.values[place + 1 :][:1]
        for value in worse:
            assert not is_enough(setting.change(case, value), found.goal)


def test_as_delivered_may_be_enough_already(case: Case) -> None:
    found = driven_enough(
        case, named(case, "rear spacers"), WANTED, MEANS, {DOWN: False, HOP: True}
    )
    assert found[1].words() == "enough as it is"
    assert found[0].goal == DOWN


def test_settings_are_rounded_and_go_on_from_what_is_fitted(case: Case) -> None:
    wide = Case(case.machine, case.scenario, case.outfit.with_values({"rear_spacer": "52 mm"}))
    values = named(wide, "rear spacers").values
    assert [round(1e3 * value) for value in values[:2]] == [55, 60]
    assert 1e3 * values[-1] == pytest.approx(150.0)
    inches = next(item for item in settings(wide, us=True) if item.name.startswith("rear spac"))
    assert [value / 0.0254 for value in inches.values[:2]] == pytest.approx([2.25, 2.5])
    assert all(value < case.scenario.drive.speed for value in named(case, "speed").values)


def test_a_box_stops_at_the_axles_rating(case: Case) -> None:
    values, rating = named(case, "rear box").values, case.machine.limits.rear_axle

    def rear(mass: float) -> float:
        outfit = case.outfit.with_values({"rear_ballast": mass})
        return axle_loads(fit(case.machine, outfit))[1]

    assert rear(values[-1]) <= rating < rear(2.0 * values[-1] - values[-2])


def test_why_nothing_is_looked_for_is_said(case: Case) -> None:
    (bucket,) = (item for item in settings(case, us=False) if item.name == "bucket pin")
    assert bucket.lack == "it is carried low already"
    found = driven_enough(case, bucket, WANTED, MEANS, NEITHER)
    assert found[0].words() == "not looked for: it is carried low already"
    assert degrees(found[0].wanted) == pytest.approx(10.0)
