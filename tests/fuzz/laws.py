"""What must hold of any case, whatever it is: each law says what is wrong, if anything is."""

import json
from dataclasses import replace
from math import degrees, isfinite, radians
from pathlib import Path
from typing import Any

import numpy as np
from facts_by_hand import BAD, stability_by_hand
from fuzz.drawn import Drawn
from start import crabbed_lift_off
from typer.testing import CliRunner

from sidehill.case import Case
from sidehill.cli.main import app
from sidehill.desk.figures import figures_of
from sidehill.desk.question import read_question
from sidehill.desk.state import first_state
from sidehill.files.errors import InputError
from sidehill.machine.build import fit
from sidehill.machine.linkage import WHEELS
from sidehill.run import run
from sidehill.run.outcome import Outcome
from sidehill.run.record import simulate
from sidehill.statics.report import tip
from sidehill.strip.strip import Strip, take_strip

SAME = 1e-6  # [deg] of two runs that are one but for rounding
PLAIN = {"feature": [], "ground.roughness": 0.0}
FURTHEST = 0.20  # [deg] below lift-off at which a few start only (`run/test_start`)
COARSE = {"low": radians(4.0), "high": radians(32.0), "scan": radians(4.0), "tolerance": radians(2)}
EVENTS = {"hopped": 1, "lifted": 2, "on_stop": 3, "overturned": 4}  # the least stability of each


def outcome(case: Case) -> Outcome:
    """Of a run in our own engine."""
    return run(case, "compiled").outcome


def told(one: Outcome) -> str:
    """Facts and peak, for a find."""
    return f"{one.stability}/{one.progress}/{one.met}, {one.peak_roll_deg:.6f} deg"


def differ(a: Outcome, b: Outcome, within: float = SAME) -> str:
    """What is wrong with two runs that must be one."""
    if a.facts == b.facts and (
        abs(a.peak_roll_deg - b.peak_roll_deg) <= within or a.stability == "overturned"
    ):
        return ""
    return f"{told(a)} against {told(b)}"


def mirror(drawn: Drawn, _: Path) -> str:
    """The other side downhill, and all that lies to a side on the other."""
    case = drawn.case
    ground, features = case.scenario.ground, case.scenario.feature
    other = case.with_scenario(
        {
            "ground.downhill": "left" if ground.downhill == "right" else "right",
            "ground.roughness": 0.0,
            "feature": [
                f.model_dump(mode="json", exclude_none=True) | ({} if f.y is None else {"y": -f.y})
                for f in features
            ],
        }
    )
    return differ(
        outcome(case.with_scenario({"ground.roughness": 0.0})),
        outcome(replace(other, machine=mirrored(case))),
        1e-3,  # [deg] rounding is not mirrored, and a run over stones makes more of it
    )


def mirrored(case: Case) -> Any:
    """The machine with its centre of gravity on the other side."""
    own = case.machine.weighed
    flipped = own.model_copy(update={"cg_offset": -own.cg_offset})
    return case.machine.model_copy(update={"weighed": flipped})


def longer(drawn: Drawn, _: Path) -> str:
    """3 m more of plain ground at the end of a contour change no fact and no peak."""
    case = drawn.case
    scenario = case.scenario
    if (
        scenario.course.path != "contour"
        or scenario.drive.hold != "speed"
        or scenario.ground.roughness > 0.0
        or scenario.loader is not None
        or scenario.drive.brake is not None
        or scenario.drive.speed == 0.0
    ):
        case = case.with_scenario(PLAIN)
        if case.scenario.course.path != "contour" or case.scenario.drive.speed == 0.0:
            return ""
        if case.scenario.drive.hold != "speed" or case.scenario.loader or case.scenario.drive.brake:
            return ""
    length = case.scenario.course.length
    assert length is not None
    further = case.with_scenario({"course.length": length + 3.0})
    short, long = outcome(case), outcome(further)
    # what its wheels cannot push comes across by its momentum, and is stuck further on
    if short.progress == "across" and long.progress == "stuck" and starves(further):
        return differ(replace(short, progress="stuck"), replace(long, met=short.met))
    return differ(short, long)


