"""What differs is told in words, and runs on different ground are not laid over each other."""

import pytest
from film.posed import case_of, posed

from sidehill.files.errors import InputError
from sidehill.film.differs import differences
from sidehill.replay import replay
from sidehill.replay.differs import apart
from sidehill.run.record import Record

STILL = [0.0] * 3


def run(*changes: str, scenario: str = "bank-stone", **outfit: object) -> Record:
    return posed(case_of("bramble", scenario, changes, outfit), STILL)


def test_every_field_that_differs_has_its_unit_in_each_run() -> None:
    records = [
        run(rear_spacer="76 mm", rear_fill=0.75, bucket_height="full"),
        run("ground.slope=14 deg", "feature.1.height=180 mm", front_axle_swing="4 deg"),
    ]
    told = dict(differences(records))
    assert told["rear spacer"] == ["76 mm (3.0 in)", "0 mm (0.0 in)"]
    assert told["bucket height"] == ["full", "carry"]
    assert told["rear fill"] == ["0.75", "0"]
    assert told["front axle swing"] == ["as the machine has it", "4.0 deg"]
    assert told["ground slope"][1] == "14.0 deg (25 %)"
    assert told["feature 1 height"][1] == "180 mm (7.1 in)"
    assert len(told) == 6


def test_of_one_case_nothing_differs() -> None:
    assert differences([run(), run()]) == []


def test_ghosts_need_the_same_ground() -> None:
    low, steep = run("ground.slope=9 deg"), run("ground.slope=14 deg")
    assert "ground slope" in apart([low, steep])
    with pytest.raises(InputError, match="ground slope; side by side they can be shown"):
        replay([low, steep], ["low", "steep"], layout="ghosts")
    text = replay([low, steep], ["low", "steep"])
    assert "not over each other: these runs differ in ground slope" in text


@pytest.mark.parametrize("change", ["drive.speed=5 km/h", "course.length=12 m"])
def test_what_changes_no_ground_leaves_ghosts(change: str) -> None:
    assert apart([run(), run(change)]) == ""


def test_a_table_beside_a_course_is_refused() -> None:
    table = posed(case_of("bramble", "tilt-table"), STILL)
    with pytest.raises(InputError, match="a tilt table and a course"):
        replay([run(), table], ["a", "b"])
