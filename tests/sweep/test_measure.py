"""What is read off a table: the worse of two engines, NaN for whatever is not proved."""

from itertools import product

import numpy as np
import pandas as pd
import pytest

from sidehill.files.errors import InputError
from sidehill.run.facts import PROGRESS, STABILITY
from sidehill.sweep.measure import (
    answers,
    good,
    low_is_bad,
    measure,
    outcomes,
    pairs,
    started,
    told,
)

GOOD = ("planted", "across", True)
ORDER = ["planted", "hopped", "lifted", "on_stop", "overturned"]


def table(*rows: tuple[object, ...]) -> pd.DataFrame:
    """(facts[, facts in the reference engine[, problem]]) a row."""
    found = []
    for facts, *more in rows:
        again = more[0] if more else None
        row = dict(zip(("stability", "progress", "met"), facts, strict=True))  # type: ignore[call-overload]
        row["reference"] = None if again is None else "mujoco"
        names = ("reference_stability", "reference_progress", "reference_met")
        row |= dict(zip(names, again or (None,) * 3, strict=True))
        found.append(row | {"peak_roll_deg": 5.0, "problem": more[1] if len(more) > 1 else None})
    kinds = {"met": "boolean", "reference_met": "boolean"}
    return pd.DataFrame(found).astype(kinds)


def test_an_event_over_all_facts() -> None:
    """Came: reached or worse. Not: everything met, an end, and short of it. Else not proved."""
    every = list(product(ORDER, PROGRESS, (True, False)))
    assert set(ORDER) == set(STABILITY)
    got = {
        event: dict(zip(every, answers(table(*((facts,) for facts in every)), event), strict=True))
        for event in ("hopped", "lifted", "on_stop", "overturned", "not_across")
    }
    for stability, progress, met in every:
        for event in ORDER[1:]:
            came = ORDER.index(stability) >= ORDER.index(event)
            proved = met and progress in ("across", "halted", "leaning")
            wanted = True if came else False if proved else None
            assert got[event][stability, progress, met] is wanted
        is_there = progress in ("across", "halted")
        wanted = True if not is_there else False if met else None
        assert got["not_across"][stability, progress, met] is wanted


def test_not_started_is_an_outcome_of_its_own() -> None:
    rows = table((GOOD,), (("planted", "not_started", False),), (("planted", "stuck", False),))
    assert answers(rows, "not_started") == [False, True, False]
    assert outcomes(rows, "lifted") == [False, "not_started", None]
    assert outcomes(rows, "not_across") == [False, True, True]
    assert started(rows).tolist() == [True, False, True]
    over = table((("overturned", "not_started", False),))
    assert outcomes(over, "overturned") == [True]
    assert answers(table((GOOD, ("planted", "not_started", False))), "not_started") == [True]


def test_the_worse_of_two_engines_counts() -> None:
    two = table((GOOD, ("lifted", "across", True)), (GOOD, (None, None, None)), (GOOD, GOOD))
    assert answers(two, "lifted") == [True, None, False]
    assert good(two) == 1


def test_a_row_with_a_problem_is_not_known_whatever_it_says() -> None:
    bad = table((GOOD, None, "its process died"), ((None, None, None), None, "numbers went bad"))
    assert told(bad) == [(), ()]
    assert answers(bad, "overturned") == [None, None]
    assert np.isnan(measure(bad, "not_across")).all()
    assert np.isnan(measure(bad, "peak_roll_deg")).all()
    assert list(pairs(bad)) == ["not computed"] * 2
    assert good(bad) == 0


def test_a_good_result_is_planted_or_hopped_with_everything_met_and_there() -> None:
    for stability, progress, met in product(ORDER, PROGRESS, (True, False)):
        is_good = stability in ORDER[:2] and progress in ("across", "halted") and met
        assert good(table(((stability, progress, met),))) == is_good


def test_an_event_as_a_number() -> None:
    rows = table((GOOD,), (("overturned", "over", False),), (("planted", "stuck", False),))
    assert measure(rows, "overturned")[:2].tolist() == [0.0, 1.0]
    assert np.isnan(measure(rows, "overturned")[2])
    assert measure(rows, "not_across").tolist() == [0.0, 1.0, 1.0]


@pytest.mark.parametrize(("of", "said"), [("peak_rol", "peak_roll_deg"), ("stabilit", "stability")])
def test_the_nearest_result_is_offered(of: str, said: str) -> None:
    with pytest.raises(InputError, match=f'did you mean "{said}"'):
        measure(table((GOOD,)), of)


def test_which_end_is_bad() -> None:
    low = ("margin", "lifted_good_up_to_deg", "compliant_lift_off_slope_deg", "least_load_ratio")
    assert all(map(low_is_bad, (*low, "least_balance_angle_deg", "hopped_good_up_to_m_s")))
    high = ("peak_roll_deg", "peak_load_rear_left_n", "off_path_m", "most_daylight_m")
    assert not any(map(low_is_bad, (*high, "longest_spell_s")))
