"""The bank that was asked about: in words, and drawn from behind."""

from markupsafe import Markup
from matplotlib.figure import Figure

from sidehill.case import Case
from sidehill.files.units import show, show_slope
from sidehill.machine.loader import pin_height
from sidehill.picture.section import draw_section
from sidehill.picture.survey import survey
from sidehill.scenario.ground import Feature
from sidehill.scenario.shapes import SHAPES
from sidehill.scenario.told import speed_words
from sidehill.sheet.findings import Findings
from sidehill.sheet.svg import drawing, svg
from sidehill.study.study import Study

_MOST = 2  # features that are named

_SIZE, _LETTERS = (1.42, 1.3), 9.2  # [in] as wide as page one prints it; [pt]


def bank_words(study: Study, us: bool) -> str:
    """What is to be driven, with what, and how."""
    case = study.case(study.options[0])
    parts = [
        f"{study.machine.name} is to work {_way(case)} a bank of "
        f"{show_slope(case.scenario.ground.slope)}, {case.scenario.ground.downhill} side downhill",
        *_ground(case, us),
        f"at {speed_words(case.scenario.drive, us)}{_drive(case)}",
        *_bucket(case, us),
    ]
    return ", ".join(parts) + "."


def _way(case: Case) -> str:
    return {
        **{"turn uphill": "turning uphill on", "turn downhill": "turning downhill on"},
        "winding": "winding across",
    }.get(case.scenario.course.path, "across")


def _ground(case: Case, us: bool) -> list[str]:
    ground, features = case.scenario.ground, case.scenario.feature
    found = [f"over {_feature(item, us)}" for item in features[:_MOST]]
    if len(features) > _MOST:
        found.append(f"and {len(features) - _MOST} more")
    if ground.roughness > 0.0:
        found.append("rough all over")
    if case.scenario.heights is not None:
        found.append("over heights of its own")
    if ground.grade != 0.0:
        found.append(
            f"nose {'up' if ground.grade > 0.0 else 'down'} {show_slope(abs(ground.grade))}"
        )
    return found


def _feature(item: Feature, us: bool) -> str:
    size = show(item.height, "length", us=us)
    where = f" under the {item.wheels} wheels" if item.wheels in ("uphill", "downhill") else ""
    shape = SHAPES[item.shape]
    return f"a {shape.words} {size} {'deep' if shape.sinks else 'high'}{where}"


def _drive(case: Case) -> str:
    drive = case.scenario.drive
    engaged = case.machine.drive.driven == "four" and drive.four_wheel is not False
    told = {"coast": " rolling free", "pushed": " pushed"}.get(drive.hold, "")
    if told:
        return told
    locked = ", rear differential locked" if drive.differential == "locked" else ""
    return (
        f" with {'front' if engaged else 'rear'} drive{' engaged' if engaged else ' only'}{locked}"
    )


def _bucket(case: Case, us: bool) -> list[str]:
    loader, outfit = case.machine.loader, case.outfit
    if loader is None:
        return []
    load = show(outfit.bucket_load, "mass", us=us) if outfit.bucket_load > 0.0 else "nothing"
    if case.scenario.loader is not None:
        return [f"with {load} in the bucket, which is moved on the way"]
    pin = pin_height(loader, outfit.bucket_height)
    if pin <= loader.carry_height + 1e-9:
        return [f"with {load} in the bucket, carried low"]
    return [f"with {load} in the bucket, {show(pin, 'length', us=us)} up"]


def bank_drawing(found: Findings) -> Markup:
    """As delivered on that bank, from behind and to scale."""
    case = found.study.case(found.study.options[0])
    with drawing("bank"):
        figure = Figure(figsize=_SIZE)
        axes = figure.add_subplot()
        draw_section(axes, survey(case))
        axes.set_title("")
        for text in axes.texts:
            text.set_fontsize(_LETTERS)
        figure.subplots_adjust(left=0.0, right=1.0, bottom=0.1, top=1.0)
        return svg(figure, f"{bank_words(found.study, found.wish.us)} Drawn from behind, to scale.")
