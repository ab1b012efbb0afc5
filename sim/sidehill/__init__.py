"""Side-slope stability of compact tractors: statics, rigid-body simulation, comparison.

The names below are loaded when they are first used, so that `import sidehill` costs nothing.
"""

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from sidehill.case import Case, Settings
    from sidehill.files.errors import EngineError, InputError, SidehillError
    from sidehill.flat import flatten
    from sidehill.machine.build import fit
    from sidehill.machine.file import Machine, load_machine
    from sidehill.machine.outfit import Outfit
    from sidehill.map.make import draw_map
    from sidehill.replay import write_replay
    from sidehill.rest import rest_slopes
    from sidehill.run.outcome import Outcome
    from sidehill.run.record import Record, load_record, save_record, simulate
    from sidehill.scenario.file import Scenario, load_scenario
    from sidehill.sheet.make import make_sheet
    from sidehill.statics.report import TipReport, tip
    from sidehill.strip.strip import Strip, take_strip
    from sidehill.study.study import Study, load_study
    from sidehill.sweep.compare import compare
    from sidehill.sweep.results import Results, load_results
    from sidehill.sweep.run_study import run_study

_HOMES = {
    "case": ("Case", "Settings"),
    "files.errors": ("EngineError", "InputError", "SidehillError"),
    "flat": ("flatten",),
    "strip.strip": ("Strip", "take_strip"),
    "machine.build": ("fit",),
    "map.make": ("draw_map",),
    "machine.file": ("Machine", "load_machine"),
    "machine.outfit": ("Outfit",),
    "run.outcome": ("Outcome",),
    "run.record": ("Record", "load_record", "save_record", "simulate"),
    "replay": ("write_replay",),
    "rest": ("rest_slopes",),
    "scenario.file": ("Scenario", "load_scenario"),
    "sheet.make": ("make_sheet",),
    "statics.report": ("TipReport", "tip"),
    "sweep.compare": ("compare",),
    "sweep.results": ("Results", "load_results"),
    "sweep.run_study": ("run_study",),
    "study.study": ("Study", "load_study"),
}
_HOME_OF = {name: home for home, names in _HOMES.items() for name in names}

__all__ = [
    "Case",
    "EngineError",
    "InputError",
    "Machine",
    "Outcome",
    "Outfit",
    "Record",
    "Results",
    "Scenario",
    "Settings",
    "SidehillError",
    "Strip",
    "Study",
    "TipReport",
    "compare",
    "draw_map",
    "fit",
    "flatten",
    "load_machine",
    "load_record",
    "load_results",
    "load_scenario",
    "load_study",
    "make_sheet",
    "rest_slopes",
    "run_study",
    "save_record",
    "simulate",
    "take_strip",
    "tip",
    "write_replay",
]


def __getattr__(name: str) -> Any:
    if name not in _HOME_OF:
        raise AttributeError(f"module 'sidehill' has no attribute '{name}'")
    value = getattr(import_module(f"sidehill.{_HOME_OF[name]}"), name)
    globals()[name] = value
    return value
