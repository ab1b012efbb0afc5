"""What people have: distributions, weights, correlated draws, a table of their own, replicates."""

from pathlib import Path

import numpy as np
import pandas as pd
import pytest
from scipy import stats

from sidehill.files.errors import InputError
from sidehill.machine.file import load_machine
from sidehill.machine.outfit import Outfit
from sidehill.study.draw import design
from sidehill.study.make import make_study
from sidehill.study.sample import Sample
from sidehill.study.study import Study
from sidehill.sweep.agenda import Agenda
from sidehill.sweep.task import ask

MASS, GRIP, STIFF = "outfit.bucket_load", "ground.friction", "machine.rear_tyre.stiffness"


def study(vary: dict[str, object], **sample: object) -> Study:
    return make_study("bramble", "bank-stone", vary=vary, sample=sample or None)


def drawn(how: object, n: int = 4096) -> np.ndarray:
    [axis] = study({MASS: how}, method="sobol", n=n).axes
    return np.asarray(design([axis], Sample(method="sobol", n=n, seed=3)).values(0, n)[0])


FORMS = {
    "normal": ({"mean": "200 kg", "spread": "20 kg"}, stats.norm(200, 20)),
    "lognormal": ({"median": "200 kg", "factor": 1.2}, stats.lognorm(np.log(1.2), scale=200)),
    "uniform": ({"low": "100 kg", "high": "300 kg"}, stats.uniform(100, 200)),
    "triangular": (
        {"low": "100 kg", "mode": "150 kg", "high": "300 kg"},
        stats.triang(0.25, 100, 200),
    ),
    "truncated": (
        {"mean": "200 kg", "spread": "20 %", "low": "180 kg", "high": "300 kg"},
        stats.truncnorm(-0.5, 2.5, 200, 40),
    ),
}


@pytest.mark.parametrize("name", FORMS)
def test_draws_follow_their_distribution(name: str) -> None:
    """Against scipy's own; Kolmogorov's distance of evenly spread draws is under 1 / n or so."""
    how, known = FORMS[name]
    values = drawn(how)
    assert stats.kstest(values, known.cdf).statistic < 2e-3


def test_weights_are_shares() -> None:
    values = drawn({"values": ["0 kg", "200 kg", "300 kg"], "weights": [1, 2, 5]}, n=1024)
    counts = {value: int(np.sum(values == value)) for value in (0.0, 200.0, 300.0)}
    assert counts == pytest.approx({0.0: 128, 200.0: 256, 300.0: 640}, abs=1)


@pytest.mark.parametrize(
    ("how", "said"),
    [
        ({"median": "200 kg", "factor": 0.9}, "factor: allowed: a number over 1"),
        ({"low": "100 kg", "mode": "400 kg", "high": "300 kg"}, "mode: allowed"),
        ({"mean": "200 kg", "spread": "2 kg", "low": "900 kg"}, "under 1 % of the distribution"),
        ({"mean": "200 kg", "spread": "20 kg", "low": "9 kg", "high": "8 kg"}, "below high"),
        ({"values": ["0 kg"], "weights": [1, 2]}, "two lists of the same length"),
        ({"values": ["0 kg", "1 kg"], "weights": [0, 2]}, "numbers above 0"),
        ({"low": "1 kg"}, "low = ..., mode = ..., high = ..."),
        ({"mean": "200 kg", "spread": "20 kg", "low": "-1 kg"}, "not plausible"),
    ],
)
def test_refused(how: object, said: str) -> None:
    with pytest.raises(InputError) as refusal:
        study({MASS: how}, method="sobol", n=4)
    assert said in str(refusal.value)


@pytest.mark.parametrize("method", ["latin", "sobol", "grid"])
@pytest.mark.parametrize("rank", [-0.7, 0.3, 0.9])
def test_correlated_draws_have_the_rank_correlation_and_stay_even(method: str, rank: float) -> None:
    vary = {MASS: {"low": "0 kg", "high": "1 kg"}, GRIP: {"low": 0.4, "high": 0.8}}
    vary |= {STIFF: {"mean": "220 kN/m", "spread": "10 %"}}
    wanted = {"method": method, "n": 1024, "seed": 2, "correlation": [[MASS, GRIP, rank]]}
    made = study(vary, **wanted)
    assert made.sample is not None
    one, other, alone = design(made.axes, made.sample).values(0, 1024)
    assert stats.spearmanr(one, other).statistic == pytest.approx(rank, abs=0.02)
    assert abs(stats.spearmanr(one, alone).statistic) < 0.06
    if method != "sobol":  # one draw in each of n strips: still a Latin hypercube
        assert sorted((1024 * one).astype(int)) == list(range(1024))
    assert stats.kstest(other, stats.uniform(0.4, 0.4).cdf).statistic < 0.02


def test_correlated_sobol_draws_grow() -> None:
    vary = {MASS: {"low": "0 kg", "high": "1 kg"}, GRIP: {"low": 0.4, "high": 0.8}}
    few, many = (
        design(study(vary, method="sobol", n=4).axes, Sample(method="sobol", n=n, seed=1,
               correlation=((MASS, GRIP, 0.5),)))
        for n in (8, 16)
    )  # fmt: skip
    assert few.draw(7) == many.draw(7)


