"""CG height by the lifting method (ISO 789-6); its printed example is in the table of checks."""

from math import cos, degrees, radians, sin

import numpy as np
import pytest
from crosscheck.scales import NUMBERS, readings
from hypothesis import given, settings
from hypothesis import strategies as st

from sidehill.files.errors import InputError
from sidehill.machine.file import load_machine
from sidehill.machine.weigh import raised_scale_height, read_scales, second_look
from sidehill.machine.weighed_block import weighed_block


def weigh(mass, x, height, wheelbase, front_radius, rear_radius, tilt):
    """Front scale [kg]: the chassis turned nose up about the rear axle centre, held straight up."""
    turn = np.array([[cos(tilt), -sin(tilt)], [sin(tilt), cos(tilt)]])
    cg = turn @ [x, height - rear_radius]
    axle = turn @ [wheelbase, front_radius - rear_radius]
    return mass * cg[0] / axle[0]


@settings(derandomize=True, deadline=None)
@given(
    st.floats(0.35, 0.65),
    st.floats(0.5, 1.0),
    st.floats(0.2, 0.5),
    st.floats(0.3, 0.7),
    st.floats(5.0, 30.0),
)
def test_the_height_that_made_the_readings_comes_back(ahead, height, front, rear, tilt):
    wheelbase, mass = 1.7, 1200.0
    level, raised = (
        weigh(mass, ahead * wheelbase, height, wheelbase, front, rear, radians(angle))
        for angle in (0.0, tilt)
    )
    found = raised_scale_height(
        readings(
            level_front=float(level),
            level_rear=float(mass - level),
            raised_front=float(raised),
            tilt=tilt,
            wheelbase=wheelbase,
            front_radius=front,
            rear_radius=rear,
            low_cg=True,
        )
    )
    assert found.height == pytest.approx(height, abs=1e-9)


@pytest.mark.parametrize("name", NUMBERS)
def test_shares_by_small_changes(name):
    base = readings(scale_error="2 %", tilt_error="0.5 deg", length_error="8 mm")
    error = {"tilt": 0.5, "wheelbase": 8e-3, "front_radius": 8e-3, "rear_radius": 8e-3}
    value = NUMBERS[name][0]
    size = error.get(name, 0.02 * value)
    high, low = (
        raised_scale_height(readings(**{name: value + 1e-3 * sign * size})).height
        for sign in (1, -1)
    )
    assert raised_scale_height(base).shares[name] == pytest.approx(abs(high - low) / 2e-3, rel=1e-4)


def test_the_error_is_that_of_drawn_readings():
    found = raised_scale_height(readings())
    errors = {"tilt": 0.2, "wheelbase": 5e-3, "front_radius": 5e-3, "rear_radius": 5e-3}
    generator = np.random.default_rng(11)
    drawn = [
        raised_scale_height(
            readings(
                **{
                    name: float(generator.normal(value, errors.get(name, 0.01 * value)))
                    for name, (value, _) in NUMBERS.items()
                }
            )
        ).height
        for _ in range(2000)
    ]
    assert np.std(drawn) == pytest.approx(found.error, rel=0.05)  # 3 standard errors of 2,000
    assert found.largest in ("level_front", "raised_front")


def test_a_factor_that_all_scales_share_cancels():
    high = {name: 1.03 * NUMBERS[name][0] for name in ("level_front", "level_rear", "raised_front")}
    assert raised_scale_height(readings(**high)).height == pytest.approx(
        raised_scale_height(readings()).height
    )


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"raised_front": 995.0}, ["raised_front", "under the whole mass, 990 kg"]),
        ({"raised_front": 560.0}, ["raised_front", "130.0 kg more than level", "wrong end"]),
        (
            {"raised_front": 100.0, "tilt": 10.0},
            ["raised_front", "CG height of", "wheels rolled free"],
        ),
        ({"loader_mass": "285 kg"}, ["loader_ahead", "mass and both places"]),
        (
            {"loader_mass": "900 kg", "loader_ahead": "1.5 m", "loader_height": "0.7 m"},
            ["loader_mass", "weight on both axles"],
        ),
        ({"raised_front": "383"}, ["raised_front", "383", "without a unit", "kg"]),
        ({"tilt": 0.5}, ["tilt", "2 deg to 45 deg"]),
        ({"tilt": "nan deg"}, ["tilt", "nan"]),
        ({"rear_radius": 0.0}, ["rear_radius", "0.1 m to 1.2 m"]),
        ({"scale_error": "0 %"}, ["scale_error", "10 %"]),
        ({"tild": "20 deg"}, ["tild", 'did you mean "tilt"']),
    ],
)
def test_bad_readings_are_refused_in_words(change, words):
    with pytest.raises(InputError) as caught:
        readings(**change)
    for word in ("scale readings", *words):
        assert word in str(caught.value)


def test_a_missing_reading_is_named():
    with pytest.raises(InputError, match=r"weigh: raised_front: missing"):
        read_scales(
            {k: f"{v} {u}" for k, (v, u) in NUMBERS.items() if k != "raised_front"}, "weigh"
        )


def test_default_errors():
    taken = readings()
    assert taken.scale_error == 0.01
    assert degrees(taken.tilt_error) == pytest.approx(0.2)
    assert taken.length_error == 0.005