def starves(case: Case) -> bool:
    """Whether its wheels' push, at their friction limit, is below what the ground resists.

    An open differential gives both wheels of an axle what the lighter one holds; the loads are
    those of the last second, on the plain.
    """
    record = simulate(case, "compiled")
    loads = {
        wheel: record.columns[f"load_{wheel}_n"][-int(case.scenario.run.rate) :].mean()
        for wheel in WHEELS
    }
    ground, drive = case.scenario.ground, case.scenario.drive
    axles = ("rear", "front") if drive.four_wheel else ("rear",)
    if drive.differential == "open":
        pushed = sum(2.0 * min(loads[f"{axle}_left"], loads[f"{axle}_right"]) for axle in axles)
    else:
        pushed = sum(loads[f"{axle}_{side}"] for axle in axles for side in ("left", "right"))
    return bool(ground.friction * pushed < ground.rolling_resistance * sum(loads.values()))


def irrelevant(drawn: Drawn, _: Path) -> str:
    """A stone that no wheel meets, 9 m aside, changes no fact and no peak."""
    case = drawn.case
    own = [f.model_dump(mode="json", exclude_none=True) for f in case.scenario.feature]
    if case.scenario.course.path != "contour" or len(own) > 3:
        return ""
    stone = {"shape": "bump", "y": 9.0 * case.scenario.ground.uphill, "at": 1.0}
    stone |= {"height": 0.1, "length": 0.8, "width": 0.6}
    return differ(outcome(case), outcome(case.with_scenario({"feature": [*own, stone]})), 1e-4)


def steeper(drawn: Drawn, _: Path) -> str:
    """What cannot start cannot on more slope either."""
    case = drawn.case
    slope = case.scenario.ground.slope
    if outcome(case).progress != "not_started":
        return ""
    for more in (0.02, 0.1, 0.5, 2.0, 6.0):
        one = outcome(case.with_slope(slope + radians(more)))
        if one.progress not in ("not_started", None):
            return f"not started at {degrees(slope):.3f} deg, {told(one)} {more} deg steeper"
    return ""


def stands(drawn: Drawn, _: Path) -> str:
    """It starts up to 0.20 deg below compliant lift-off in its crabbed stance, and not beyond."""
    ground = {"ground.friction": 1.0, "ground.stiffness": "hard", "loader": None, "run.step": 1e-3}
    case = drawn.case.with_scenario({**PLAIN, **ground})
    if case.outfit.hung_load > 0.0:  # statics take it as a lump
        return ""
    lift = crabbed_lift_off(case)
    if not isfinite(lift) or not radians(1.0) < lift < radians(34.0):  # friction holds up to 45
        return ""
    over = outcome(case.with_slope(lift + radians(0.02)))
    under = outcome(case.with_slope(lift - radians(FURTHEST)))
    if over.progress not in ("not_started", None):
        return f"lift-off {degrees(lift):.3f} deg, and 0.02 beyond it {told(over)}"
    if under.progress == "not_started":
        return f"lift-off {degrees(lift):.3f} deg, and {FURTHEST} below it {told(under)}"
    return ""


def poses(drawn: Drawn, _: Path) -> str:
    """The worst that the wheels did, read again from the poses of every step on plain ground."""
    case = drawn.case.with_scenario({**PLAIN, "run.rate": 500.0})
    record = simulate(case, "compiled")
    one = record.outcome
    if one.stability is None or one.progress in ("not_started",):
        return ""
    hand = stability_by_hand(record)
    if abs(BAD.index(hand) - BAD.index(one.stability)) > 0 and not _close(one):
        return f"{told(one)}, by hand {hand}"
    x, y, z, w = record.quaternion("chassis").T
    lean = np.degrees(np.arcsin(2.0 * (y * z + w * x)))  # of the axis across, to the plane
    peak = float(abs(lean).max())
    if one.stability != "overturned" and abs(peak - abs(one.peak_roll_deg)) > 1e-6:
        return f"{told(one)}, by hand {peak:.6f} deg"
    return ""


def _close(one: Outcome) -> bool:
    """Whether a spell or its daylight lies at a threshold, where one step decides."""
    spells = (abs(s.end_s - s.start_s - limit) for s in one.spells for limit in (0.05, 0.5))
    gaps = (abs(s.daylight_m - 0.05) for s in one.spells)
    return min((*spells, 1.0)) <= 4e-3 or min((*gaps, 1.0)) <= 1e-3


