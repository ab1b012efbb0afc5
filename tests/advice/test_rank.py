"""The ranking of a study: order, gains, Pareto set, and what it says first."""

from dataclasses import replace
from math import isnan, nan

import numpy as np
import pytest
from advice.strips import look
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays

from sidehill.advice.changes import bought, changes
from sidehill.advice.look import Look
from sidehill.advice.rank import pareto, rank
from sidehill.advice.ranked import BUYS, COSTS
from sidehill.files.errors import InputError
from sidehill.machine.build import fit
from sidehill.machine.file import load_machine
from sidehill.machine.outfit import Outfit
from sidehill.statics.report import tip
from sidehill.study.study import Option, load_study

DEMO = load_study("demo")
HIGH = {"bucket_load": "250 kg", "bucket_height": "full"}


def study(**options):
    """The demo's machine and scenario with options of one's own: name -> outfit values."""
    named = tuple(
        Option(name.replace("_", " "), Outfit(**(HIGH | values)))
        for name, values in options.items()
    )
    return replace(DEMO, options=named)


def brute_force(figures):
    """Every pair by hand."""
    known = [not any(isnan(value) for value in row) for row in figures]

    def beats(a, b):
        pairs = list(zip(figures[a], figures[b], strict=True))
        return all(x >= y for x, y in pairs) and any(x > y for x, y in pairs)

    rows = range(len(figures))
    return [known[i] and not any(known[j] and beats(j, i) for j in rows if j != i) for i in rows]


@given(
    arrays(
        np.float64,
        st.tuples(st.integers(1, 9), st.integers(1, 4)),
        elements=st.sampled_from([0.0, 1.0, 2.0, 3.0, -np.inf, np.nan]),
    )
)
def test_pareto_set_against_every_pair(figures):
    assert pareto(figures).tolist() == brute_force(figures.tolist())


def test_pareto_by_hand():
    figures = np.array([[3.0, 1.0], [1.0, 3.0], [1.0, 1.0], [nan, 9.0], [3.0, 1.0]])
    assert pareto(figures).tolist() == [True, True, False, False, True]


def test_demo_is_ranked_by_lift_off():
    ranking = rank(DEMO)
    lifts = [option.buys["lift_off_slope_deg"] for option in ranking.options]
    assert lifts == sorted(lifts, reverse=True)
    assert [option.place for option in ranking.options] == list(range(1, 17))


def test_figures_are_those_of_the_statics():
    ranking = rank(DEMO)
    ground = DEMO.scenario.ground
    for ranked in ranking.options:
        report = tip(fit(DEMO.machine, DEMO.option(ranked.option).outfit), ground.slope)
        assert ranked.buys["lift_off_slope_deg"] == report.lift_off_slope_deg
        assert ranked.buys["overturn_slope_deg"] == report.overturn_slope_deg
        assert ranked.buys["energy_to_tip_j"] == report.energy_to_tip_j
        assert ranked.costs["mass_kg"] == pytest.approx(report.mass_kg)


def test_gains_and_costs_are_beside_as_delivered():
    ranking = rank(DEMO)
    by_name = {option.option: option for option in ranking.options}
    first = by_name["bucket high, as delivered"]
    assert set(first.gains.values()) >= {0.0}
    assert first.costs["bearing_ratio"] == pytest.approx(1.0)
    wide = by_name["bucket high, rear spacers 76 mm"]
    assert wide.gains["lift_off_slope_deg"] > 0.0
    assert wide.costs["bearing_ratio"] > 1.5
    assert wide.costs["tyre_width_m"] - first.costs["tyre_width_m"] == pytest.approx(0.152)


def test_pareto_set_of_the_demo_against_every_pair():
    options = rank(DEMO).options
    known = [name for name in BUYS if not isnan(options[0].buys[name])]
    figures = [
        [np.round(option.buys[name] / BUYS[name]) for name in known]
        + [np.round(-option.costs[name] / COSTS[name]) for name in COSTS]
        for option in options
    ]
    assert [option.is_pareto for option in options] == brute_force(figures)
    kept = {option.option for option in options if option.is_pareto}
    assert "bucket low, as delivered" in kept
    assert "bucket high, as delivered" not in kept


def test_combined_changes_are_named_together():
    ranking = rank(study(as_delivered={}, both={"rear_spacer": "100 mm", "bucket_height": "carry"}))
    assert ranking.options[0].changed == {"spacers", "lower bucket"}


def test_an_option_that_does_not_rest_on_the_slope_has_no_energy_left():
    steep = replace(DEMO, scenario=DEMO.scenario.with_values({"ground.slope": "14 deg"}))
    by_name = {option.option: option for option in rank(steep).options}
    lost = by_name["bucket high, as delivered"]
    assert lost.buys["energy_to_tip_j"] == 0.0
    assert by_name["bucket low, as delivered"].buys["energy_to_tip_j"] > 0.0
    assert not lost.is_pareto


