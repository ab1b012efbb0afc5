"""How much is enough, standing: plugged back, the wanted slope is there; none is said."""

from math import degrees, radians

import pytest

from sidehill.advice.enough import enough_ballast, enough_spacer
from sidehill.sheet.enough import LEAST, measures
from sidehill.study.study import Study

GOAL = 0.01  # [deg] the wanted slope is reached within, in closed form


def named(study: Study, name: str):
    return next(measure for measure in measures(study) if measure.name == name)


@pytest.mark.parametrize(
    ("search", "field", "less"),
    [(enough_spacer, "rear_spacer", 1e-3), (enough_ballast, "rear_ballast", 1.0)],
)
def test_the_lower_bound_is_reached(study: Study, search, field: str, less: float) -> None:
    measure, outfit = named(study, LEAST), study.options[0].outfit
    found = search(study.machine, outfit, radians(10.0), measure=measure)
    assert found.setting is not None

    def back(setting: float) -> float:
        return degrees(measure.slope_of(outfit.with_values({field: setting})))

    assert 10.0 <= back(found.setting) <= 10.0 + GOAL
    assert back(found.setting - less) < 10.0


def test_that_none_reaches_it_is_said(study: Study) -> None:
    found = enough_spacer(
        study.machine, study.options[0].outfit, radians(30.0), measure=named(study, LEAST)
    )
    assert found.setting is None
    assert found.cell().startswith("none up to 150 mm (5.9 in) a side: ")
    assert found.cell(us=True).startswith("none up to 5.9 in (150 mm) a side: ")