def everywhere(drawn: Drawn, folder: Path) -> str:
    """Command line, Python and desk read the same case, and say the same of it."""
    case, line = drawn.case, drawn.line("drive", "--engine", "compiled", "--json", "--out", "out")
    result = CliRunner().invoke(app, list(line))
    try:
        own = outcome(case).to_dict()
    except InputError:
        return "" if result.exit_code == 2 else f"refused in Python, exit {result.exit_code}"
    if result.exit_code != 0:
        return f"exit {result.exit_code}: {result.stderr[-200:]}"
    said = json.loads(result.stdout)
    names = ("stability", "progress", "met", "why", "peak_roll_deg", "least_balance_angle_deg")
    for name in (*names, "spells", "stop_hits"):
        if said[name] != own[name]:
            return f"{name}: {said[name]} from the command, {own[name]} from Python"
    return desk(drawn, case, folder)


def desk(drawn: Drawn, case: Case, folder: Path) -> str:
    """The same case typed on the desk, where it has the fields for it; its statics those of tip."""
    if Path(drawn.machine).suffix:  # not a shipped machine
        return ""
    state = first_state()
    state["tractor"]["base"], state["bank"]["base"] = drawn.machine, drawn.scenario
    words = dict(change.split("=", 1) for change in drawn.changes)
    typed = {name: text.strip('"') for name, text in words.items() if name != "run.step"}
    if "drive.four_wheel" in typed:
        typed["drive.four_wheel"] = "yes" if typed["drive.four_wheel"] == "true" else "no"
    state["bank"]["typed"] = typed
    state["options"] = [{"name": "it", "typed": drawn.outfit}]
    study = read_question(state, folder).study
    if study is None:
        return "the desk cannot read it"
    there = study.case(study.options[0]).with_scenario({"run.step": 2e-3})
    if (there.machine, there.outfit) != (case.machine, case.outfit):
        return "the desk has another machine or outfit"
    if there.key() != case.key():
        return f"the desk has another bank: {there.scenario} against {case.scenario}"
    shown = degrees(figures_of(study, case.outfit).overturn)
    fitted = fit(case.machine, case.outfit, case.scenario.ground.downhill)
    stood = tip(fitted, 0.0, 0.0, 0.7, "right").overturn_slope_deg
    if stood is not None and not abs(shown - stood) < 1e-6 and case.outfit.operator_lean == 0.0:
        return f"overturn {shown:.4f} deg on the desk, {stood:.4f} deg from tip"
    return ""


def limits(drawn: Drawn, _: Path) -> str:
    """A coarse strip: its limits read again from its spots, and what cannot start never does."""
    case = drawn.case
    strip = take_strip(case, engine="compiled", **COARSE)
    facts = [spot.facts for spot in strip.spots]
    first = next((k for k, f in enumerate(facts) if f[1] == "not_started"), len(facts))
    if any(f[1] not in ("not_started", None) for f in facts[first:]):
        return f"starts again above {degrees(strip.spots[first].value):.3f} deg: {facts[first:]}"
    for event, least in EVENTS.items():
        if wrong := _limit_wrong(strip, event, least):
            return wrong
    line = drawn.line(
        "limit", "--low", "4 deg", "--high", "32 deg", "--scan", "4 deg", "--tolerance", "2 deg",
        "--engine", "compiled", "--json", "--tyre", case.scenario.run.tyre,
    )  # fmt: skip
    result = CliRunner().invoke(app, list(line))
    if result.exit_code != 0:
        return f"exit {result.exit_code}: {result.stderr[-200:]}"
    told_, own = json.loads(result.stdout), strip.to_dict()
    apart = [n for n in ("values", "stability", "progress", "met", "events") if told_[n] != own[n]]
    return f"{apart[0]} differ between command and Python" if apart else ""


def _limit_wrong(strip: Strip, event: str, least: int) -> str:
    """An event's limit, read off the spots by the design's words."""
    good = None
    for spot in strip.spots:
        stability, progress, met = spot.facts
        proves = met is True and progress in ("across", "halted", "leaning")
        worst = 9 if stability is None else len(BAD) - 1 - BAD.index(stability)
        if not proves or worst >= least:
            break
        good = spot.value
    said = strip.limit(event).good_up_to
    return "" if said == good else f"{event}: good up to {said} said, {good} by hand"


LAWS = {  # of how many draws each is tried on, relative to the others
    mirror: 5,
    longer: 5,
    irrelevant: 4,
    steeper: 6,
    stands: 3,
    poses: 6,
    everywhere: 3,
    limits: 1,
}
