"""Side-slope stability of compact tractors: statics, rigid-body simulation, comparison.

A machine is a file, an outfit is how it is fitted, a scenario is what it is driven over; a case is
all three. `simulate` drives a case and gives its record, `record.outcome` says what happened;
`take_strip` drives it at every value of a quantity, `strip.limit("lifted")` is read off that;
`run_study` runs many cases into a table.

    import sidehill as sh

    bramble = sh.load_machine("bramble", weighed={"cg_height": "0.62 m"})
    case = sh.Case(bramble, sh.load_scenario("bank-stone"), sh.Outfit(rear_spacer=0.076))
    print(sh.simulate(case).outcome.why)

Text carries its unit; a plain number is SI, as everywhere in Python: metres, kilograms, radians.
Columns and keys carry the unit in their names. A model compares; it does not permit.

The names are loaded when they are first used, so that `import sidehill` costs nothing.
"""

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from sidehill.case import Case, Settings
    from sidehill.files.errors import EngineError, InputError, SidehillError
    from sidehill.film.movie import film as write_film
    from sidehill.flat import flatten
    from sidehill.machine.build import fit
    from sidehill.machine.file import Machine, load_machine
    from sidehill.machine.outfit import Outfit
    from sidehill.map.make import draw_map
    from sidehill.picture.polar import polar_picture
    from sidehill.replay import write_replay
    from sidehill.rest import rest_slopes
    from sidehill.run.outcome import Outcome
    from sidehill.run.record import Record, load_record, save_record, simulate
    from sidehill.scenario.file import Scenario, load_scenario
    from sidehill.scenario.heights import Heights
    from sidehill.scenario.profiles import read_heights
    from sidehill.sheet.make import make_sheet
    from sidehill.statics.assembly import from_fitted as tipping_of
    from sidehill.statics.polar import round_slope
    from sidehill.statics.report import TipReport, tip
    from sidehill.strip.limits import Limit
    from sidehill.strip.strip import Strip, take_strip
    from sidehill.study.make import make_study
    from sidehill.study.sample import Sample
    from sidehill.study.scheme import shapley_orders
    from sidehill.study.strips import strips_of
    from sidehill.study.study import Study, load_study
    from sidehill.sweep.between import Between, between
    from sidehill.sweep.compare import compare
    from sidehill.sweep.fragility import fragility
    from sidehill.sweep.measure import answers, measure, outcomes
    from sidehill.sweep.probability import Probability, probability
    from sidehill.sweep.progress import Progress
    from sidehill.sweep.quantiles import limit_quantiles
    from sidehill.sweep.results import Results, load_results
    from sidehill.sweep.run_study import run_study
    from sidehill.sweep.sensitivity import Sensitivity, sensitivity
    from sidehill.sweep.shapley import Shapley, shapley
    from sidehill.urdf.generate import generate as urdf_text

_HOMES: dict[str, tuple[str, ...]] = {
    "case": ("Case", "Settings"),
    "files.errors": ("EngineError", "InputError", "SidehillError"),
    "flat": ("flatten",),
    "machine.build": ("fit",),
    "machine.file": ("Machine", "load_machine"),
    "machine.outfit": ("Outfit",),
    "map.make": ("draw_map",),
    "picture.polar": ("polar_picture",),
    "replay": ("write_replay",),
    "rest": ("rest_slopes",),
    "run.outcome": ("Outcome",),
    "run.record": ("Record", "load_record", "save_record", "simulate"),
    "scenario.file": ("Scenario", "load_scenario"),
    "scenario.heights": ("Heights",),
    "scenario.profiles": ("read_heights",),
    "sheet.make": ("make_sheet",),
    "statics.polar": ("round_slope",),
    "statics.report": ("TipReport", "tip"),
    "strip.limits": ("Limit",),
    "strip.strip": ("Strip", "take_strip"),
    "study.scheme": ("shapley_orders",),
    "study.make": ("make_study",),
    "study.sample": ("Sample",),
    "study.strips": ("strips_of",),
    "study.study": ("Study", "load_study"),
    "sweep.between": ("Between", "between"),
    "sweep.compare": ("compare",),
    "sweep.fragility": ("fragility",),
    "sweep.measure": ("answers", "measure", "outcomes"),
    "sweep.probability": ("Probability", "probability"),
    "sweep.progress": ("Progress",),
    "sweep.quantiles": ("limit_quantiles",),
    "sweep.results": ("Results", "load_results"),
    "sweep.run_study": ("run_study",),
    "sweep.sensitivity": ("Sensitivity", "sensitivity"),
    "sweep.shapley": ("Shapley", "shapley"),
}
# known here by another name, as a room has theirs
_RENAMED = {
    "tipping_of": ("statics.assembly", "from_fitted"),
    "urdf_text": ("urdf.generate", "generate"),
    "write_film": ("film.movie", "film"),
}
_DRAWN_BY = {"strip.strip": "picture.strip"}  # loaded with it, so that it can be drawn
_HOME_OF = {name: (home, name) for home, names in _HOMES.items() for name in names} | _RENAMED

__all__ = [
    "Between",
    "Case",
    "EngineError",
    "Heights",
    "InputError",
    "Limit",
    "Machine",
    "Outcome",
    "Outfit",
    "Probability",
    "Progress",
    "Record",
    "Results",
    "Sample",
    "Scenario",
    "Sensitivity",
    "Settings",
    "Shapley",
    "SidehillError",
    "Strip",
    "Study",
    "TipReport",
    "answers",
    "between",
    "compare",
    "draw_map",
    "fit",
    "flatten",
    "fragility",
    "limit_quantiles",
    "load_machine",
    "load_record",
    "load_results",
    "load_scenario",
    "load_study",
    "make_sheet",
    "make_study",
    "measure",
    "outcomes",
    "polar_picture",
    "probability",
    "read_heights",
    "rest_slopes",
    "round_slope",
    "run_study",
    "save_record",
    "sensitivity",
    "shapley",
    "shapley_orders",
    "simulate",
    "strips_of",
    "take_strip",
    "tip",
    "tipping_of",
    "urdf_text",
    "write_film",
    "write_replay",
]


def __getattr__(name: str) -> Any:
    if name not in _HOME_OF:
        raise AttributeError(f"module 'sidehill' has no attribute '{name}'")
    home, its_name = _HOME_OF[name]
    value = getattr(import_module(f"sidehill.{home}"), its_name)
    if home in _DRAWN_BY:
        import_module(f"sidehill.{_DRAWN_BY[home]}")
    globals()[name] = value
    return value


def __dir__() -> list[str]:
    return sorted({*globals(), *__all__})
