"""`sidehill limit`: the strip and its limits, in words, as JSON and as a picture."""

from math import degrees
from pathlib import Path
from types import SimpleNamespace
from typing import Any, cast

import pytest
from cli.runner import answer, run
from posed_strip import GOOD, LIFTED, posed_strip

from sidehill.caution import CAUTION
from sidehill.cli.job import Job
from sidehill.cli.limit_report import lower_words
from sidehill.cli.limit_run import Found
from sidehill.run.facts import EVENTS, NOT_ACROSS
from sidehill.scenario.drive import Run

CREEP = (
    'limit bramble bank-stone --bucket-load "250 kg" --set drive.speed="2 km/h" '
    '--scan "3 deg" --tolerance "1 deg" --engine compiled'
)
ORDER = ["planted", "hopped", "lifted", "on_stop", "overturned"]


@pytest.fixture(scope="module")
def found() -> dict[str, Any]:
    return answer(CREEP)


def test_its_json_is_a_strip_with_the_limits_read_off_it(found: dict[str, Any]) -> None:
    """Each limit again, from the values and facts beside it."""
    rows = list(
        zip(found["values"], found["stability"], found["progress"], found["met"], strict=True)
    )
    assert found["values"] == sorted(found["values"]) and len(rows) > 12
    assert (found["of"], found["unit"], found["engine"]) == ("slope", "deg", "compiled")
    assert list(found["events"]) == [*EVENTS, NOT_ACROSS]
    assert found["resolution"]["scan"] == pytest.approx(3.0)
    assert found["resolution"]["narrowed_to"] == pytest.approx(1.0)
    for event, limit in found["events"].items():
        good, bad, unknown = None, None, None
        for value, stability, progress, met in rows:
            worse = stability is not None and (
                progress not in ("across", "halted")
                if event == "not_across"
                else ORDER.index(stability) >= ORDER.index(event)
            )
            proves = met and progress in ("across", "halted", "leaning")
            if proves and not worse and unknown is None and bad is None:
                good = value
            elif worse:
                bad = value if bad is None else bad
            elif not proves and bad is None and unknown is None:
                unknown = value
        assert (limit["good_up_to"], limit["first_bad"]) == (good, bad)
        assert limit["unknown_from"] == unknown
    assert found["events"]["lifted"]["good_up_to"] > 0.0  # and not all of it is empty


def test_standing_lift_off_is_that_of_tip(found: dict[str, Any]) -> None:
    standing = answer('tip bramble --bucket-load "250 kg" --tyres compliant')
    # another friction and ground, the same rest: within what its own steps leave
    assert found["standing_lift_off_slope_deg"] == pytest.approx(
        standing["lift_off_slope_deg"], abs=0.05
    )


def test_in_words(tmp_path: Path) -> None:
    file = tmp_path / "new" / "strip.png"
    result = run(f"{CREEP} --out {file}")
    assert result.exit_code == 0, result.output
    said = " ".join(result.stdout.split())
    for words in ("a wheel lifts not up to", "planted, across", "what comes and goes within"):
        assert words in said
    assert CAUTION.split(".")[0] in said and f"wrote {file}" in said
    for word in ("safe", "can take"):
        assert word not in said
    lines = [text for text in result.stdout.splitlines() if text.startswith("|")]
    assert len(lines) == 2  # one under each law of a tyre
    for line in lines:
        assert line.startswith("|.") and line.endswith("X|") and "/o" in line
    assert "the lower under the two tyre laws" in said
    assert file.read_bytes().startswith(b"\x89PNG")


def test_a_strip_over_speed_and_over_a_named_bump() -> None:
    speed = answer(
        'limit sorrel bank-stone --of speed --low "2 km/h" --high "4 km/h" --scan "2 km/h" '
        '--tolerance "2 km/h" --engine compiled'
    )
    assert speed["unit"] == "m/s" and speed["feature"] is None
    assert [3.6 * value for value in speed["values"]] == pytest.approx([2.0, 4.0])
    assert speed["standing_lift_off_slope_deg"] is None
    bump = answer(
        'limit sorrel bank-stone-and-rut --of bump --feature 2 --low "20 mm" --high "40 mm" '
        '--scan "20 mm" --tolerance "20 mm" --engine compiled'
    )
    assert (bump["unit"], bump["feature"]) == ("m", 2)
    assert bump["values"] == pytest.approx([0.02, 0.04])


def test_the_reference_engine_is_named_with_what_it_says() -> None:
    line = 'limit sorrel bank-plain --low "20 deg" --high "40 deg" --scan "20 deg"'
    found = answer(f'{line} --tolerance "5 deg"')
    assert (found["engine"], found["reference"]) == ("compiled", "mujoco")
    assert found["reference_differs_at"] == []
    assert degrees(1.0) > found["values"][-1] == 40.0


def test_both_laws_of_a_tyre_are_run_over_a_stone_and_the_lower_limit_is_quoted(
    found: dict[str, Any],
) -> None:
    other = found["other_tyre"]
    assert (found["tyre"], other["tyre"]) == ("point", "enveloping")
    assert other["events"] != found["events"]
    for event, lower in found["lower"].items():
        reach = [law["events"][event]["good_up_to"] for law in (found, other)]
        assert lower["good_up_to"] == (None if None in reach else min(reach))
        assert (
            lower["good_up_to"]
            == (found if lower["tyre"] == "point" else other)["events"][event]["good_up_to"]
        )


def test_one_law_alone_says_so_and_even_ground_needs_no_other() -> None:
    short = '--low "2 deg" --high "6 deg" --scan "4 deg" --tolerance "4 deg" --engine compiled'
    alone = run(f"limit sorrel bank-stone {short} --tyre enveloping").stdout
    assert "under tyre law enveloping alone" in alone
    plain = run(f"limit sorrel bank-plain {short}").stdout
    assert "tyre law" not in plain
    assert answer(f"limit sorrel bank-plain {short}")["other_tyre"] is None


def test_where_the_default_law_is_the_milder_the_other_is_quoted() -> None:
    """Posed: only the words and the choice are judged here."""
    job = SimpleNamespace(case=SimpleNamespace(scenario=SimpleNamespace(run=Run())))
    high = posed_strip((7.4, GOOD), (7.5, LIFTED))
    low, none = posed_strip((6.7, GOOD), (6.8, LIFTED)), posed_strip((2.0, LIFTED), (7.0, GOOD))
    for other in (low, none):
        found = Found(cast(Job, job), high, other, None, None)
        assert found.lower("lifted") == ("enveloping", other)
        assert lower_words(found, "lifted").endswith("(tyre law enveloping)")
        turned = Found(cast(Job, job), other, high, None, None)
        assert turned.lower("lifted") == ("point", other)


def test_a_loader_that_moves_stands_where_a_wheel_lifts_first() -> None:
    """The bank asks for it at both heights; on the plain one it stands at one of them."""
    line = '--low "4 deg" --high "28 deg" --scan "12 deg" --tolerance "6 deg" --engine compiled'

    def standing(scenario: str, height: str) -> float:
        found = answer(f"limit bramble {scenario} --bucket-height {height} {line}")
        return float(found["standing_lift_off_slope_deg"])

    low, high = (standing("bank-plain", height) for height in ("carry", "full"))
    assert standing("raise-on-bank", "carry") == pytest.approx(min(low, high), abs=1e-6)
    assert min(low, high) < max(low, high) - 3.0
    told = run(f"limit bramble raise-on-bank {line}").stdout
    assert "the loader where on its way it lifts first, a wheel lifts at" in " ".join(told.split())
