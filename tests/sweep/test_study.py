"""Study files: what they take, what they refuse, how names and options resolve."""

from pathlib import Path

import pytest

from sidehill.files.errors import InputError
from sidehill.files.library import find, shipped
from sidehill.machine.outfit import Outfit
from sidehill.study.study import COMMON, load_study
from sidehill.sweep.agenda import Agenda
from sidehill.sweep.task import ask

HEAD = 'title = "x"\nmachine = "bramble"\nscenario = "bank-stone"\n'


def study(folder: Path, text: str) -> Path:
    """A study file with that text after its head."""
    path = folder / "own.toml"
    path.write_text(HEAD + text, encoding="utf-8")
    return path


@pytest.mark.parametrize("name", shipped("study"))
def test_shipped_studies_load(name: str) -> None:
    loaded = load_study(name)
    assert loaded.options
    assert loaded.machine.name
    assert loaded.file == name


def test_options_are_common_outfit_and_their_own(tmp_path: Path) -> None:
    loaded = load_study(
        study(
            tmp_path,
            '[outfit]\nbucket_load = "250 kg"\nbucket_height = "full"\n'
            '[[option]]\nname = "a"\n'
            '[[option]]\nname = "b"\nrear_spacer = "3 in"\nbucket_height = "carry"\n',
        )
    )
    common = {"bucket_load": "250 kg"}
    assert [option.name for option in loaded.options] == ["a", "b"]
    assert loaded.option("a").outfit == Outfit(**common, bucket_height="full")
    assert loaded.option("b").outfit == Outfit(**common, rear_spacer="3 in", bucket_height="carry")
    assert loaded.case(loaded.option("b")).outfit.rear_spacer == pytest.approx(0.0762)
    with pytest.raises(InputError, match='no option "c"; it has: a, b'):
        loaded.option("c")


def test_a_study_without_options_has_its_common_outfit(tmp_path: Path) -> None:
    loaded = load_study(study(tmp_path, '[outfit]\nrear_spacer = "38 mm"\n'))
    assert [option.name for option in loaded.options] == [COMMON]
    assert loaded.options[0].outfit == Outfit(rear_spacer="38 mm")


def test_names_resolve_beside_the_study(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    text = find("machine", "sorrel").read_text(encoding="utf-8").replace("Sorrel", "Mine")
    (tmp_path / "machines").mkdir()
    (tmp_path / "machines" / "mine.toml").write_text(text, encoding="utf-8")
    path = tmp_path / "own.toml"
    path.write_text(HEAD.replace("bramble", "machines/mine.toml"), encoding="utf-8")
    monkeypatch.chdir(Path(tmp_path.anchor))
    assert load_study(path).machine.name == "Mine"
    assert load_study(path).scenario.title == "Bank with a stone"


def test_plan_tables_are_read(tmp_path: Path) -> None:
    loaded = load_study(
        study(
            tmp_path,
            '[vary]\n"ground.slope" = { from = "4 deg", to = "16 deg", steps = 13 }\n'
            '"machine.weighed.cg_height" = { mean = "0.60 m", spread = "5 %" }\n'
            '"drive.speed" = ["3 km/h", "5 km/h"]\n'
            '"ground.friction" = { low = 0.4, high = 0.8 }\n'
            '"outfit.rear_spacer" = ["0 mm", "76 mm"]\n'
            '[sample]\nmethod = "sobol"\nn = 128\nseed = 7\n'
            '[find]\nof = "bump"\nlow = "20 mm"\nuntil = ["lifted", "overturned"]\n',
        )
    )
    forms = {field: vary.form for field, vary in loaded.vary.items()}
    assert forms == {
        "ground.slope": "range",
        "machine.weighed.cg_height": "normal",
        "drive.speed": "list",
        "ground.friction": "uniform",
        "outfit.rear_spacer": "list",
    }
    assert loaded.vary["ground.slope"].values == ("4 deg", "16 deg", 13)
    assert loaded.sample is not None
    assert (loaded.sample.method, loaded.sample.n, loaded.sample.seed) == ("sobol", 128, 7)
    assert loaded.find is not None
    assert loaded.find.si("low") == pytest.approx(0.02)
    assert loaded.find.si("high") is None
    assert loaded.find.until == ("lifted", "overturned")
    assert loaded.find.bounds == {
        "low": pytest.approx(0.02), "high": None, "scan": None, "tolerance": None
    }  # fmt: skip


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ('[[option]]\nname = "a"\nrear_spacr = "3 in"\n', ("line 6", 'mean "rear_spacer"?')),
        ('[[option]]\nrear_spacer = "3 in"\n', ("option.1.name: missing",)),
        ('[[option]]\nname = "a"\nrear_spacer = 3\n', ("rear_spacer = 3", "without a unit")),
        ('[[option]]\nname = "a"\n[[option]]\nname = "a"\n', ("option.2.name", "no other one")),
        ('[[option]]\nname = "a"\nrear_spacer = "-300 mm"\n', ('"a"', "through the body")),
        ('[outfits]\nrear_spacer = "3 in"\n', ("outfits: unknown key", 'mean "outfit"?')),
        ('[vary]\n"ground.slope" = { from = "4 deg" }\n', ("vary.ground.slope", "from = ...")),
        ('[vary]\n"ground.slope" = []\n', ("vary.ground.slope", "a list of values")),
        (
            '[vary]\n"ground.slope" = { from = "4 deg", to = "9 deg", steps = 1 }\n',
            ("steps", "2 or more"),
        ),
        ('[vary]\n"ground.slop" = ["4 deg"]\n', ('vary."ground.slop"', 'mean "slope"?')),
        ('[vary]\n"ground.slope" = ["4 kg"]\n', ('vary."ground.slope"', "not measure a slope")),
        ('[vary]\n"machine.body.size" = ["4 m"]\n', ('vary."machine.body.size"', "unknown key")),
        ('[vary]\n"outfit.spacer" = ["4 m"]\n', ('vary."outfit.spacer"', "unknown key")),
        ("[sample]\nn = 8\n", ("sample", "nothing to draw")),
        ('[find]\nof = "speed"\nlow = "2 deg"\n', ("find.low", "does not measure a speed")),
        ('[find]\nscan = "2 mm"\n', ("find.scan", "does not measure a slope")),
        ("[find]\nuntil = []\n", ("find.until", "one or more of 'hopped', 'lifted'")),
        ('[find]\nuntil = ["lifted", "lifted"]\n', ("find.until", "each once")),
        ('[find]\nuntil = ["lift"]\n', ("find.until", "'overturned' or 'not_across'")),
        ('[find]\nof = "bump"\nfeature = 2\n', ("find.of", "number 2", "has 1")),
        (
            '[vary]\n"feature.1.height" = ["90 mm"]\n[find]\nof = "bump"\n',
            ("find.of", 'vary."feature.1.height"', "leave one out"),
        ),
        (
            '[vary]\n"ground.slope" = ["9 deg"]\n[find]\nof = "slope"\n',
            ("find.of", 'vary."ground.slope"', "leave one out"),
        ),
        (
            '[vary]\n"ground.slope" = ["9 deg"]\n[sample]\nmethod = "sobol"\nn = 100\n',
            ("sample.n", "powers of 2", "as 128"),
        ),
        ('[vary]\n"title" = ["a"]\n', ('vary."title"', "neither a number nor a choice")),
        ('[vary]\n"rear_spacer" = ["3 in"]\n', ("line 5", 'mean "outfit.rear_spacer"?')),
        (
            '[vary]\n"drive.hold" = { low = "speed", high = "coast" }\n',
            ('vary."drive.hold"', "a list of values"),
        ),
        ('[vary]\n"drive.hold" = ["spead"]\n', ('vary."drive.hold"', "'coast' or 'pushed'")),
        (
            '[vary]\n"ground.slope" = { mean = "9 deg", spread = "5 %" }\n',
            ("spread", 'as "1 deg"'),
        ),
        ('[vary]\n"ground.friction" = { low = 0.8, high = 0.4 }\n', ("low", "below high")),
        ('[vary]\n"ground.seed" = { mean = 4, spread = 1 }\n', ("ground.seed", "from, to")),
        ('[find]\nof = "width"\n', ("find.of", "'slope', 'speed' or 'bump'")),
    ],
)
def test_refused(text: str, words: tuple[str, ...], tmp_path: Path) -> None:
    with pytest.raises(InputError) as refusal:
        load_study(study(tmp_path, text))
    assert "own.toml" in str(refusal.value)
    for word in words:
        assert word in str(refusal.value)