def test_driven_strips_decide_when_asked_and_what_failed_comes_last():
    plan = study(
        as_delivered={},
        wide={"rear_spacer": "76 mm"},
        box={"rear_ballast": "250 kg"},
        low={"bucket_height": "carry"},
        lost={"rear_fill": 0.5},
    )
    strips = {"as delivered": "hhhlll", "wide": "hhhhll", "box": "llllll", "low": "pphlll"}
    looks = {name: look(name, letters, asked=3.0) for name, letters in strips.items()}
    looks["lost"] = Look("lost", looks["low"].case, None, None, "its process failed")
    ranking = rank(plan, looks, by="good_up_to_deg")
    order = [(option.option, option.place) for option in ranking.options]
    # equal ones by how far all wheels stay down
    names = ["wide", "low", "as delivered", "box", "lost"]
    assert order == list(zip(names, (1, 2, 3, 4, None), strict=True))
    box, lost = ranking.options[3:]
    assert box.buys["good_up_to_deg"] == 0.0  # bad from the lowest slope tried
    assert isnan(lost.buys["good_up_to_deg"]) and not lost.is_pareto
    assert lost.problem == "its process failed"


def test_peaks_reach_the_price():
    peaks = {option.name: {"rear_right": 9000.0} for option in DEMO.options}
    for option in rank(DEMO, peaks=peaks).options:
        assert option.price.heaviest_bearing("rear", "peak").value > 0.0


def test_short_peaks_do_not_count_as_use_of_a_rating():
    calm = rank(DEMO).options
    rough = rank(DEMO, peaks={option.name: {"rear_right": 9e5} for option in DEMO.options}).options
    assert [option.costs for option in calm] == [option.costs for option in rough]


def test_an_option_that_tips_backward_is_past_any_limit_and_unplaced():
    ranking = rank(study(as_delivered={}, far_too_much={"rear_ballast": "3000 kg"}))
    last = ranking.options[-1]
    assert (last.option, last.place, last.is_pareto) == ("far too much", None, False)
    assert last.costs["rating_use"] == np.inf


def test_an_unknown_figure_is_refused():
    with pytest.raises(InputError, match=r"rank by 'luck' is not known; use .* lift_off_slope_deg"):
        rank(DEMO, by="luck")


@pytest.mark.parametrize(
    ("values", "things"),
    [
        ({}, set()),
        ({"rear_spacer": "50 mm"}, {"rear spacers"}),
        ({"rear_spacer": "50 mm", "rear_ballast": "90 kg"}, {"rear spacers", "rear box"}),
        ({"rear_fill": 0.75, "liquid": "beet juice"}, {"filled rear tyres"}),
        ({"bucket_height": "carry", "bucket_load": "0 kg"}, set()),
        ({"operator_lean": "0.1 m"}, set()),
    ],
)
def test_what_is_bought_is_named_thing_by_thing(values, things):
    assert bought(Outfit(**(HIGH | values)), Outfit(**HIGH)) == things


@pytest.mark.parametrize(
    ("values", "kinds"),
    [
        ({}, set()),
        ({"rear_spacer": "50 mm"}, {"spacers"}),
        ({"front_track": "1.2 m"}, {"spacers"}),
        ({"rear_fill": 0.75}, {"ballast"}),
        ({"rear_ballast": "100 kg"}, {"ballast"}),
        ({"bucket_height": "carry"}, {"lower bucket"}),
        ({"bucket_height": "2.2 m"}, {"higher bucket"}),
        ({"bucket_height": "2.1 m"}, set()),  # the same height in other words
        ({"bucket_load": "100 kg"}, {"lighter load"}),
        ({"bucket_load": "300 kg"}, {"heavier load"}),
        ({"front_axle_swing": "4 deg"}, {"tighter axle stop"}),
        ({"operator_lean": "0.1 m"}, {"other"}),
        ({"rear_spacer": "50 mm", "rear_fill": 0.5}, {"spacers", "ballast"}),
    ],
)
def test_changes_are_named_in_the_trades_words(values, kinds):
    machine = load_machine("bramble")
    assert changes(machine, Outfit(**(HIGH | values)), Outfit(**HIGH)) == kinds


def test_the_lower_end_of_lift_off_decides_when_asked():
    names = [option.name for option in DEMO.options]
    least = {name: float(place) for place, name in enumerate(names)}
    ranking = rank(DEMO, by="least_lift_off_slope_deg", least=least)
    assert [option.option for option in ranking.options] == names[::-1]
    unknown = rank(DEMO, by="least_lift_off_slope_deg", least={names[0]: 8.0})
    assert [option.place for option in unknown.options] == [1] + [None] * 15
