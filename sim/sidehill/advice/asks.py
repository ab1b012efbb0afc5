"""What to measure and ask before buying: nothing of this can be told from the files."""

from sidehill.advice.changes import REAR_BOX
from sidehill.machine.file import Machine

_WARRANTY = "the dealer's word on warranty with this change, in writing"
_HUBS = "hubs: bolt circle, pilot, stud length and thread"


def asks(machine: Machine, bought: frozenset[str]) -> tuple[str, ...]:
    """One line each (common practice, no source).

    Args:
        bought: things of all the options, of `changes.bought`; empty: what is asked of any.
    """
    wider = {"rear spacers", "front spacers", "rear wheels reset", "front wheels reset"} & bought
    found = []
    if wider:
        found += [_HUBS, *_fenders(machine), *_attachments(machine)]
        found.append("gates, trailer and shed: the width over the tyres")
    if bought & {"filled rear tyres", "filled front tyres"}:
        found.append("tyres and tubes: which liquid they take, and how it is got rid of")
    if REAR_BOX in bought:
        found.append("three-point hitch and its links: what they may carry")
    return (*found, *_ratings(machine), _WARRANTY)


def _fenders(machine: Machine) -> list[str]:
    if machine.body.fender_gap is not None:
        return []
    return ["fenders and lights: how far out a rear tyre may move (body.fender_gap)"]


def _attachments(machine: Machine) -> list[str]:
    mid = [item for item in machine.attachment if item.position == "mid"]
    open_ramps = [item.name for item in mid if item.ramp_width is None]
    told = []
    if open_ramps or not machine.attachment:
        told.append("mower: ramps it is driven over (ramp_width) and gauge-wheel arms")
    if any(item.clear_width is None for item in machine.attachment):
        names = ", ".join(item.name for item in machine.attachment if item.clear_width is None)
        told.append(f"{names}: room beside the tyres (clear_width)")
    return told


def _ratings(machine: Machine) -> list[str]:
    """Ratings that the file lacks, in one line."""
    tyres = (machine.front_tyre, machine.rear_tyre)
    lacking = {
        "axle ratings": machine.limits is None,
        "tyre ratings": any(tyre.max_load is None for tyre in tyres),
        "where the wheel bearings are (hub_offset)": any(t.hub_offset is None for t in tyres),
        "mass that the roll bar was tested for": machine.rops is None
        or machine.rops.reference_mass is None,
    }
    named = [name for name, is_lacking in lacking.items() if is_lacking]
    return [f"not in the machine's file: {', '.join(named)}"] if named else []