@pytest.mark.parametrize(
    ("pairs", "said"),
    [
        ([[MASS, "ground.slope", 0.5]], '"ground.slope" is not drawn'),
        ([[MASS, MASS, 0.5]], "two fields"),
        ([[MASS, GRIP, 1.0]], "between -1 and 1"),
        ([[MASS, GRIP, 0.9], [GRIP, STIFF, 0.9], [MASS, STIFF, -0.9]], "no draws can have all"),
    ],
)
def test_correlations_that_cannot_be_are_refused(pairs: object, said: str) -> None:
    vary = {MASS: {"low": "0 kg", "high": "1 kg"}, GRIP: {"low": 0.4, "high": 0.8}}
    vary |= {STIFF: {"mean": "220 kN/m", "spread": "10 %"}}
    with pytest.raises(InputError) as refusal:
        study(vary, method="latin", n=64, correlation=pairs)
    assert said in str(refusal.value)


def test_replicates_are_independent_and_named() -> None:
    made = study({GRIP: {"low": 0.4, "high": 0.8}}, method="sobol", n=8, seed=5, replicates=3)
    agenda = Agenda(made, ask("compiled"))
    assert agenda.count == 24
    assert [agenda.place(k).replicate for k in (0, 7, 8, 23)] == [0, 0, 1, 2]
    second = Agenda(
        study({GRIP: {"low": 0.4, "high": 0.8}}, method="sobol", n=8, seed=6), agenda.asked
    )
    assert agenda.place(9).values == second.place(1).values


def test_a_table_of_ones_own(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    frame = pd.DataFrame(
        {
            f"{MASS} [lb]": [220.0, 440.0],
            GRIP: [0.5, 0.6],
            "outfit.bucket_height": ["carry", "full"],
        }
    )
    frame.to_csv("own.csv", index=False)
    frame.to_parquet("own.parquet")
    for name in ("own.csv", "own.parquet"):
        made = study({"ground.slope": ["4 deg", "8 deg"]}, method="table", table=name)
        assert made.sample is not None
        draws = design(made.axes, made.sample)
        assert draws.n == 4
        assert draws.draw(3) == {
            "ground.slope_deg": 8.0,
            f"{MASS}_kg": pytest.approx(440 * 0.45359237),
            GRIP: 0.6,
            "outfit.bucket_height": "full",
        }
    for bad, said in (
        (f"{MASS} [m]\n1\n", "does not measure a mass"),
        (f"{MASS}\n1\n", "without a unit"),
        ("outfit.bucket_lod [kg]\n1\n", 'column "outfit.bucket_lod [kg]"'),
        (f"{MASS} [kg]\n1\nx\n", 'row 3: "x": not a number'),
        (f"{MASS} [kg]\n", "no draws in it"),
        (f"{MASS} [kg],{MASS} [lb]\n1,1\n", "two columns of one field"),
    ):
        Path("bad.csv").write_text(bad)
        with pytest.raises(InputError) as refusal:
            study({}, method="table", table="bad.csv")
        assert "bad.csv" in str(refusal.value) and said in str(refusal.value)


def test_machines_settings_law_and_drive_are_factors() -> None:
    vary: dict[str, object] = {
        "settings.discs": [5, 9], "run.tyre": ["point", "enveloping"],
        "drive.four_wheel": [True, False], "ground.slope": [0.1],
        "outfit.bucket_height": ["carry", "1.2 m"],
    }  # fmt: skip
    made = make_study(["bramble", "hawthorn"], "bank-stone", {"a": Outfit()}, vary=vary)
    agenda = Agenda(made, ask("compiled"))
    assert agenda.count == 32
    first, last = (made.case_at(made.options[0], agenda.place(k).values) for k in (0, 31))
    assert (first.machine.name, last.machine.name) == ("Bramble", "Hawthorn")
    assert (first.settings.discs, last.settings.discs) == (5, 9)
    assert (first.scenario.run.tyre, last.scenario.run.tyre) == ("point", "enveloping")
    assert (first.scenario.drive.four_wheel, last.scenario.drive.four_wheel) == (True, False)
    assert first.scenario.ground.slope == pytest.approx(0.1, abs=1e-15)
    [height] = [field for field in made.fields if field.measured_column]
    assert height.measured_column == "outfit.bucket_height_m"
    assert first.machine.loader is not None
    assert height.measured(first) == first.machine.loader.carry_height
    assert height.measured(last) == 1.2
    assert made.machine_words == "Bramble, Hawthorn"


def test_machines_that_were_changed_are_told_apart_by_their_names() -> None:
    tall = load_machine("bramble", name="Tall", weighed={"cg_height": 0.66})
    made = make_study([load_machine("bramble"), tall], "bank-stone")
    agenda = Agenda(made, ask("compiled"))
    cases = [made.case_at(made.options[0], agenda.place(k).values) for k in range(agenda.count)]
    assert [case.machine.weighed.cg_height for case in cases] == pytest.approx([0.60, 0.66])
    with pytest.raises(InputError, match='two machines called "Bramble"'):
        make_study([load_machine("bramble")] * 2, "bank-stone")


def test_a_study_that_would_run_nothing_is_none() -> None:
    with pytest.raises(InputError, match="0 options"):
        make_study("bramble", "bank-stone", {})
    with pytest.raises(InputError, match="no machine"):
        make_study([], "bank-stone")
    with pytest.raises(InputError, match="nothing to draw"):
        make_study("bramble", "bank-stone", sample={"n": 4})
    with pytest.raises(InputError, match="allowed: a list of values"):
        make_study("bramble", "bank-stone", vary={"ground.slope": []})
    with pytest.raises(InputError, match="through the body"):
        make_study("bramble", "bank-stone", {"a": Outfit(rear_spacer=-0.3)})
    known = make_study("bramble", "bank-stone")
    with pytest.raises(InputError, match="use make_study"):
        Study(
            "x", known.machine, known.scenario, known.options,
            make_study("bramble", "bank-stone", vary={"ground.slope": [0.1]}).vary, None, None, "x",
        )  # fmt: skip
