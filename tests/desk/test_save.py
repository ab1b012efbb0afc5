"""What is saved is what the commands read: the same cases, comments kept, nothing overwritten."""

from pathlib import Path

import pytest
from desk.conftest import OWN, opened, quiet_folder

from sidehill.desk.copied import copy_of
from sidehill.desk.desk import Desk
from sidehill.desk.names import inside, plain
from sidehill.files.errors import InputError
from sidehill.files.library import find
from sidehill.machine.file import load_machine
from sidehill.study.study import load_study

FILLED = [(f"tractor/own/{path}", text) for path, text in OWN.items()]


def keys_of(desk: Desk) -> list[str]:
    study = desk.question.study
    assert study is not None
    return [study.case(option).key() for option in study.options]


def test_saved_files_ask_the_same_question_as_the_desk(quiet: Desk) -> None:
    """Loader on, own machine, typed bank, typed options: every case has the same hash."""
    quiet.searches.end()  # the cases alone are wanted here
    quiet.change(
        [*FILLED, ("tractor/own/loader_on", "yes"), ("tractor/own/weighed.front_axle", "1500 lb"),
         ("bank/typed/ground.slope", "1:5"), ("bank/typed/feature.shape", "kerb"),
         ("bank/typed/drive.four_wheel", "no"), ("options/2/typed/rear_fill", "75 %"),
         ("options/1/name", 'a "quoted" name')],
        False,
    )  # fmt: skip
    assert quiet.save() == ["my-tractor.toml", "bank.toml", "study.toml"]
    saved = load_study(quiet.folder / "study.toml")
    assert [saved.case(option).key() for option in saved.options] == keys_of(quiet)
    text = (quiet.folder / "my-tractor.toml").read_text("utf-8")
    assert "copied from Bramble" in text


def test_a_shipped_tractor_on_a_shipped_bank_saves_the_study_alone(tmp_path: Path) -> None:
    with opened(tmp_path / "desk") as desk:
        desk.searches.end()
        assert desk.save() == ["study.toml"]
        saved = load_study(desk.folder / "study.toml")
        assert [saved.case(option).key() for option in saved.options] == keys_of(desk)


def test_an_opened_file_keeps_its_comments_and_its_order(quiet: Desk) -> None:
    quiet.searches.end()
    text = (
        find("machine", "sorrel")
        .read_text("utf-8")
        .replace("[body]", "# measured in the yard\n[body]")
    )
    name = _open(quiet, "my sorrel.toml", text)
    quiet.change([("tractor/opened", name), ("tractor/kind", "file"),
                  ("tractor/file/rear_tyre.track", "40 in")], False)  # fmt: skip
    quiet.save()
    lines = (quiet.folder / name).read_text("utf-8").splitlines()
    assert len(lines) == len(text.splitlines())
    differing = [(a, b) for a, b in zip(lines, text.splitlines(), strict=True) if a != b]
    assert len(differing) == 1
    assert differing[0][0].startswith('track = "40 in"')


def _open(desk: Desk, name: str, text: str) -> str:
    from sidehill.desk.opening import open_machine

    return open_machine(desk.folder, name, text)


def test_a_file_of_somebody_elses_is_not_written_over(quiet: Desk) -> None:
    quiet.searches.end()
    quiet.change(FILLED, False)
    theirs = quiet.folder / "my-tractor.toml"
    theirs.write_text("mine\n", encoding="utf-8")
    with pytest.raises(InputError, match="did not write it"):
        quiet.save()
    assert theirs.read_text("utf-8") == "mine\n"
    quiet.change([("tractor/own/name", "Another")], False)
    assert quiet.save()[0] == "another.toml"
    assert quiet.save()[0] == "another.toml"  # its own may be written again


def test_nothing_is_saved_while_something_is_wrong(quiet: Desk) -> None:
    with pytest.raises(InputError, match="not everything is right yet"):
        quiet.save()
    assert quiet.files() == []


def test_opening_the_same_twice_makes_one_file_and_another_gets_a_number(quiet: Desk) -> None:
    text = find("machine", "sorrel").read_text("utf-8")
    assert _open(quiet, "a.toml", text) == _open(quiet, "a.toml", text) == "a.toml"
    assert _open(quiet, "a.toml", text + "# more\n") == "a-2.toml"
    with pytest.raises(InputError, match=r"bad\.toml.*name"):
        _open(quiet, "bad.toml", text.replace('name = "Sorrel"', ""))
    assert quiet.files() == ["a-2.toml", "a.toml"]


@pytest.mark.parametrize(
    "name",
    ["", "x", "../x.toml", "a/b.toml", "a\\b.toml", ".x.toml", "x.toml/", "x.py", "con.toml",
     "x\n.toml", "x.toml\0", "desk.json", " x.toml", "x" * 60 + ".toml"],
)  # fmt: skip
def test_names_do_not_leave_the_folder(name: str, tmp_path: Path) -> None:
    with pytest.raises(InputError):
        inside(tmp_path, name)


def test_a_link_out_of_the_folder_is_not_followed(tmp_path: Path) -> None:
    outside = tmp_path / "outside.toml"
    outside.write_text("secret", encoding="utf-8")
    folder = quiet_folder(tmp_path / "desk")
    (folder / "link.toml").symlink_to(outside)
    with pytest.raises(InputError, match="leads out"):
        inside(folder, "link.toml")


def test_a_name_becomes_a_plain_stem() -> None:
    assert plain("Old  Blue / 25?", "x") == "old-blue-25"
    assert plain("../..", "my-tractor") == "my-tractor"


def test_copying_leaves_the_shipped_machine_as_it_is() -> None:
    from sidehill.files import toml

    document = toml.read(find("machine", "bramble"))
    before = repr(document.data)
    copy_of(load_machine("bramble"), document, OWN)
    assert repr(document.data) == before
