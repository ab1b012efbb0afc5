"""What is read off a table: the worse of two engines, NaN for whatever is not known."""

import numpy as np
import pandas as pd
import pytest

from sidehill.files.errors import InputError
from sidehill.sweep.measure import low_is_bad, measure, verdicts

TABLE = pd.DataFrame(
    {
        "verdict": ["crossed", "overturned", "failed", "not_settled", None, "crossed", "stalled"],
        "reference_verdict": ["wheel_lifted", "stalled", None, None, None, None, "failed"],
        "peak_roll_deg": [1.0, 60.0, np.nan, np.nan, np.nan, 2.0, 3.0],
        "least_load_ratio": [0.5, 0.0, np.nan, np.nan, np.nan, 0.4, 0.3],
        "problem": [None, None, None, None, "died", "broken", None],
    }
)


def test_the_worse_of_two_engines_counts() -> None:
    assert list(verdicts(TABLE).fillna("?")) == [
        "wheel_lifted", "overturned", "?", "?", "?", "?", "?"
    ]  # fmt: skip


def test_an_event_is_one_zero_or_not_known() -> None:
    assert measure(TABLE, "overturned")[:2].tolist() == [0.0, 1.0]
    assert np.isnan(measure(TABLE, "overturned")[2:]).all()
    assert measure(TABLE, "not_crossed")[0] == 1.0  # one of the engines says that a wheel lifted


def test_a_row_with_a_problem_has_no_number() -> None:
    assert np.isnan(measure(TABLE, "peak_roll_deg")[5])
    assert measure(TABLE, "margin")[0] == 0.5


@pytest.mark.parametrize(("of", "said"), [("peak_rol", "peak_roll_deg"), ("verdic", "verdict")])
def test_the_nearest_result_is_offered(of: str, said: str) -> None:
    with pytest.raises(InputError, match=f'did you mean "{said}"'):
        measure(TABLE, of)


def test_which_end_is_bad() -> None:
    low = ("margin", "lift_highest_good_deg", "compliant_lift_off_slope_deg", "least_load_ratio")
    assert all(map(low_is_bad, low))
    assert not any(map(low_is_bad, ("peak_roll_deg", "peak_load_rear_left_n", "off_path_m")))
