"""The shown options from behind, to scale, on the slope they are shown on."""

from markupsafe import Markup
from matplotlib.figure import Figure

from sidehill.picture.section import draw_section
from sidehill.picture.survey import survey
from sidehill.sheet.cells import given
from sidehill.sheet.findings import Findings
from sidehill.sheet.svg import drawing, svg

_WIDE, _HIGH = 3.1, 3.0  # [in] of one


def sections(found: Findings) -> Markup:
    """The picture: ground with what lies ahead, machine, centre of gravity."""
    shown = found.shown
    names = list(shown.records)
    with drawing("sections"):
        figure = Figure(figsize=(_WIDE * len(names), _HIGH))
        panes = figure.subplots(1, len(names), squeeze=False)[0]
        for axes, name in zip(panes, names, strict=True):
            draw_section(axes, survey(shown.case(found.looks, name)))
            axes.set_title(name, parse_math=False, fontsize=8.5)
        figure.tight_layout()
        return svg(figure, _alt(found, names))


def _alt(found: Findings, names: list[str]) -> str:
    return (
        f"{found.study.machine.name} from behind, to scale, on {given(found.shown.slope)}, with "
        f"its centre of gravity marked: {'; '.join(names)}."
    )
