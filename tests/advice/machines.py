"""Shipped machines with entries of their files taken out, and outfits drawn for them."""

from hypothesis import strategies as st

from sidehill.files import toml
from sidehill.files.library import find
from sidehill.files.spec import build
from sidehill.machine.file import Machine, load_machine
from sidehill.machine.outfit import Outfit

INCH = 0.0254  # [m]
G = 9.81  # [m/s^2]
SHIPPED = ("sorrel", "bramble", "hawthorn")


def lacking(name, *entries):
    """A shipped machine without those entries, as "limits" or "rear_tyre.hub_offset"."""
    document = toml.read(find("machine", name))
    for entry in entries:
        *tables, key = entry.split(".")
        place = document.data
        for table in tables:
            place = place[table]
        del place[key]
    return build(Machine, document)


def found(findings, item, what):
    """The one finding of that name."""
    (finding,) = (each for each in findings if (each.item, each.what) == (item, what))
    return finding


@st.composite
def fitted_outfits(draw):
    """A shipped machine and an outfit that suits it."""
    machine = load_machine(draw(st.sampled_from(SHIPPED)))
    outfit = Outfit(
        rear_spacer=f"{draw(st.integers(0, 150))} mm",
        front_spacer=f"{draw(st.integers(0, 150))} mm",
        bucket_load=f"{draw(st.integers(0, 400))} kg",
        bucket_height=draw(st.sampled_from(("carry", "full"))),
        rear_ballast=f"{draw(st.integers(0, 600))} kg",
        rear_fill=draw(st.sampled_from((0.0, 0.75))),
        rops=draw(st.sampled_from(("up", "folded"))),
    )
    return machine, outfit
