"""How far to trust the sheet: intervals, what they come from, what was assumed."""

from typing import Any

from sidehill.caution import NOT_MODELLED
from sidehill.files.spec import defaults_used
from sidehill.machine.build import fit
from sidehill.sheet.findings import Findings
from sidehill.spread.inputs import inputs
from sidehill.spread.interval import LEVEL, interval_cells
from sidehill.spread.subject import Subject


def trust(found: Findings) -> dict[str, Any]:
    """Everything of the part on trust."""
    study = found.study
    subject = Subject(study.machine, study.options[0].outfit, gaps={})
    return {
        "level": f"{100 * LEVEL:.0f} %",
        "intervals": [{"name": name, "rows": _rows(found, name)} for name in found.driven],
        "spreads": ", ".join(f"{i.name} {i.stated}" for i in inputs(subject).values()),
        "notes": _notes(found),
        "defaults": ", ".join(_defaults(found)),
        "not_modelled": ", ".join(NOT_MODELLED),
    }


def _rows(found: Findings, name: str) -> list[dict[str, str]]:
    stand = found.standing[name]
    asked = {
        "standing, lifts a wheel": stand.lift_off,
        "standing, goes over (closed form)": stand.overturn,
        **found.driven[name],
    }
    return [interval_cells(quantity, interval) for quantity, interval in asked.items()]


def _notes(found: Findings) -> list[str]:
    study, down = found.study, found.study.scenario.ground.downhill
    each = [fit(study.machine, option.outfit, down).notes for option in study.options]
    notes = list(dict.fromkeys(note for one in each for note in one))
    if study.vary:
        notes.append("the study's [vary] is not looked at here, only its options: use `sweep`")
    if not study.scenario.is_even:
        law = study.scenario.run.tyre
        notes.append(f"strips have tyre law {law}: under the other a wheel may lift earlier")
    if found.wish.quick:
        notes.append("quick: strips by 1 deg, to 0.25 deg, in one engine; no spread by simulation")
    return notes


def _defaults(found: Findings) -> list[str]:
    study = found.study
    return defaults_used(study.scenario, study.machine, study.options[0].outfit)