def test_heights_are_taken_from_0_2_to_2_m():
    """By the lifting formula written out: which front readings give just these heights."""
    wheelbase, turn = NUMBERS["wheelbase"][0], np.tan(radians(15.0))

    def height(front):
        return 0.475 + (430.0 - front) * wheelbase / (990.0 * turn) - 0.175 * front / 990.0

    raised = np.linspace(10.0, 600.0, 60_000)
    for edge in (0.2, 2.0):
        at = raised[np.argmin(abs(height(raised) - edge))]
        beyond = -2.0 if edge == 2.0 else 2.0
        assert raised_scale_height(
            readings(raised_front=float(at - beyond), tilt=15.0, low_cg=True)
        ).height
        with pytest.raises(InputError, match="CG height"):
            readings(raised_front=float(at + beyond), tilt=15.0, low_cg=True)


def test_a_loader_leaves_weight_on_both_axles_to_the_last_kilogram():
    """The loader's mass hangs at the front axle, or at the rear one: all but 0.5 kg may go."""
    for ahead, axle in (("1.62 m", 430.0), ("0 m", 560.0)):

        def taken(mass, ahead=ahead):
            on = {"loader_mass": mass, "loader_ahead": ahead, "loader_height": "0.6 m"}
            return readings(**on).bare_axles

        assert min(taken(f"{axle - 0.5} kg")) == pytest.approx(0.5)
        with pytest.raises(InputError, match="weight on both axles"):
            taken(f"{axle + 0.5} kg")


@pytest.mark.parametrize(("length", "slack"), [("wheelbase", 25.0), ("rear_radius", 25.0)])
def test_lengths_may_differ_by_what_tapes_and_tyres_do(length, slack):
    """3 x 5 mm of the tape and 20 mm of the file: 25 mm; a loaded radius also by 6 %."""
    own = load_machine("bramble")
    known = {"wheelbase": own.body.wheelbase, "rear_radius": own.rear_tyre.radius,
             "front_radius": own.front_tyre.radius}  # fmt: skip
    slack += 60.0 * known[length] if length.endswith("radius") else 0.0
    for more, goes in ((slack - 1.0, True), (slack + 1.0, False)):
        values = known | {length: known[length] - more / 1000.0}
        taken = readings(scale_error="0.2 %", **{name: float(v) for name, v in values.items()})
        if goes:
            assert "[weighed]" in weighed_block(taken, own)
            continue
        with pytest.raises(InputError, match=length):
            weighed_block(taken, own)


def test_the_wrong_end_raised_is_refused_with_what_it_would_be():
    """Tail up about the front axle centre, so that the front scale gains."""
    mass, x, height, wheelbase, front, rear = 990.0, 0.7036, 0.59, 1.62, 0.30, 0.475
    rear_scale = weigh(mass, wheelbase - x, height, wheelbase, rear, front, radians(22.0))
    with pytest.raises(InputError) as caught:
        readings(raised_front=float(mass - rear_scale))
    for word in ("raised_front", "more than level", "0.59 m", "wrong end", "--low-cg"):
        assert word in str(caught.value)


def test_a_low_cg_is_taken_once_it_is_said_and_asks_for_a_second_look():
    taken = readings(raised_front=460.0, low_cg=True)
    found = raised_scale_height(taken)
    assert found.height < 0.475 * 2.0 / 3.0
    assert "look at the readings again" in second_look(found.height, taken.rear_radius)
    assert second_look(0.475 * 2.0 / 3.0 + 1e-6, taken.rear_radius) is None
    assert second_look(0.475 * 2.0 / 3.0 - 1e-6, taken.rear_radius) is not None


def test_a_gain_that_the_scales_may_have_made_is_taken():
    assert raised_scale_height(readings(raised_front=436.0)).height < 0.475
    with pytest.raises(InputError, match="wrong end"):
        readings(raised_front=437.0)  # 1 % of each of two readings: 6.1 kg


@pytest.mark.parametrize(("tilt", "height"), [(12.0, 0.55), (22.0, 0.60), (30.0, 0.75)])
def test_a_loader_that_was_on_is_taken_off_again(tilt, height):
    """Bare tractor and loader as two lumps on the scales; the bare one comes back."""
    bare = (990.0, 0.7036, height)  # kg, m ahead, m up
    loader = (285.0, 1.9, 0.8)
    mass = bare[0] + loader[0]
    x, up = (sum(lump[0] * lump[i] for lump in (bare, loader)) / mass for i in (1, 2))
    level, raised = (
        float(weigh(mass, x, up, 1.62, 0.30, 0.475, radians(angle))) for angle in (0.0, tilt)
    )
    taken = readings(
        level_front=level,
        level_rear=mass - level,
        raised_front=raised,
        tilt=tilt,
        loader_mass="285 kg",
        loader_ahead="1.9 m",
        loader_height="0.8 m",
    )
    found = raised_scale_height(taken)
    assert found.height == pytest.approx(height, abs=1e-9)
    front, rear = taken.bare_axles
    assert front == pytest.approx(990.0 * 0.7036 / 1.62)
    assert front + rear == pytest.approx(990.0)
    assert "loader taken off" in weighed_block(taken)