def test_unknown_names_are_refused(tmp_path: Path) -> None:
    with pytest.raises(InputError, match=r'no study called "dem"; did you mean "demo"\?'):
        load_study("dem")
    path = tmp_path / "own.toml"
    path.write_text(HEAD.replace("bramble", "brambel"), encoding="utf-8")
    with pytest.raises(InputError, match='no machine called "brambel"'):
        load_study(path)


@pytest.mark.parametrize("way", ["dots", "link", "absolute", "linked folder"])
def test_a_study_opens_no_file_outside_its_folder_and_the_working_one(
    way: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    outside, inside, work = (tmp_path / name for name in ("outside", "inside", "work"))
    for folder in (outside, inside, work):
        folder.mkdir()
    secret = outside / "secret.toml"
    secret.write_text(find("machine", "bramble").read_text(encoding="utf-8"), encoding="utf-8")
    (inside / "link.toml").symlink_to(secret)
    (inside / "linked").symlink_to(outside)
    name = {
        "dots": "../outside/secret.toml",
        "link": "link.toml",
        "absolute": str(secret),
        "linked folder": "linked/secret.toml",
    }[way]
    path = inside / "mine.toml"
    path.write_text(HEAD.replace('"bramble"', f"'{name}'"), encoding="utf-8")
    monkeypatch.chdir(work)
    with pytest.raises(InputError, match=r"mine\.toml, line 2: machine = .* leads out of"):
        load_study(path)
    monkeypatch.chdir(outside)
    assert load_study(path).machine.name == "Bramble"


def test_a_place_that_is_no_machine_is_refused_with_the_study_s_line(tmp_path: Path) -> None:
    for name, said in (("../../etc/passwd", "a path that ends in .toml"), ("brambel", "bramble")):
        path = tmp_path / "mine.toml"
        path.write_text(HEAD.replace('"bramble"', f'"{name}"'), encoding="utf-8")
        with pytest.raises(InputError, match=rf"mine\.toml, line 2: machine = .*{said}"):
            load_study(path)


def test_another_law_of_the_tyres_is_another_sweep() -> None:
    plain, soft = load_study("demo"), load_study("demo", ["run.tyre=enveloping"])
    assert soft.scenario.run.tyre == "enveloping"
    assert plain.case(plain.options[0]).key() != soft.case(soft.options[0]).key()
    asked = ask("compiled")
    assert Agenda(plain, asked).fingerprint != Agenda(soft, asked).fingerprint
