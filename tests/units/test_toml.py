"""Files that cannot be read, lines of keys, and overrides."""

from pathlib import Path

import pytest

from sidehill.files import toml
from sidehill.files.errors import InputError

TEXT = """\
title = "x"  # [not.a.header]
[ground]
slope = "10 deg"
note = '''
[fake]
slope = 1
'''
[[feature]]
at = "1 m"
"quoted key" = 1
[[feature]]
at = "2 m"
  [feature.extra]
  a.b = 3
[loader]
height = [
  ["0 m", "carry"],
  ["carry"],
]
after = 1
"""


def test_lines_of_keys() -> None:
    lines = toml.find_lines(TEXT)
    assert lines[("title",)] == 1
    assert lines[("ground",)] == 2
    assert lines[("ground", "slope")] == 3
    assert lines[("feature", 0)] == 8
    assert lines[("feature", 0, "at")] == 9
    assert lines[("feature", 0, "quoted key")] == 10
    assert lines[("feature", 1, "at")] == 12
    assert lines[("feature", 1, "extra", "a", "b")] == 14
    assert lines[("loader", "height")] == 16
    assert lines[("loader", "after")] == 20
    assert ("fake",) not in lines
    assert not any("carry" in key for key in lines)


def test_every_key_of_every_shipped_file_has_its_line() -> None:
    root = Path(__file__).parents[2]
    files = [*root.glob("models/*.toml"), *root.glob("scenarios/*.toml")]
    assert len(files) >= 7
    for path in files:
        document = toml.read(path)
        rows = path.read_text().splitlines()
        for table, value in document.data.items():
            for name in value if isinstance(value, dict) else ():
                assert rows[document.lines[(table, name)] - 1].startswith(name)


def test_item_of_a_list_is_on_its_keys_line() -> None:
    document = toml.Document("f.toml", {}, toml.find_lines(TEXT))
    assert document.where(("loader", "height", 1, 0)) == "f.toml, line 16"
    assert document.where(("nowhere",)) == "f.toml"


def write(folder: Path, raw: bytes) -> Path:
    path = folder / "some.toml"
    path.write_bytes(raw)
    return path


@pytest.mark.parametrize(
    ("raw", "complaint"),
    [
        (b"a = \n", r"line 1: not valid TOML"),
        (b"a = 1\nb = 2\na = 3\n", r"line 3: not valid TOML: Cannot overwrite"),
        (b"[a\n", r"not valid TOML"),
        (b"a = 1\n# \xff\n", r"line 2: not UTF-8 text; save the file as UTF-8"),
        ("a = 1\n".encode("utf-16"), r"not UTF-8 text"),
        (b"\x00\x01\x02", r"not valid TOML"),
        (b"a = " + b"9" * 5000, r"not valid TOML"),
        (b"a = " + b"[" * 5000, r"not valid TOML"),
        (b"#" * 1_000_001, r"1000001 bytes; allowed up to 1000000"),
    ],
)
def test_unreadable(tmp_path: Path, raw: bytes, complaint: str) -> None:
    path = write(tmp_path, raw)
    with pytest.raises(InputError, match=complaint) as refusal:
        toml.read(path)
    assert str(refusal.value).startswith(str(path))


def test_missing_file_and_folder(tmp_path: Path) -> None:
    with pytest.raises(InputError, match=r"none\.toml: no such file"):
        toml.read(tmp_path / "none.toml")
    with pytest.raises(InputError, match="a folder, not a file"):
        toml.read(tmp_path)


def test_byte_order_mark_and_windows_lines(tmp_path: Path) -> None:
    document = toml.read(write(tmp_path, b"\xef\xbb\xbfa = 1\r\n[b]\r\nc = 2\r\n"))
    assert document.data == {"a": 1, "b": {"c": 2}}
    assert document.lines[("b", "c")] == 3


@pytest.mark.parametrize(
    ("setting", "key", "value"),
    [
        ('ground.slope="18 deg"', ("ground", "slope"), "18 deg"),
        ("ground.slope=18 deg", ("ground", "slope"), "18 deg"),
        (" ground.slope = 1:4", ("ground", "slope"), "1:4"),
        ("ground.friction=0.3", ("ground", "friction"), 0.3),
        ("ground.stiffness=hard", ("ground", "stiffness"), "hard"),
        ("new.table.key=true", ("new", "table", "key"), True),
        ("feature.2.at=3 m", ("feature", 1, "at"), "3 m"),
    ],
)
def test_override(setting: str, key: toml.Key, value: object) -> None:
    before = toml.Document("f.toml", {"ground": {"slope": "1 deg"}, "feature": [{}, {}]})
    after = toml.override(before, (setting,))
    found: object = after.data
    for part in key:
        found = found[part]  # type: ignore[index]
    assert found == value
    assert after.where(key).startswith("--set")
    assert before.data == {"ground": {"slope": "1 deg"}, "feature": [{}, {}]}


@pytest.mark.parametrize(
    ("setting", "complaint"),
    [
        ("ground.slope", "write it as field=value"),
        ("=3", "write it as field=value"),
        ("a b=3", "write it as field=value"),
        ("ground.slope.deg=3", "ground.slope is not a table"),
        ("feature.3.at=3 m", "feature has 1, counted from 1"),
        ("feature.0.at=3 m", "feature has 1, counted from 1"),
        ("feature.x.at=3 m", "feature has 1, counted from 1"),
    ],
)
def test_override_refused(setting: str, complaint: str) -> None:
    document = toml.Document("f.toml", {"ground": {"slope": "1 deg"}, "feature": [{}]})
    with pytest.raises(InputError, match=complaint):
        toml.override(document, (setting,))


def test_keys_go_to_a_terminal_without_control_characters() -> None:
    assert "\x1b" not in toml.dotted(("a", "\x1b[2J"))
