"""The block of a machine file that a weighing writes."""

import re
import tomllib

import pytest
from crosscheck.scales import readings

from sidehill.files.errors import InputError
from sidehill.files.library import find
from sidehill.machine.bare import Weighed
from sidehill.machine.file import load_machine
from sidehill.machine.weigh import raised_scale_height
from sidehill.machine.weighed_block import weighed_block


def table_of(block):
    """The block in a shipped machine's file, read back."""
    text = find("machine", "bramble").read_text(encoding="utf-8")
    return re.sub(r"\[weighed\].*?(?=\n\[body\])", lambda _: block, text, flags=re.DOTALL)


@pytest.mark.parametrize(("scale", "word"), [("0.2 %", "weighed"), ("1.5 %", "estimated")])
def test_the_block_is_read_back_as_a_machine_file(tmp_path, scale, word):
    taken = readings(scale_error=scale)
    found = raised_scale_height(taken)
    path = tmp_path / "own.toml"
    path.write_text(table_of(weighed_block(taken)), encoding="utf-8")
    weighed = load_machine(path).weighed
    assert isinstance(weighed, Weighed)
    assert (weighed.front_axle, weighed.rear_axle) == (430.0, 560.0)
    assert 0.0 <= weighed.cg_height - found.height <= 1e-3  # rounded up
    assert weighed.cg_height_from == word
    assert found.error <= weighed.cg_height_spread * found.height


def test_too_uncertain_a_height_is_not_written():
    with pytest.raises(InputError, match=r"uncertain by .* mostly from (raised|level)_front") as e:
        weighed_block(readings(tilt=5.0, raised_front=419.0, scale_error="2 %"))
    assert "further than 5.0 deg" in str(e.value)


def test_the_block_keeps_what_the_machine_has_besides():
    own = load_machine("bramble").with_values({"weighed.cg_offset": 0.0123})
    block = weighed_block(readings(scale_error="0.2 %"), own)
    weighed = tomllib.loads(block)["weighed"]
    assert weighed["cg_offset"] == "0.0123 m"
    assert weighed["roll_inertia"] == "260 kg m^2"
    bare = own.model_dump(exclude_unset=True)["weighed"]
    assert set(weighed) == set(bare)


@pytest.mark.parametrize(
    ("change", "word"),
    [
        ({"wheelbase": 1.9, "raised_front": 400.0}, "wheelbase 1,900 mm"),
        ({"rear_radius": 0.6}, "rear_radius 600 mm"),
        ({"level_front": 120.0, "raised_front": 110.0}, "front_axle.mass"),
    ],
)
def test_readings_of_another_machine_are_refused(change, word):
    with pytest.raises(InputError, match=word):
        weighed_block(readings(scale_error="0.2 %", **change), load_machine("bramble"))
