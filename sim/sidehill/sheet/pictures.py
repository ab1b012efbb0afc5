"""Every still picture of a sheet, ready for the page."""

from dataclasses import dataclass

from markupsafe import Markup

from sidehill.machine.build import fit
from sidehill.picture.history import history_picture
from sidehill.picture.polar import polar_picture
from sidehill.sheet.cells import given
from sidehill.sheet.chart import chart
from sidehill.sheet.findings import Findings
from sidehill.sheet.sections import sections
from sidehill.sheet.svg import embedded

_FLATTER = (
    "the steepest on which all that is shown can start; the bank asked about is steeper, and "
    "this is no slope to work on"
)


@dataclass(frozen=True)
class Embedded:
    """A picture as a data URI."""

    source: str
    alt: str
    caption: str


@dataclass(frozen=True)
class Pictures:
    """Those of the appendix."""

    chart: Markup
    sections: Markup
    history: Embedded
    polars: tuple[Embedded, ...]


def pictures(found: Findings) -> Pictures:
    """Chart, sections, history, and the tip slope all round of two options."""
    names = dict.fromkeys((found.delivered, found.best))
    return Pictures(
        chart(found), sections(found), _history(found), tuple(_polar(found, n) for n in names)
    )


def shown_words(found: Findings) -> str:
    """The slope that runs are shown on, and why that one."""
    shown = found.shown
    why = "the bank asked about" if shown.is_own else _FLATTER
    return f"{given(shown.slope)}: {why}"


def endings(found: Findings) -> list[tuple[str, str]]:
    """What each shown run came to."""
    return [(name, record.outcome.why) for name, record in found.shown.records.items()]


def _history(found: Findings) -> Embedded:
    ended = "; ".join(f"{name}: {why}" for name, why in endings(found))
    return Embedded(
        embedded("image/png", history_picture(found.shown.records)),
        f"Roll and wheel loads over time on {given(found.shown.slope)}. {ended}.",
        f"Roll and wheel loads on {shown_words(found)}.",
    )


def _polar(found: Findings, name: str) -> Embedded:
    study = found.study
    fitted = fit(study.machine, study.option(name).outfit, study.scenario.ground.downhill)
    return Embedded(
        embedded("image/png", polar_picture(fitted)),
        f"{name}: lift-off slope over the direction in which the ground falls away, rigid tyres.",
        f"{name}: lift-off all round, rigid tyres, standing still (overstates).",
    )
